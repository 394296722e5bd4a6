"""Ways in one step: beside a star, along a pair's line, between two stars."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from companion.arrays import BoolArray, FloatArray, IntArray
from companion.finding.groups import Group
from companion.finding.guide import UP, GuideStars
from companion.finding.lines import (
    NO_GROUP,
    Lines,
    Pairs,
    angles_deg,
    bearing_deg,
    onward,
    point_between,
)
from companion.finding.ways import Way, WayKind

MOST_GAPS: Final = 10.5  # Megrez and Phecda are ten gaps from Regulus; more is guessing
MOST_MISS_DEG: Final = 3.5
SAME_DEG: Final = 0.05  # to the eye a star this near to the target is the target
_MOST_EXTENSION_DEG: Final = 60.0
_LEAST_EXTENSION_DEG: Final = 1.5
_MOST_BESIDE_DEG: Final = 10.0
_FAR_BESIDE_DEG: Final = 16.0  # from a star that nobody misses
_NOT_MISSED: Final = 2.1
_BRIGHT_BESIDE: Final = 2.5  # magnitude of a star that is known without a group
_CLEARLY_BRIGHTER: Final = 0.3
_MOST_OFF_POINT_DEG: Final = 2.5
_MOST_OFF_PART: Final = 0.1  # of the gap
_KEPT: Final = 12
_PARTS: Final = np.array([0.5, 1.0 / 3.0, 0.25])


@dataclass(frozen=True, slots=True, eq=False)
class Place:
    """Where to go: a unit vector in the stars' frame, and what is known of what is there.

    ``floor_deg`` is the altitude of the local horizon there; ``own`` are the Hipparcos numbers of
    stars that are the target, or a part of it: they lead nowhere.
    """

    vector: FloatArray
    name: str
    magnitude: float | None = None
    floor_deg: float = 0.0
    own: frozenset[int] = frozenset()

    @property
    def altitude_deg(self) -> float:
        """How high the place stands, where the frame is that of ``seen_vectors``."""
        return float(np.degrees(np.arcsin(np.clip(self.vector[2], -1.0, 1.0))))

    def leads(self, hip: IntArray, distance_deg: FloatArray) -> BoolArray:
        """Say which stars (n,), so far from the place, are another thing than the target."""
        other = np.asarray(distance_deg >= SAME_DEG)
        if self.own:
            other &= ~np.isin(hip, list(self.own))
        return other


def line_costs(stars: GuideStars, lines: Lines) -> FloatArray:
    """Weigh every pair's line to every target, (p, m); infinite where the line is no use.

    In degrees of trouble: the miss, what a hand's inaccuracy adds with each gap and each fist,
    and faint stars. The weights are our own judgement.
    """
    pairs = lines.pairs
    gaps = lines.along_deg / pairs.gap_deg[:, None]
    use = (lines.along_deg > _LEAST_EXTENSION_DEG) & (lines.along_deg < _MOST_EXTENSION_DEG)
    use &= (gaps < MOST_GAPS) & (np.abs(lines.miss_deg) < MOST_MISS_DEG)
    cost = 0.9 * np.abs(lines.miss_deg) + 0.7 * gaps + 0.04 * lines.along_deg
    cost += _pair_costs(stars, pairs)[:, None]
    return np.where(use, cost, np.inf)


def line_ways(stars: GuideStars, lines: Lines) -> list[Way]:
    """Give the best of the lines to one place."""
    costs = line_costs(stars, lines)
    return best_lines(stars, lines, costs, 0, _KEPT)


def best_lines(
    stars: GuideStars, lines: Lines, costs: FloatArray, column: int, most: int
) -> list[Way]:
    """Give the lines of lowest cost to the target in one column; ``costs`` (p, m) decide."""
    rows = best_rows(costs[:, column])[:most]
    return [_line_way(stars, lines, (row, column), float(costs[row, column])) for row in rows]


def _line_way(stars: GuideStars, lines: Lines, at: tuple[int, int], cost: float) -> Way:
    (row, _column), pairs = at, lines.pairs
    first, second = int(pairs.first[row]), int(pairs.second[row])
    a, b = stars.vectors[first], stars.vectors[second]
    along = float(lines.along_deg[at])
    return Way(
        kind=WayKind.LINE,
        stars=(int(stars.hip[first]), int(stars.hip[second])),
        names=(stars.names[first], stars.names[second]),
        group=_group(stars, int(pairs.group[row])),
        gap_deg=float(pairs.gap_deg[row]),
        extension_deg=along,
        gaps=along / float(pairs.gap_deg[row]),
        distance_deg=float(lines.distance_deg[at]),
        miss_deg=abs(float(lines.miss_deg[at])),
        bearing_deg=bearing_deg(b, onward(a, b), np.array(UP)),
        cost=cost,
    )


def between_ways(stars: GuideStars, lines: Lines, place: Place) -> list[Way]:
    """Give the pairs between whose stars the place lies halfway, a third or a quarter along."""
    pairs = lines.pairs
    part = 1.0 + lines.along_deg[:, 0] / pairs.gap_deg
    nearest = np.abs(part[:, None] - _PARTS).argmin(axis=1)
    off_deg = np.hypot(lines.miss_deg[:, 0], (part - _PARTS[nearest]) * pairs.gap_deg)
    use = off_deg < np.minimum(_MOST_OFF_POINT_DEG, _MOST_OFF_PART * pairs.gap_deg)
    use &= (nearest > 0) | (pairs.first < pairs.second)  # halfway is the same from either end
    cost = 1.2 * off_deg + 0.06 * pairs.gap_deg + 0.4 * nearest + _pair_costs(stars, pairs)
    cost -= 0.5  # nothing is easier to see than a point between two stars
    costs = np.where(use, cost, np.inf)
    return [
        _between_way(stars, pairs, row, float(_PARTS[nearest[row]]), place, cost=float(costs[row]))
        for row in best_rows(costs)
    ]


def _between_way(
    stars: GuideStars, pairs: Pairs, row: int, part: float, place: Place, *, cost: float
) -> Way:
    first, second = int(pairs.first[row]), int(pairs.second[row])
    a, b = stars.vectors[first], stars.vectors[second]
    point = point_between(a, b, part)
    return Way(
        kind=WayKind.BETWEEN,
        stars=(int(stars.hip[first]), int(stars.hip[second])),
        names=(stars.names[first], stars.names[second]),
        group=_group(stars, int(pairs.group[row])),
        gap_deg=float(pairs.gap_deg[row]),
        extension_deg=part * float(pairs.gap_deg[row]),
        gaps=part,
        distance_deg=float(angles_deg(b, place.vector)),
        miss_deg=float(angles_deg(point, place.vector)),
        bearing_deg=bearing_deg(point, place.vector, np.array(UP)),
        cost=cost,
    )


def beside_ways(stars: GuideStars, place: Place) -> list[Way]:
    """Give the known stars that the place stands beside, or the star's own group."""
    distance = angles_deg(stars.vectors, place.vector)
    reach_deg = np.where(stars.magnitude <= _NOT_MISSED, _FAR_BESIDE_DEG, _MOST_BESIDE_DEG)
    near = (distance < reach_deg) & place.leads(stars.hip, distance)
    known = [(row, stars.group_of(row)) for row in np.flatnonzero(near).tolist()]
    found = [
        beside_way(stars, row, place, group)
        for row, group in known
        if group is not None or stars.magnitude[row] <= _BRIGHT_BESIDE
    ]
    here = [(row, stars.group_of(row)) for row in np.flatnonzero(distance < SAME_DEG / 2).tolist()]
    return [_member_way(stars, row, group) for row, group in here if group] + found


def beside_way(stars: GuideStars, row: int, place: Place, group: Group | None = None) -> Way:
    """Describe the way from one star straight to a place."""
    distance_deg = float(angles_deg(stars.vectors[row], place.vector))
    faint = 0.8 * max(float(stars.magnitude[row]) - 2.0, 0.0)
    return Way(
        kind=WayKind.BESIDE,
        stars=(int(stars.hip[row]),),
        names=(stars.names[row],),
        group=group,
        gap_deg=0.0,
        extension_deg=distance_deg,
        gaps=0.0,
        distance_deg=distance_deg,
        miss_deg=0.0,
        bearing_deg=bearing_deg(stars.vectors[row], place.vector, np.array(UP)),
        cost=0.3 + 0.2 * distance_deg + faint,
    )


def _member_way(stars: GuideStars, row: int, group: Group) -> Way:
    """Name the group by its other stars: the brightest of it stands out by itself."""
    others = stars.members[stars.groups.index(group)]
    others = others[others != row]
    stands_out = stars.magnitude[row] < stars.magnitude[others].min() - _CLEARLY_BRIGHTER
    return Way(
        kind=WayKind.MEMBER,
        stars=tuple(stars.hip[others].tolist()),
        names=tuple(stars.names[other] for other in others.tolist()),
        group=group,
        gap_deg=0.0,
        extension_deg=0.0,
        gaps=0.0,
        distance_deg=0.0,
        miss_deg=0.0,
        bearing_deg=0.0,
        cost=0.0 if stands_out else 2.0,
    )


def best_rows(costs: FloatArray) -> list[int]:
    """Give the rows of the lowest finite costs, lowest first."""
    rows = np.argsort(costs, kind="stable")[:_KEPT]
    return [int(row) for row in rows if np.isfinite(costs[row])]


@lru_cache(maxsize=8)
def _pair_costs(stars: GuideStars, pairs: Pairs) -> FloatArray:
    """Faint stars and pairs of no group take longer to find; a pair known as pointers, less."""
    fainter = np.maximum(stars.magnitude[pairs.first], stars.magnitude[pairs.second])
    known = np.array([len(group.stars) == 2 for group in stars.groups] + [False])  # NO_GROUP: last
    return np.asarray(
        0.8 * np.maximum(fainter - 2.0, 0.0)
        + 1.0 * (pairs.group == NO_GROUP)
        - 2.5 * known[pairs.group]
    )


def _group(stars: GuideStars, number: int) -> Group | None:
    return None if number == NO_GROUP else stars.groups[number]
