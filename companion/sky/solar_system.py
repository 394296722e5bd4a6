"""Sun, Moon and planets: the one table of them, and what is known of their light and size."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np

from companion.arrays import FloatArray
from companion.sky.movers import Disc, MoverFacts, Vantage
from companion.sky.target import Kind, Target

FIRST_UTC = datetime(1899, 7, 30, tzinfo=UTC)  # what DE421 covers
LAST_UTC = datetime(2053, 10, 8, tzinfo=UTC)
_SUN_CAUTION = (
    "Never look at the Sun, least of all through binoculars, a finder or a telescope, without a "
    "certified solar filter in front of the optics."
)
_PLUTO = "dwarf planet of the 14th magnitude: a star-like point in large telescopes only"
_MOON_SPEED, _PLANET_SPEED = 1.0, 0.2  # ″/s at most; the Moon moves by 0.65 and by its parallax


@dataclass(frozen=True, slots=True)
class SolarBody:
    """Sun, Moon or a planet, from the loaded ephemeris.

    ``segment`` is its name in DE421, which has only the barycentres of the outer planets' systems:
    Jupiter's own centre is within 0.06″ of it, the others' closer. ``radius_km`` is that of the
    equator, IAU Working Group on Cartographic Coordinates 2015 (Archinal et al. 2018). ``fame``
    orders them by how often people ask for them.
    """

    target: Target
    segment: str
    radius_km: float
    fame: float
    magnitude: Callable[[Disc], float | None]
    greatest_speed_arcsec_per_s: float = _PLANET_SPEED

    @property
    def holds(self) -> tuple[datetime, datetime]:
        """What the ephemeris covers."""
        return FIRST_UTC, LAST_UTC

    def places(self, vantage: Vantage, utcs: Sequence[datetime]) -> FloatArray:
        """Give apparent places (n, 3) in au, ICRS axes."""
        return vantage.observe(self.segment, utcs)

    def facts(self, vantage: Vantage, utc: datetime) -> MoverFacts:
        """Give brightness, size and phase at one moment."""
        disc = vantage.facts_of(self.segment, self.radius_km, utc)
        ringed = self.target.body == "saturn"
        return MoverFacts(
            magnitude=self.magnitude(disc),
            diameter_arcsec=disc.diameter_arcsec,
            lit_fraction=(1.0 + math.cos(disc.phase_rad)) / 2.0,
            elongation_deg=math.degrees(disc.elongation_rad),
            distance_au=disc.distance_au,
            ring_tilt_deg=ring_tilt_deg(disc.to_body_au, disc.centuries) if ringed else None,
        )


def ring_tilt_deg(to_saturn: FloatArray, centuries: float) -> float:
    """Give the tilt of Saturn's rings towards the observer, positive with the north face seen.

    Pole of Saturn: IAU Working Group 2015 (Archinal et al. 2018): α0 = 40.589° - 0.036° T,
    δ0 = 83.537° - 0.004° T, T in Julian centuries from J2000.
    """
    ra, dec = math.radians(40.589 - 0.036 * centuries), math.radians(83.537 - 0.004 * centuries)
    pole = np.array([math.cos(dec) * math.cos(ra), math.cos(dec) * math.sin(ra), math.sin(dec)])
    return math.degrees(math.asin(-float(pole @ to_saturn) / float(np.linalg.norm(to_saturn))))


def _sun(disc: Disc) -> float:
    """V(1,0) of the Sun by the *Astronomical Almanac* (from memory)."""
    return -26.74 + 5.0 * math.log10(disc.distance_au)


def _moon(disc: Disc) -> float:
    """Allen, *Astrophysical Quantities* (1976), as quoted by Krisciunas & Schaefer 1991."""
    phase_deg = math.degrees(disc.phase_rad)
    return -12.73 + 0.026 * phase_deg + 4e-9 * phase_deg**4


def _planet(disc: Disc) -> float | None:
    """Mallama & Hilton 2018, through skyfield."""
    return disc.planet_magnitude


def _pluto(disc: Disc) -> float:
    """V(1,0) of Pluto by the *Astronomical Almanac* (from memory)."""
    return -1.0 + 5.0 * math.log10(disc.distance_au * float(np.linalg.norm(disc.from_sun_au)))


def _target(name: str, kind: Kind = Kind.PLANET, *aliases: str, note: str = "") -> Target:
    code = name.lower()
    return Target(f"body:{code}", name, kind, body=code, aliases=aliases, note=note)


SOLAR_SYSTEM: tuple[SolarBody, ...] = (
    SolarBody(_target("Sun", Kind.SUN, "Sol", note=_SUN_CAUTION), "sun", 695700.0, 9.5, _sun),
    SolarBody(_target("Moon", Kind.MOON, "Luna"), "moon", 1737.4, 10.0, _moon, _MOON_SPEED),
    SolarBody(_target("Mercury"), "mercury", 2440.5, 9.4, _planet),
    SolarBody(_target("Venus"), "venus", 6051.8, 9.6, _planet),
    SolarBody(_target("Mars"), "mars", 3396.2, 9.7, _planet),
    SolarBody(_target("Jupiter"), "jupiter barycenter", 71492.0, 9.8, _planet),
    SolarBody(_target("Saturn"), "saturn barycenter", 60268.0, 9.9, _planet),
    SolarBody(_target("Uranus"), "uranus barycenter", 25559.0, 9.3, _planet),
    SolarBody(_target("Neptune"), "neptune barycenter", 24764.0, 9.2, _planet),
    SolarBody(
        _target("Pluto", Kind.DWARF_PLANET, note=_PLUTO), "pluto barycenter", 1188.3, 9.1, _pluto
    ),
)
SUN, MOON = (body.target for body in SOLAR_SYSTEM[:2])
PLANETS: tuple[Target, ...] = tuple(
    body.target for body in SOLAR_SYSTEM if body.target.kind is Kind.PLANET
)
LIGHTS: tuple[Target, ...] = (SUN, MOON, *PLANETS)
"""What moves and is bright enough to be shown wherever it stands."""
