"""What typed readings point to: back from the dials to the sky."""

from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from companion.arrays import FloatArray
from companion.instant.bright_stars import BrightSky
from companion.instant.handling import looks_with
from companion.instant.sky_table import Instant
from companion.instant.snapshot import PointedFacts
from companion.sky import (
    Target,
    constellation_name,
    constellation_of,
    horizontal_separation_deg,
    load_catalogue,
    separation_deg,
    unit_vectors,
)

if TYPE_CHECKING:
    from companion.mount import Alignment

_LEAST_RADIUS_DEG = 1.0
_MOST = 8
_FAINTEST = 11.0  # deep-sky objects that a person might see in the field


class SkyPointer:
    """Belongs to the service's thread; the table of objects is made when it is first asked."""

    def __init__(self, stars: BrightSky) -> None:
        self._stars = stars

    @cached_property
    def _objects(self) -> tuple[tuple[Target, ...], FloatArray]:
        targets = tuple(
            target
            for target in load_catalogue().deep_sky.targets
            if target.magnitude is not None and target.magnitude <= _FAINTEST
        )
        places = [(target.ra_deg or 0.0, target.dec_deg or 0.0) for target in targets]
        ra, dec = np.array(places).T
        return targets, unit_vectors(ra, dec)

    def facts(self, instant: Instant, alignment: "Alignment | None") -> PointedFacts | None:
        """Give what the typed readings point to; without a mount they are true directions."""
        pointed = instant.choices.pointed_deg
        if pointed is None:
            return None
        azimuth, altitude = pointed if alignment is None else alignment.sky_of(*pointed)
        ra, dec = instant.moment.icrs_of(azimuth, altitude)
        star, star_deg = self._nearest_star(instant, azimuth, altitude)
        radius = 0.0 if alignment is None else alignment.aim(azimuth, altitude).radius95_deg
        return PointedFacts(
            azimuth_deg=azimuth,
            altitude_deg=altitude,
            ra_deg=float(ra[0]),
            dec_deg=float(dec[0]),
            constellation=constellation_name(str(constellation_of(ra, dec)[0])),
            radius95_deg=radius,
            star=star,
            star_distance_deg=star_deg,
            objects=self._in_field(instant, unit_vectors(ra[0], dec[0])),
        )

    def _nearest_star(self, instant: Instant, azimuth: float, altitude: float) -> tuple[str, float]:
        stars = self._stars.at(instant.choices.site, instant.moment.utc)
        away = horizontal_separation_deg(azimuth, altitude, stars.azimuth_deg, stars.altitude_deg)
        nearest = int(np.argmin(away))
        return stars.names[nearest], float(away[nearest])

    def _in_field(self, instant: Instant, direction: FloatArray) -> tuple[tuple[str, float], ...]:
        """Give the objects within the widest field, nearest first."""
        targets, vectors = self._objects
        looks = looks_with(instant)
        radius = max(_LEAST_RADIUS_DEG, looks[0].field_deg / 2.0 if looks else 0.0)
        away = separation_deg(vectors, direction)
        inside = np.flatnonzero(away <= radius)
        order = inside[np.argsort(away[inside])][:_MOST]
        return tuple((targets[row].name, float(away[row])) for row in order.tolist())
