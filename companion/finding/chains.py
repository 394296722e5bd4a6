"""Ways in two steps: from what a person knows to a bright star, and from there to the target."""

from dataclasses import replace
from functools import lru_cache
from typing import Final

import numpy as np

from companion.arrays import IntArray
from companion.finding.curves import curve_ways
from companion.finding.groups import Group
from companion.finding.guide import GuideStars
from companion.finding.lines import (
    NO_GROUP,
    Pairs,
    angles_deg,
    follow,
    known_pairs,
    make_pairs,
    pairs_of,
)
from companion.finding.single_ways import (
    Place,
    beside_way,
    best_lines,
    line_costs,
)
from companion.finding.ways import Way, WayKind

_STEP_COST: Final = 2.0
_LED_TO: Final = 2.3  # magnitude: bright enough to be the one star meant
_SURE_COST: Final = 6.0  # a first step must be good in itself
_BESIDE_DEG: Final = 15.0
_KEPT: Final = 4


def chain_ways(stars: GuideStars, group: Group | None, place: Place) -> list[Way]:
    """Give the best ways through one bright star that is found first.

    The first step starts from ``group``, or from any where that is None.
    """
    first_steps, second = _led_to(stars, group)
    if not first_steps:
        return []
    lines = follow(stars, second, place.vector[None, :])
    found = best_lines(stars, lines, line_costs(stars, lines), 0, _KEPT)
    rows: IntArray = np.array(sorted(first_steps), np.int64)
    distance_deg = angles_deg(stars.vectors[rows], place.vector)
    near = rows[(distance_deg < _BESIDE_DEG) & place.leads(stars.hip[rows], distance_deg)]
    found += [beside_way(stars, row, place) for row in near.tolist()]
    return [_joined(way, first_steps[stars.rows[way.stars[-1]]]) for way in found]


def _joined(way: Way, first: Way) -> Way:
    cost = way.cost + first.cost + _STEP_COST
    return replace(way, kind=WayKind.CHAIN, first=first, cost=cost)


@lru_cache(maxsize=8)
def _led_to(stars: GuideStars, group: Group | None) -> tuple[dict[int, Way], Pairs]:
    """Give the first steps and the pairs for second ones: the same for every place."""
    first_steps = _first_steps(stars, pairs_of(stars, group) if group else known_pairs(stars))
    return first_steps, _second_pairs(stars, first_steps)


def _first_steps(stars: GuideStars, pairs: Pairs) -> dict[int, Way]:
    """Give the best way to each star, by row, that catches the eye."""
    bright = np.flatnonzero(stars.magnitude <= _LED_TO)
    grouped = pairs.where(pairs.group != NO_GROUP)
    lines = follow(stars, grouped, stars.vectors[bright])
    costs = line_costs(stars, lines)
    known = {stars.groups[number].key for number in np.unique(grouped.group).tolist()}
    found = {}
    for column, row in enumerate(bright.tolist()):
        curves = curve_ways(stars, stars.vectors[row])
        ways = [way for way in curves if way.group and way.group.key in known]
        ways += best_lines(stars, lines, costs, column, 1)
        way = min(ways, key=lambda way: way.rank, default=None)
        if way is not None and way.cost < _SURE_COST:
            found[row] = way
    return found


def _second_pairs(stars: GuideStars, first_steps: dict[int, Way]) -> Pairs:
    """Pair each star that was led to with the stars that led there, and with the brightest."""
    brightest = np.flatnonzero(stars.magnitude <= 1.6).tolist()
    starts, ends = [], []
    for row, way in first_steps.items():
        led = [stars.rows[hip] for hip in way.stars]
        mine = [start for start in dict.fromkeys([*led, *brightest]) if start != row]
        starts += mine
        ends += [row] * len(mine)
    group = np.full(len(starts), NO_GROUP, np.int64)
    return make_pairs(stars, np.array(starts, np.int64), np.array(ends, np.int64), group)
