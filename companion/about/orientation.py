"""Which way a body is turned: the point it faces us with, the Sun's point, angles of its disk."""

import math
from dataclasses import dataclass

import numpy as np

from companion.arrays import FloatArray
from companion.sky import Aspect, cross


@dataclass(frozen=True, slots=True)
class Point:
    """A point on a body: degrees, north and east positive, longitude from -180 to 180."""

    latitude_deg: float
    longitude_deg: float


def point_below(axes: FloatArray, towards: FloatArray) -> Point:
    """Give the point of a body above which a direction stands (planetocentric)."""
    x, y, z = axes @ (towards / np.linalg.norm(towards))
    return Point(math.degrees(math.asin(_clipped(z))), math.degrees(math.atan2(y, x)))


def disk_axes(aspect: Aspect) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Give east and north on the sky at the body, of date, and the line of sight."""
    return sky_axes(aspect.to_body_km, aspect.north)


def sky_axes(towards: FloatArray, pole: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Give east and north at a direction of the sky, and the direction itself, of unit length."""
    sight = towards / np.linalg.norm(towards)
    east = cross(pole, sight)
    east /= np.linalg.norm(east)
    return east, cross(sight, east), sight


def position_angle_of(aspect: Aspect, direction: FloatArray) -> float:
    """Give the position angle of a direction seen at the body: north through east, 0 to 360."""
    return angle_at(aspect.to_body_km, aspect.north, direction)


def angle_at(towards: FloatArray, pole: FloatArray, direction: FloatArray) -> float:
    """Give the position angle of a direction, seen in another one: north through east."""
    east, north, _sight = sky_axes(towards, pole)
    return math.degrees(math.atan2(float(direction @ east), float(direction @ north))) % 360.0


def bright_limb_deg(aspect: Aspect) -> float:
    """Give the position angle of the middle of the bright limb: the side of the Sun."""
    return position_angle_of(aspect, -aspect.from_sun_km)


def phase_angle_deg(aspect: Aspect) -> float:
    """Give the angle Sun, body, observer."""
    a, b = aspect.to_body_km, aspect.from_sun_km
    return math.degrees(math.atan2(float(np.linalg.norm(cross(a, b))), float(a @ b)))


def lit_fraction(phase_deg: float) -> float:
    """Give the illuminated fraction of a disk (Meeus, ch. 41)."""
    return (1.0 + math.cos(math.radians(phase_deg))) / 2.0


def elongation_deg(aspect: Aspect) -> float:
    """Give the angle between body and Sun as seen by the observer."""
    to_body, to_sun = aspect.to_body_km, aspect.to_body_km - aspect.from_sun_km
    aside = float(np.linalg.norm(cross(to_body, to_sun)))
    return math.degrees(math.atan2(aside, float(to_body @ to_sun)))


def _clipped(value: float) -> float:
    return max(-1.0, min(1.0, float(value)))
