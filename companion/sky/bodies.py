"""Sun, Moon and planets: topocentric apparent places, by anchors and interpolation.

Nine bodies cost skyfield some milliseconds; their apparent places move so smoothly that a cubic
through four anchors a few minutes apart stays within a hundredth of an arcsecond, the Moon's
parallax included. Anchors are made again when the moment leaves their middle.
"""

import math
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np
from skyfield.api import Time
from skyfield.magnitudelib import planetary_magnitude
from skyfield.vectorlib import VectorSum

from companion.sky.vectors import FloatArray

AU_KM = 149597870.7
ANCHOR_STEP_S = 240.0
_OFFSETS = np.array([-1.0, 0.0, 1.0, 2.0])

# Names in DE421, which has only the barycentres of the outer planets' systems: Jupiter's own
# centre is within 0.06″ of it, the others' closer.
SEGMENTS = {
    "sun": "sun",
    "moon": "moon",
    "mercury": "mercury",
    "venus": "venus",
    "mars": "mars",
    "jupiter": "jupiter barycenter",
    "saturn": "saturn barycenter",
    "uranus": "uranus barycenter",
    "neptune": "neptune barycenter",
    "pluto": "pluto barycenter",
}
# Equatorial radii in km, IAU Working Group on Cartographic Coordinates 2015 (Archinal et al. 2018).
RADIUS_KM = {
    "sun": 695700.0,
    "moon": 1737.4,
    "mercury": 2440.5,
    "venus": 6051.8,
    "mars": 3396.2,
    "jupiter": 71492.0,
    "saturn": 60268.0,
    "uranus": 25559.0,
    "neptune": 24764.0,
    "pluto": 1188.3,
}


@dataclass(frozen=True, slots=True)
class BodyFacts:
    """What changes slowly: brightness, size and phase of a body."""

    magnitude: float | None
    diameter_arcsec: float
    lit_fraction: float
    elongation_deg: float
    distance_au: float
    detail: str


class BodyAnchors:
    """Apparent places (ICRS, unit vectors) of one body around one moment."""

    def __init__(self, ephemeris: "BodySource", name: str, utc: datetime) -> None:
        self.name = name
        self.start = utc
        moments = [utc + timedelta(seconds=float(k) * ANCHOR_STEP_S) for k in _OFFSETS]
        places = ephemeris.apparent(name, moments)
        self._places = places / np.linalg.norm(places, axis=1)[:, None]
        self.facts = ephemeris.facts(name, utc)

    def covers(self, utc: datetime) -> bool:
        """Tell whether the moment lies between the two middle anchors."""
        return 0.0 <= (utc - self.start).total_seconds() <= ANCHOR_STEP_S

    def place(self, utc: datetime) -> FloatArray:
        """Give the apparent unit vector (3,) by Lagrange's cubic."""
        x = (utc - self.start).total_seconds() / ANCHOR_STEP_S
        weights = np.array(
            [math.prod((x - b) / (a - b) for b in _OFFSETS if b != a) for a in _OFFSETS]
        )
        vector = weights @ self._places
        return np.asarray(vector / np.linalg.norm(vector))

    def motion_per_s(self, utc: datetime) -> FloatArray:
        """Give how fast the unit vector changes (3,), per second."""
        second = timedelta(seconds=1)
        return (self.place(utc + second) - self.place(utc - second)) / 2.0


class BodySource:
    """Computes bodies directly for one observer; the anchors draw from it."""

    def __init__(self, kernel: object, observer: VectorSum, timescale: object) -> None:
        self._kernel = kernel
        self._observer = observer
        self._timescale = timescale

    def apparent(self, name: str, moments: list[datetime]) -> FloatArray:
        """Give apparent places (n, 3) in au, ICRS axes."""
        time = self._timescale.from_datetimes(moments)  # type: ignore[attr-defined]  # untyped
        segment = self._kernel[SEGMENTS[name]]  # type: ignore[index]  # untyped
        place = self._observer.at(time).observe(segment).apparent()
        return np.asarray(place.position.au.T, dtype=float)

    def facts(self, name: str, utc: datetime) -> BodyFacts:
        """Give brightness, size and phase at one moment."""
        time = self._timescale.from_datetime(utc)  # type: ignore[attr-defined]  # untyped
        here = self._observer.at(time)
        seen = here.observe(self._kernel[SEGMENTS[name]])  # type: ignore[index]  # untyped
        sun = here.observe(self._kernel["sun"])  # type: ignore[index]  # untyped
        to_body, to_sun = seen.position.au, sun.position.au
        distance_au = float(np.linalg.norm(to_body))
        phase_rad = _angle(to_body, to_body - to_sun) if name != "sun" else 0.0
        lit = (1.0 + math.cos(phase_rad)) / 2.0
        diameter = math.degrees(2.0 * math.asin(RADIUS_KM[name] / (distance_au * AU_KM))) * 3600.0
        return BodyFacts(
            magnitude=_magnitude(name, seen, distance_au, to_body - to_sun, phase_rad),
            diameter_arcsec=diameter,
            lit_fraction=lit,
            elongation_deg=math.degrees(_angle(to_body, to_sun)) if name != "sun" else 0.0,
            distance_au=distance_au,
            detail=_detail(name, to_body, lit, time),
        )


def _angle(a: FloatArray, b: FloatArray) -> float:
    return math.atan2(float(np.linalg.norm(np.cross(a, b))), float(a @ b))


def _magnitude(
    name: str, seen: object, distance_au: float, from_sun: FloatArray, phase_rad: float
) -> float | None:
    """Give the visual magnitude.

    Planets by skyfield (Mallama & Hilton 2018); Moon by Allen, *Astrophysical Quantities* (1976),
    as quoted by Krisciunas & Schaefer 1991; Sun and Pluto by V(1,0) of the *Astronomical Almanac*
    (from memory).
    """
    if name == "sun":
        return -26.74 + 5.0 * math.log10(distance_au)
    if name == "moon":
        phase_deg = math.degrees(phase_rad)
        return -12.73 + 0.026 * phase_deg + 4e-9 * phase_deg**4
    if name == "pluto":
        return -1.0 + 5.0 * math.log10(distance_au * float(np.linalg.norm(from_sun)))
    value = float(planetary_magnitude(seen))
    return value if math.isfinite(value) else None


def _detail(name: str, to_body: FloatArray, lit: float, time: Time) -> str:
    """Say in a few words what the disc shows."""
    if name == "saturn":
        return f"rings tilted {abs(ring_tilt_deg(to_body, time)):.0f}°"
    if name in {"moon", "mercury", "venus", "mars"}:
        return f"{lit * 100:.0f}% lit"
    return ""


def ring_tilt_deg(to_saturn: FloatArray, time: Time) -> float:
    """Give the tilt of Saturn's rings towards the observer, positive with the north face seen.

    Pole of Saturn: IAU Working Group 2015 (Archinal et al. 2018): α0 = 40.589° - 0.036° T,
    δ0 = 83.537° - 0.004° T, T in Julian centuries from J2000.
    """
    centuries = (float(time.tdb) - 2451545.0) / 36525.0
    ra, dec = math.radians(40.589 - 0.036 * centuries), math.radians(83.537 - 0.004 * centuries)
    pole = np.array([math.cos(dec) * math.cos(ra), math.cos(dec) * math.sin(ra), math.sin(dec)])
    return math.degrees(math.asin(-float(pole @ to_saturn) / float(np.linalg.norm(to_saturn))))
