"""Keeps the fit of the chosen mount, and turns it into what the window shows."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from companion.arrays import FloatArray
from companion.finding import Optics
from companion.instant.bright_stars import BrightSky
from companion.instant.choices import Choices
from companion.instant.next_star import NextStar
from companion.instant.sky_table import Instant
from companion.instant.snapshot import (
    AlignmentFacts,
    Reading,
    SightingFacts,
)
from companion.instant.trusted_fit import NOT_COMPARED, TrustedFit

if TYPE_CHECKING:  # all about fits is loaded when a mount is first chosen
    from companion.mount import Alignment, Dial, Mount, Residual

_TYPICAL_DEG = (20.0, 45.0, 70.0)  # altitudes that a radius is stated for


class RowReadings(NamedTuple):
    """The dials' readings of all rows, and their steps."""

    azimuth_deg: list[float]
    altitude_deg: list[float]
    azimuth_step_deg: float
    altitude_step_deg: float


class Aligner:
    """Belongs to the service's thread; fits again only when mount or sightings have changed."""

    def __init__(self, sky: BrightSky) -> None:
        self._fit = TrustedFit()
        self._typical_deg: float | None = None
        self._next = NextStar(sky)

    def update(self, choices: Choices) -> None:
        """Follow mount, sightings and what was found of them."""
        if self._fit.update(choices):
            fitted = self._fit.alignment
            self._typical_deg = _typical_radius(fitted) if fitted and fitted.used else None

    @property
    def alignment(self) -> "Alignment | None":
        """The fit as it is; None where no mount is chosen."""
        return self._fit.alignment

    def reading(
        self, azimuth_deg: float, altitude_deg: float, looks: Sequence[Optics]
    ) -> Reading | None:
        """Give what the dials must show for a direction; ``looks`` has the widest field first."""
        from companion.mount import field_words, shown

        alignment = self._fit.alignment
        if alignment is None:
            return None
        aim = alignment.aim(azimuth_deg, altitude_deg)
        azimuth = shown(alignment.mount.azimuth, aim.azimuth_reading_deg)
        altitude = shown(alignment.mount.altitude, aim.altitude_reading_deg)
        fields = [(look.name, look.field_deg) for look in looks]
        return Reading(
            azimuth_deg=aim.azimuth_reading_deg,
            altitude_deg=aim.altitude_reading_deg,
            azimuth_text=azimuth.text,
            altitude_text=altitude.text,
            azimuth_remainder=azimuth.remainder,
            altitude_remainder=altitude.remainder,
            radius95_deg=aim.radius95_deg,
            advice=field_words(aim, fields)
            if aim.known
            else self._fit.words or field_words(aim, []),
        )

    def rows(self, azimuth_deg: FloatArray, altitude_deg: FloatArray) -> RowReadings | None:
        """Give the readings of all rows of the queue."""
        from companion.mount import shown_step_deg

        alignment = self._fit.alignment
        if alignment is None:
            return None
        azimuths, altitudes = alignment.readings(azimuth_deg, altitude_deg)
        mount = alignment.mount
        return RowReadings(
            azimuths,
            altitudes,
            shown_step_deg(mount.azimuth),
            shown_step_deg(mount.altitude),
        )

    def facts(self, instant: Instant) -> AlignmentFacts | None:
        """Give how far the dials are trusted."""
        from companion.mount import trust_words

        alignment = self._fit.alignment
        if alignment is None:
            return None
        typical = self._typical_deg
        not_compared = not self._fit.compared and bool(alignment.doubted)
        return AlignmentFacts(
            sightings_set_aside=sum(one.set_aside for one in alignment.sightings),
            typical_radius95_deg=typical,
            words=NOT_COMPARED if not_compared else trust_words(alignment, typical),
            sightings=tuple(_sighting_facts(alignment.mount, one) for one in alignment.residuals),
            parameters=tuple(alignment.parameters.values()),
            doubts=tuple(one for one in self._fit.doubts if not one.answered),
            next_sighting=self._next.facts(instant, alignment),
        )


def _typical_radius(alignment: "Alignment") -> float:
    """Give the median 95% radius over the sky."""
    azimuths = [float(azimuth) for azimuth in range(0, 360, 90)]
    aims = alignment.aims(azimuths * 3, [altitude for altitude in _TYPICAL_DEG for _ in azimuths])
    return float(np.median([aim.radius95_deg for aim in aims]))


def _sighting_facts(mount: "Mount", residual: "Residual") -> SightingFacts:
    sighting = residual.sighting
    return SightingFacts(
        number=sighting.number,
        name=sighting.name,
        utc=sighting.utc,
        azimuth_text=_reading_text(mount.azimuth, sighting.azimuth_reading_deg),
        altitude_text=_reading_text(mount.altitude, sighting.altitude_reading_deg),
        azimuth_residual_deg=residual.azimuth_deg,
        altitude_residual_deg=residual.altitude_deg,
        residual_deg=residual.on_sky_deg,
        set_aside=sighting.set_aside,
        weak=sighting.weak,
        kept=sighting.kept,
    )


def _reading_text(dial: "Dial", reading_deg: float | None) -> str:
    from companion.mount import shown

    return "" if reading_deg is None else shown(dial, reading_deg).text
