"""Satellites of the Earth as movers, by SGP4 (Vallado et al. 2006, AIAA 2006-6753)."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

import numpy as np
from sgp4.api import WGS72, Satrec

from companion.advice import AdviceError
from companion.arrays import BoolArray, FloatArray
from companion.events.elements.record import USABLE, Elements
from companion.sky import Kind, MoverFacts, Target, Vantage

_JD_1950 = 2433281.5
_AU_KM, _EARTH_KM, _SUN_KM = 149597870.7, 6378.137, 695700.0
_LOWEST_KM, _MU_KM3_PER_S2 = 150.0, 398600.8
# Magnitude at 1000 km, half lit, of what nothing is published of (common practice, no source).
_STANDARD_MAG, _STANDARD_KM = 4.5, 1000.0


def satrec_of(elements: Elements) -> Satrec:
    """Make the propagator of a satellite."""
    n = elements.numbers
    satrec = Satrec()
    per_minute = 2.0 * math.pi / 1440.0
    satrec.sgp4init(
        WGS72,
        "i",
        int(elements.designation) % 340_000,
        elements.epoch_jd - _JD_1950,
        n["BSTAR"],
        n["MEAN_MOTION_DOT"] * per_minute / 1440.0,
        n["MEAN_MOTION_DDOT"] * per_minute / 1440.0**2,
        n["ECCENTRICITY"],
        math.radians(n["ARG_OF_PERICENTER"]),
        math.radians(n["INCLINATION"]),
        math.radians(n["MEAN_ANOMALY"]),
        n["MEAN_MOTION"] * per_minute,
        math.radians(n["RA_OF_ASC_NODE"]),
    )
    return satrec


@dataclass(frozen=True, slots=True)
class SatelliteMover:
    """A satellite by its elements; ``places`` are in au like those of everything else."""

    elements: Elements
    satrec: Satrec

    @property
    def target(self) -> Target:
        """What it is."""
        given = self.elements
        return Target(
            given.key,
            given.name,
            Kind.SATELLITE,
            body=given.key,
            aliases=(f"Satellite {given.designation}",),
            note=f"elements of {given.epoch_utc:%Y-%m-%d %H:%M}",
        )

    @property
    def greatest_speed_arcsec_per_s(self) -> float:
        """As it passes overhead at its lowest."""
        period_s = 86400.0 / self.elements.numbers["MEAN_MOTION"]
        axis_km = (_MU_KM3_PER_S2 * (period_s / (2.0 * math.pi)) ** 2) ** (1.0 / 3.0)
        low_km = axis_km * (1.0 - self.elements.numbers["ECCENTRICITY"])
        speed = math.sqrt(_MU_KM3_PER_S2 * (2.0 / low_km - 1.0 / axis_km))
        return math.degrees(speed / max(low_km - _EARTH_KM, _LOWEST_KM)) * 3600.0

    @property
    def holds(self) -> tuple[datetime, datetime]:
        """Weeks around their epoch."""
        reach = USABLE[self.elements.family]
        return self.elements.epoch_utc - reach, self.elements.epoch_utc + reach

    def places(self, vantage: Vantage, utcs: Sequence[datetime]) -> FloatArray:
        """Give places (n, 3) from the observer, in au, ICRS axes.

        Raises
        ------
        AdviceError
            If the orbit has decayed by then.
        """
        seen_km = vantage.observe_satellite(self.satrec, utcs)
        if not np.isfinite(seen_km).all():
            raise AdviceError(
                f"{self.elements.name} has come down by its elements.", "Read newer elements."
            )
        return seen_km / _AU_KM

    def facts(self, vantage: Vantage, utc: datetime) -> MoverFacts:
        """Give brightness at one moment; None in the Earth's shadow."""
        body, sun = self.places(vantage, [utc])[0], vantage.observe("sun", [utc])[0]
        ground = vantage.stands_km([utc])[0]
        away_km = float(np.linalg.norm(body)) * _AU_KM
        phase = _angle(-body, sun - body)
        lit = bool(sunlit(body[None] * _AU_KM + ground, sun[None] * _AU_KM)[0])
        return MoverFacts(
            magnitude=magnitude(away_km, phase) if lit else None,
            diameter_arcsec=0.0,
            lit_fraction=(1.0 + math.cos(phase)) / 2.0,
            elongation_deg=math.degrees(_angle(body, sun)),
            distance_au=away_km / _AU_KM,
        )


def magnitude(away_km: float, phase_rad: float) -> float:
    """Give the brightness class of a diffuse sphere (common practice, no source)."""
    lit = math.sin(phase_rad) + (math.pi - phase_rad) * math.cos(phase_rad)
    return (
        _STANDARD_MAG + 5.0 * math.log10(away_km / _STANDARD_KM) - 2.5 * math.log10(max(lit, 1e-4))
    )


def sunlit(from_earth_km: FloatArray, sun_km: FloatArray) -> BoolArray:
    """Tell whether places (n, 3) from the Earth's middle stand outside its shadow."""
    away = np.linalg.norm(sun_km, axis=1)
    sun = sun_km / away[:, None]
    along = np.einsum("ij,ij->i", from_earth_km, sun)
    across = np.linalg.norm(from_earth_km - along[:, None] * sun, axis=1)
    umbra_km = _EARTH_KM + along * (_SUN_KM - _EARTH_KM) / away
    return np.asarray((along > 0.0) | (across > umbra_km))


def _angle(a: FloatArray, b: FloatArray) -> float:
    return math.atan2(float(np.linalg.norm(np.cross(a, b))), float(a @ b))
