"""The lines that the eye sees in a figure: its edges, its diagonals, its bends."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from companion.arrays import FloatArray
from companion.finding.figures import Figure, figure_of
from companion.finding.groups import Group
from companion.finding.guide import GuideStars
from companion.finding.lines import angles_deg, cross

_SHORTEST_DEG = 1.4  # closer pairs point badly


@dataclass(frozen=True, slots=True, eq=False)
class Stroke:
    """A line of a figure with its sense: through ``begin`` and on through ``end``.

    ``hips`` are its stars in the order in which the eye follows them. A bend begins between its
    first two stars and goes through the third, its tip; where it ``opens``, it begins at the first,
    its tip, and goes on between the other two.
    """

    hips: tuple[int, ...]
    begin: FloatArray  # (3,)
    end: FloatArray  # (3,)
    opens: bool = False

    @property
    def is_bend(self) -> bool:
        """Whether it goes through the tip of a bend."""
        return len(self.hips) == 3

    @property
    def gap_deg(self) -> float:
        """How long the line itself is."""
        return float(angles_deg(self.begin, self.end))


def strokes_of(stars: GuideStars, group: Group) -> tuple[Stroke, ...]:
    """Give the lines of a group whose stars can be seen, both ways each."""
    found = [
        Stroke((one, other), stars.vectors[stars.rows[one]], stars.vectors[stars.rows[other]])
        for pair in _pairs(group, figure_of(group))
        for one, other in (pair, pair[::-1])
        if one in stars.rows and other in stars.rows
    ]
    found += _bends(stars, group)
    return tuple(stroke for stroke in found if stroke.gap_deg >= _SHORTEST_DEG)


def _pairs(group: Group, figure: Figure) -> tuple[tuple[int, int], ...]:
    """Give what is drawn, what has a name, and the diagonals of what is drawn closed."""
    inner = _closed(group)
    diagonals = [
        (one, other) for at, one in enumerate(inner) for other in inner[at + 1 :] if len(inner) < 7
    ]
    pairs = [tuple(sorted(pair)) for pair in (*figure.pairs, *group.lines, *diagonals)]
    return tuple((pair[0], pair[1]) for pair in dict.fromkeys(pairs))


def _closed(group: Group) -> list[int]:
    """Give the stars of the closed part of a figure: what is left without its loose ends."""
    lines = set(group.lines)
    while True:
        ends = [hip for line in lines for hip in line]
        loose = {line for line in lines if any(ends.count(hip) == 1 for hip in line)}
        if not loose:
            return list(dict.fromkeys(ends[at] for at in range(len(ends))))
        lines -= loose


def _bends(stars: GuideStars, group: Group) -> Iterator[Stroke]:
    """Give the bends of an open zigzag, from between the outer two stars through the inner one."""
    joined = [
        (one, other)
        for one in group.lines
        for other in group.lines
        if one[1] == other[0] and not _closed(group)
    ]
    for (first, tip), (_tip, last) in joined:
        if all(hip in stars.rows for hip in (first, tip, last)):
            a, b, c = (stars.vectors[stars.rows[hip]] for hip in (first, tip, last))
            middle = (a + c) / np.linalg.norm(a + c)
            yield Stroke((first, last, tip), middle, b)
            yield Stroke((tip, first, last), b, middle, opens=True)


@dataclass(frozen=True, slots=True, eq=False)
class Followed:
    """Where a line carries past a place, degrees."""

    along_deg: float  # from the line's end to the place's foot on it, -180 to 180
    miss_deg: float  # the place off the line, positive to its right seen along it


def follow_stroke(stroke: Stroke, place: FloatArray) -> Followed:
    """Carry a line on past a place: any textbook of spherical geometry."""
    normal = np.asarray(cross(stroke.begin, stroke.end))
    normal = normal / np.linalg.norm(normal)
    ahead = np.asarray(cross(normal, stroke.end))
    return Followed(
        float(np.degrees(np.arctan2(ahead @ place, stroke.end @ place))),
        float(np.degrees(np.arcsin(np.clip(normal @ place, -1.0, 1.0)))),
    )


def carried_on(stroke: Stroke, along_deg: float) -> FloatArray:
    """Give the unit vector that lies so far on along a line."""
    normal = np.asarray(cross(stroke.begin, stroke.end))
    ahead = np.asarray(cross(normal / np.linalg.norm(normal), stroke.end))
    far = np.radians(along_deg)
    return np.asarray(np.cos(far) * stroke.end + np.sin(far) * ahead)
