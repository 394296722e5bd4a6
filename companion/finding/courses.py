"""Which way to go as a person under the sky has it: up, down, left, right, or towards a horizon.

Left and right are those of one who stands facing the place. High overhead they turn with every
step, so there a course is told by the point of the horizon that it leads to.
"""

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from companion.arrays import FloatArray


class Course(StrEnum):
    """A course; the values are codes, the words stand in ``way_words``."""

    UP = "up"
    UP_RIGHT = "up-right"
    RIGHT = "right"
    DOWN_RIGHT = "down-right"
    DOWN = "down"
    DOWN_LEFT = "down-left"
    LEFT = "left"
    UP_LEFT = "up-left"
    NORTH = "north"
    NORTH_NORTH_EAST = "north-north-east"
    NORTH_EAST = "north-east"
    EAST_NORTH_EAST = "east-north-east"
    EAST = "east"
    EAST_SOUTH_EAST = "east-south-east"
    SOUTH_EAST = "south-east"
    SOUTH_SOUTH_EAST = "south-south-east"
    SOUTH = "south"
    SOUTH_SOUTH_WEST = "south-south-west"
    SOUTH_WEST = "south-west"
    WEST_SOUTH_WEST = "west-south-west"
    WEST = "west"
    WEST_NORTH_WEST = "west-north-west"
    NORTH_WEST = "north-west"
    NORTH_NORTH_WEST = "north-north-west"


SEEN: Final = tuple(Course)[:8]  # clockwise from up
HORIZON: Final = tuple(Course)[8:]  # from north through east
OVERHEAD_DEG: Final = 68.0  # who looks higher leans back and turns: left and right lose their hold
_STEP_DEG: Final = 45.0, 22.5


@dataclass(frozen=True, slots=True)
class Told:
    """A course and how far the true direction lies to the right of it, degrees."""

    course: Course
    off_deg: float


def seen_course(bearing_deg: float) -> Course:
    """Give the nearest of eight courses to a bearing, clockwise from up."""
    return SEEN[round((bearing_deg % 360.0) / _STEP_DEG[0]) % 8]


def course_to(origin: FloatArray, ahead: FloatArray, *, overhead: bool | None = None) -> Told:
    """Tell the direction from a place towards another, both (3,) with the zenith up.

    Parameters
    ----------
    origin : FloatArray
        Unit vector of the place.
    ahead : FloatArray
        Any vector ahead of it on the great circle.
    overhead : bool, optional
        Whether to tell the horizon's point; where not given, that depends on the height.
    """
    x, y, z = origin.tolist()
    along = x * float(ahead[0]) + y * float(ahead[1]) + z * float(ahead[2])
    tangent = [float(a) - along * o for a, o in zip(ahead, (x, y, z), strict=True)]
    if overhead is None:
        overhead = z > math.sin(math.radians(OVERHEAD_DEG))
    level = math.hypot(x, y)
    if not overhead and level > 1e-9:
        right = (y * tangent[0] - x * tangent[1]) / level
        above = tangent[2] / level
        bearing = math.degrees(math.atan2(right, above))
        course = seen_course(bearing)
        return Told(course, _turned(bearing - SEEN.index(course) * _STEP_DEG[0]))
    return _to_horizon((x, y, z), tangent)


def _to_horizon(origin: tuple[float, float, float], tangent: list[float]) -> Told:
    """Tell where the great circle from a place comes down to the horizon."""
    x, y, z = origin
    down = [z * t - tangent[2] * o for t, o in zip(tangent, origin, strict=True)]
    azimuth = math.degrees(math.atan2(-down[1], down[0]))
    at = round((azimuth % 360.0) / _STEP_DEG[1]) % 16
    said = math.radians(at * _STEP_DEG[1])
    point = (math.cos(said), -math.sin(said), 0.0)
    # Both directions as seen at the place itself: the point's, less what it has along the place.
    along = x * point[0] + y * point[1]
    towards = [p - along * o for p, o in zip(point, origin, strict=True)]
    cross = (
        towards[1] * tangent[2] - towards[2] * tangent[1],
        towards[2] * tangent[0] - towards[0] * tangent[2],
        towards[0] * tangent[1] - towards[1] * tangent[0],
    )
    turn = cross[0] * x + cross[1] * y + cross[2] * z
    ahead = sum(a * b for a, b in zip(towards, tangent, strict=True))
    return Told(HORIZON[at], math.degrees(math.atan2(turn, ahead)))


def _turned(angle_deg: float) -> float:
    """Bring an angle to between -180 and 180."""
    return (angle_deg + 180.0) % 360.0 - 180.0
