"""Comets and minor planets as movers: two-body orbits round the Sun, and their magnitudes."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

import numpy as np
from skyfield.keplerlib import propagate

from companion.arrays import FloatArray
from companion.events.elements.record import USABLE, Elements, Family
from companion.sky import Kind, MoverFacts, Target, Vantage

_GM_AU3_PER_DAY2 = 0.01720209895**2  # of the Sun, IAU 1976
_OBLIQUITY_RAD = math.radians(23.4392911)  # of 2000
_USUAL_SLOPE = {Family.COMET: 4.0, Family.MINOR: 0.15}  # where none is published
_SPEED = 2.0  # ″/s: as fast as what passes the Earth at a few distances of the Moon


@dataclass(frozen=True, slots=True)
class OrbitMover:
    """A comet or a minor planet by its elements."""

    elements: Elements

    @property
    def target(self) -> Target:
        """What it is."""
        given = self.elements
        return Target(
            given.key,
            given.name,
            Kind.COMET if given.family is Family.COMET else Kind.MINOR_PLANET,
            body=given.key,
            aliases=(given.designation,),
            note=f"elements of {given.epoch_utc:%Y-%m-%d}",
        )

    @property
    def greatest_speed_arcsec_per_s(self) -> float:
        """As fast as it may ever be."""
        return _SPEED

    @property
    def holds(self) -> tuple[datetime, datetime]:
        """Years around their epoch; planets pull it away from an orbit of two bodies."""
        reach = USABLE[self.elements.family]
        return self.elements.epoch_utc - reach, self.elements.epoch_utc + reach

    def places(self, vantage: Vantage, utcs: Sequence[datetime]) -> FloatArray:
        """Give apparent places (n, 3) in au, ICRS axes."""
        return vantage.observe_orbit(self.from_sun_au, utcs)

    def from_sun_au(self, tdb_days: FloatArray) -> FloatArray:
        """Give heliocentric places (3, n) at Julian days, ICRS axes."""
        n = self.elements.numbers
        start, speed = _at_perihelion(n["perihelion_au"], n["eccentricity"])
        turn = _axes(n["node_deg"], n["inclination_deg"], n["argument_deg"])
        places, _velocities = propagate(
            turn @ start, turn @ speed, n["perihelion_jd"], tdb_days, _GM_AU3_PER_DAY2
        )
        return np.asarray(places)

    def facts(self, vantage: Vantage, utc: datetime) -> MoverFacts:
        """Give brightness and phase at one moment."""
        body = self.places(vantage, [utc])[0]
        sun = vantage.observe("sun", [utc])[0]
        delta, r = float(np.linalg.norm(body)), float(np.linalg.norm(body - sun))
        phase_rad = _angle(body, body - sun)
        return MoverFacts(
            magnitude=self.magnitude(delta, r, phase_rad),
            diameter_arcsec=0.0,
            lit_fraction=(1.0 + math.cos(phase_rad)) / 2.0,
            elongation_deg=math.degrees(_angle(body, sun)),
            distance_au=delta,
        )

    def magnitude(self, delta_au: float, r_au: float, phase_rad: float) -> float | None:
        """Give the brightness; None where no absolute magnitude is published.

        Minor planets: H and G (Bowell et al. 1989, *Asteroids II*, 524). Comets: the Minor Planet
        Center's m = H + 5 log Δ + 2.5 K log r; real ones depart from it by magnitudes.
        """
        numbers = self.elements.numbers
        if "magnitude" not in numbers:
            return None
        slope = numbers.get("slope", _USUAL_SLOPE[self.elements.family])
        seen = numbers["magnitude"] + 5.0 * math.log10(delta_au)
        if self.elements.family is Family.COMET:
            return seen + 2.5 * slope * math.log10(r_au)
        half = math.tan(min(phase_rad, 2.0) / 2.0)
        first, second = (math.exp(-a * half**b) for a, b in ((3.33, 0.63), (1.87, 1.22)))
        light = max((1.0 - slope) * first + slope * second, 1e-9)
        return seen + 5.0 * math.log10(r_au) - 2.5 * math.log10(light)


def _at_perihelion(q_au: float, eccentricity: float) -> tuple[FloatArray, FloatArray]:
    """Give place and speed at perihelion in the plane of the orbit."""
    speed = math.sqrt(_GM_AU3_PER_DAY2 * (1.0 + eccentricity) / q_au)
    return np.array([q_au, 0.0, 0.0]), np.array([0.0, speed, 0.0])


def _axes(node_deg: float, inclination_deg: float, argument_deg: float) -> FloatArray:
    """Give what turns the plane of the orbit to the equator of 2000."""
    node, tilt, argument = map(math.radians, (node_deg, inclination_deg, argument_deg))
    return _about_x(_OBLIQUITY_RAD) @ _about_z(node) @ _about_x(tilt) @ _about_z(argument)


def _about_x(angle: float) -> FloatArray:
    c, s = math.cos(angle), math.sin(angle)
    return np.array([[1.0, 0.0, 0.0], [0.0, c, -s], [0.0, s, c]])


def _about_z(angle: float) -> FloatArray:
    c, s = math.cos(angle), math.sin(angle)
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])


def _angle(a: FloatArray, b: FloatArray) -> float:
    return math.atan2(float(np.linalg.norm(np.cross(a, b))), float(a @ b))
