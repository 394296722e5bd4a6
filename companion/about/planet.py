"""A planet's disk: how it is lit and turned, which meridian faces us, the season of Mars."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from companion.about.orientation import (
    bright_limb_deg,
    elongation_deg,
    lit_fraction,
    phase_angle_deg,
    point_below,
    position_angle_of,
)
from companion.arrays import FloatArray
from companion.sky import AU_KM, MERIDIANS, Aspect, body_axes, cross

# Polar flattening: Archinal et al. 2018 (Celest. Mech. Dyn. Astr. 130, 22).
FLATTENING: Final[Mapping[str, float]] = {
    "mars": 0.00589, "jupiter": 0.06487, "saturn": 0.09796, "uranus": 0.02293, "neptune": 0.01708,
}  # fmt: skip
_TURNED: Final = ("mars", "jupiter", "saturn")  # whose axes are known here
_MARKED: Final = {body: tuple(MERIDIANS[body]) for body in ("mars", "jupiter")}  # with markings
# The orbit of Mars, ecliptic of J2000: inclination and ascending node (Meeus, table 31.b).
_MARS_ORBIT_DEG: Final = (1.849726, 49.558093)
_OBLIQUITY_DEG: Final = 23.4392911


@dataclass(frozen=True, slots=True)
class Turn:
    """How a planet's axis stands; degrees, north through east.

    ``facing_latitude_deg`` and ``subsolar_latitude_deg`` are planetocentric, ``meridians_deg`` the
    central meridian by system, counted westward: on Jupiter of its lit part, as observers time it
    (Meeus, ch. 43), on the others of the whole disk (ch. 42).
    """

    axis_position_angle_deg: float  # 0 to 360
    facing_latitude_deg: float
    subsolar_latitude_deg: float
    meridians_deg: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class PlanetLook:
    """One planet for one observer; ``east_of_sun`` is an evening planet's place."""

    body: str
    distance_au: float
    light_time_s: float
    radius_km: float
    diameter_arcsec: float
    polar_diameter_arcsec: float
    lit: float
    phase_angle_deg: float
    elongation_deg: float
    east_of_sun: bool
    bright_limb_angle_deg: float
    turn: Turn | None


def planet_look(aspect: Aspect) -> PlanetLook:
    """Give how a planet looks to the observer of an aspect."""
    phase = phase_angle_deg(aspect)
    across = math.degrees(2.0 * math.asin(aspect.radius_km / aspect.distance_km)) * 3600.0
    turn = planet_turn(aspect) if aspect.body in _TURNED else None
    flat = FLATTENING.get(aspect.body, 0.0)
    facing = math.radians(turn.facing_latitude_deg) if turn else 0.0
    polar = math.sqrt(1.0 - flat * (2.0 - flat) * math.cos(facing) ** 2)
    return PlanetLook(
        body=aspect.body,
        distance_au=aspect.distance_au,
        light_time_s=aspect.light_time_s,
        radius_km=aspect.radius_km,
        diameter_arcsec=across,
        polar_diameter_arcsec=across * polar,
        lit=lit_fraction(phase),
        phase_angle_deg=phase,
        elongation_deg=elongation_deg(aspect),
        east_of_sun=_east_of_sun(aspect),
        bright_limb_angle_deg=bright_limb_deg(aspect),
        turn=turn,
    )


def planet_turn(aspect: Aspect) -> Turn:
    """Give how the axis of Mars, Jupiter or Saturn stands, and which meridians face us."""
    pole = body_axes(aspect.body, aspect.days)
    return Turn(
        axis_position_angle_deg=position_angle_of(aspect, pole[2]),
        facing_latitude_deg=point_below(pole, -aspect.to_body_km).latitude_deg,
        subsolar_latitude_deg=point_below(pole, -aspect.from_sun_km).latitude_deg,
        meridians_deg={
            system: central_meridian(aspect, system) for system in _MARKED.get(aspect.body, ())
        },
    )


def central_meridian(aspect: Aspect, system: str) -> float:
    """Give the longitude, counted westward, of the middle; on Jupiter, of what is lit."""
    axes = body_axes(aspect.body, aspect.days, system)
    middle = -point_below(axes, -aspect.to_body_km).longitude_deg
    if aspect.body == "jupiter":
        shift = math.degrees(1.0) * math.sin(math.radians(phase_angle_deg(aspect)) / 2.0) ** 2
        sun = -point_below(axes, -aspect.from_sun_km).longitude_deg
        middle += math.copysign(shift, math.sin(math.radians(sun - middle)))
    return middle % 360.0


def mars_season_deg(aspect: Aspect) -> float:
    """Give the Sun's longitude on Mars: 0 at the northern spring equinox, 90 at midsummer.

    Good to 0.1°: the orbit's plane is that of J2000.
    """
    pole, orbit = body_axes("mars", aspect.days)[2], _mars_orbit()
    equinox = cross(pole, orbit)
    equinox /= np.linalg.norm(equinox)
    sun = -aspect.from_sun_km
    return (
        math.degrees(math.atan2(float(sun @ cross(orbit, equinox)), float(sun @ equinox))) % 360.0
    )


def _mars_orbit() -> FloatArray:
    """Give the north pole of the orbit of Mars on ICRS axes."""
    tilt, node = (math.radians(angle) for angle in _MARS_ORBIT_DEG)
    x, y, z = math.sin(tilt) * math.sin(node), -math.sin(tilt) * math.cos(node), math.cos(tilt)
    e = math.radians(_OBLIQUITY_DEG)
    return np.array([x, y * math.cos(e) - z * math.sin(e), y * math.sin(e) + z * math.cos(e)])


def _east_of_sun(aspect: Aspect) -> bool:
    """Tell whether it follows the Sun across the sky, and so is seen in the evening."""
    to_sun = aspect.to_body_km - aspect.from_sun_km
    return float(cross(to_sun, aspect.to_body_km) @ aspect.north) > 0.0


def heliocentric_au(aspect: Aspect) -> float:
    """Give the distance from the Sun."""
    return float(np.linalg.norm(aspect.from_sun_km)) / AU_KM
