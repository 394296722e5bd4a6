"""A horizon while it is drawn: a point at each five degrees, and those that were there before."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from companion.sky import horizon_altitude_deg

_STEP_DEG = 5
_STRAIGHT_DEG = 1e-9


@dataclass(frozen=True, slots=True)
class HorizonLine:
    """A closed line of (azimuth, altitude) points in degrees, ascending in azimuth from 0 to 360.

    It has a point at every multiple of ``STEP_DEG``, so that a change there bends the line
    nowhere but between the neighbours.
    """

    STEP_DEG: ClassVar[int] = _STEP_DEG  # of azimuth between the points that can be drawn
    TOP_DEG: ClassVar[float] = 60.0  # nothing is drawn higher; higher points of a file stay

    points: tuple[tuple[float, float], ...]

    @classmethod
    def through(cls, points: Sequence[tuple[float, float]]) -> "HorizonLine":
        """Give the line of a site's horizon, its own points included."""
        between = range(0, 360, _STEP_DEG)
        line = dict(zip(between, horizon_altitude_deg(points, between).tolist(), strict=True))
        found: dict[float, float] = {float(azimuth): high for azimuth, high in line.items()}
        found |= {azimuth % 360.0: altitude for azimuth, altitude in points}
        return cls(tuple(sorted(found.items())))

    def altitude_deg(self, azimuth_deg: int) -> float:
        """Give the altitude at a multiple of ``STEP_DEG``; 360 is north again."""
        return dict(self.points)[float(azimuth_deg % 360)]

    def with_altitude(self, azimuth_deg: int, altitude_deg: float) -> "HorizonLine":
        """Set the altitude at a multiple of ``STEP_DEG``; what else stood nearest to it goes."""
        here = float(azimuth_deg % 360)
        others = [point for point in self.points if _apart_deg(point[0], here) >= _STEP_DEG / 2]
        return HorizonLine(tuple(sorted([*others, (here, max(0.0, altitude_deg))])))

    def with_stroke(self, start: tuple[int, float], end: tuple[int, float]) -> "HorizonLine":
        """Draw from one (azimuth, altitude) to another, whole degrees of altitude between them.

        Both azimuths are multiples of ``STEP_DEG`` from 0 to 360; the stroke does not cross north.
        """
        steps = abs(end[0] - start[0]) // _STEP_DEG
        line = self
        for step in range(steps + 1):
            share = step / steps if steps else 1.0
            azimuth = round(start[0] + (end[0] - start[0]) * share)
            line = line.with_altitude(azimuth, round(start[1] + (end[1] - start[1]) * share))
        return line

    def thinned(self) -> tuple[tuple[float, float], ...]:
        """Give the points fit for ``Site.horizon``: of straight runs only the ends."""
        around = zip(
            (self.points[-1], *self.points[:-1]),
            self.points,
            (*self.points[1:], self.points[0]),
            strict=True,
        )
        kept = tuple(here for before, here, after in around if _bends(before, here, after))
        first = self.points[0]
        return kept or ((first,) if first[1] > 0.0 else ())  # level all round: one point, or none


def _apart_deg(one_deg: float, other_deg: float) -> float:
    return abs((one_deg - other_deg + 180.0) % 360.0 - 180.0)


def _bends(
    before: tuple[float, float], here: tuple[float, float], after: tuple[float, float]
) -> bool:
    """Say whether a point lies off the straight line between its neighbours, north included."""
    to_here = (here[0] - before[0]) % 360.0
    share = to_here / (to_here + (after[0] - here[0]) % 360.0)
    straight = before[1] + (after[1] - before[1]) * share
    return abs(here[1] - straight) > _STRAIGHT_DEG
