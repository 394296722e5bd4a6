"""The easiest way from star to star: shortest paths over what a field of view connects."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from companion.arrays import BoolArray, FloatArray, IntArray
from companion.finding.field_stars import FieldStars
from companion.finding.lines import angles_deg
from companion.finding.single_ways import Place

LEG_PART: Final = 0.8  # of the field: both ends of a leg are seen at once
_LONGEST_LEG_DEG: Final = 7.5  # farther on an hour of the clock leads two degrees astray
_MOST_STARS: Final = 1200
_FAINTEST_START: Final = 4.2
_EASY_START: Final = 3.0  # what the eye finds by itself
_EASY_MAGNITUDE: Final = 4.5
_HERE_DEG: Final = 0.02


@dataclass(frozen=True, slots=True, eq=False)
class Web:
    """What can be reached around a place: n stars, and the place itself as node n.

    ``cost[u, v]`` is the trouble of going between two nodes, infinite beyond a leg;
    ``arrival[u]`` is the trouble of knowing that one has arrived at u.
    """

    rows: IntArray
    cost: FloatArray
    arrival: FloatArray
    magnitude: FloatArray
    by_eye: BoolArray


def leg_limit_deg(field_deg: float) -> float:
    """Give the longest step through a field."""
    return min(LEG_PART * field_deg, _LONGEST_LEG_DEG)


def weave(stars: FieldStars, place: Place, field_deg: float, radius_deg: float) -> Web:
    """Connect the stars around a place, but those of the target, by legs that a field shows whole.

    A leg costs one, plus up to a half for its length; arriving costs more at faint stars and
    where similar ones stand near. The weights are our own judgement.
    """
    rows = stars.within(place.vector, radius_deg, _MOST_STARS)
    other = angles_deg(stars.vectors[rows], place.vector) > _HERE_DEG
    rows = rows[other & ~np.isin(stars.hip[rows], list(place.own))]
    nodes = np.vstack([stars.vectors[rows], place.vector])
    apart = np.degrees(np.arccos(np.clip(nodes @ nodes.T, -1.0, 1.0)))
    longest = leg_limit_deg(field_deg)
    cost = np.where(apart < longest, 1.0 + 0.5 * (apart / longest) ** 2, np.inf)
    magnitude = stars.magnitude[rows]
    near = apart[:-1, :-1] < field_deg / 5.0
    alike = near & (magnitude[None, :] < magnitude[:, None] + 0.5)
    doubt = np.minimum(alike.sum(axis=1) - 1, 4)
    arrival = 0.35 * np.maximum(magnitude - _EASY_MAGNITUDE, 0.0) + 0.15 * doubt
    return Web(rows, cost, np.append(arrival, 0.0), magnitude, stars.by_eye[rows])


def cheapest_route(web: Web, closed: BoolArray) -> list[int]:
    """Give the nodes from a bright star to the place, by Dijkstra's method (1959); [] if none.

    The search runs backwards from the place, so one pass weighs every start.

    Parameters
    ----------
    web : Web
        Nodes and legs.
    closed : BoolArray
        Stars (n,) not to be used.
    """
    count = len(web.rows)
    start_cost = _start_costs(web.magnitude, closed | ~web.by_eye)
    reach = np.full(count + 1, np.inf)
    towards = np.full(count + 1, count)
    is_open = np.append(~closed, True)
    reach[count] = 0.0
    best, best_total = -1, np.inf
    while True:
        node = int(np.argmin(np.where(is_open, reach, np.inf)))
        if not is_open[node] or reach[node] >= best_total:
            break
        is_open[node] = False
        if node < count and reach[node] + start_cost[node] < best_total:
            best, best_total = node, reach[node] + start_cost[node]
        through = reach[node] + web.cost[node] + web.arrival[node]
        nearer = is_open & (through < reach)
        reach[nearer], towards[nearer] = through[nearer], node
    route = [best] if best >= 0 else []
    while route and route[-1] != count:
        route.append(int(towards[route[-1]]))
    return route


def _start_costs(magnitude: FloatArray, closed: BoolArray) -> FloatArray:
    """Weigh stars to start from: the brighter, the better; faint ones only to save several hops."""
    patience = 1.5 * np.maximum(magnitude - _EASY_START, 0.0)
    usable = (magnitude <= _FAINTEST_START) & ~closed
    return np.where(usable, 0.5 * np.maximum(magnitude, 0.0) + patience, np.inf)
