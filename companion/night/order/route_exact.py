"""The best route of all, for few stops: dynamic programming over the sets of stops seen.

For each set and last stop the best total by the slot in which it is done (Held & Karp 1962,
J. SIAM 10, 196, with the gain depending on time).
"""

import numpy as np

from companion.arrays import FloatArray, RowArray
from companion.night.order.route import START, RouteProblem
from companion.night.order.route_times import NEVER, after, arrivals, begun, leaving
from companion.night.progress import Progress, go_on

MOST_STOPS = 9
_State = tuple[int, int]  # the set as bits, and the last stop


def best_route(
    problem: RouteProblem, progress: Progress | None = None
) -> tuple[list[int], list[int]]:
    """Give the route of the greatest total, and its starts.

    Raises
    ------
    Cancelled
        If ``progress`` says so.
    """
    able = problem.able
    ways = {(i, j): arrivals(problem, i, j) for i in (START, *able) for j in able if i != j}
    best: dict[_State, FloatArray] = {(0, START): leaving(problem)}
    top, last = 0.0, (0, START)
    layer = [(0, START)]
    for count in range(len(able)):
        go_on(progress, count / len(able))
        found: set[_State] = set()
        for seen, stop in _next_states(able, layer):
            done = _done(problem, ways, best, (seen, stop))
            best[seen, stop] = done
            found.add((seen, stop))
            if float(done.max()) > top + 1e-12:
                top, last = float(done.max()), (seen, stop)
        layer = sorted(found)
    go_on(progress, 1.0)
    return _traced(problem, ways, best, last)


def _next_states(able: tuple[int, ...], layer: list[_State]) -> list[_State]:
    """Give every set with one stop more, and that stop as the last."""
    sets = {seen for seen, _last in layer}
    return sorted(
        {(seen | 1 << stop, stop) for seen in sets for stop in able if not seen >> stop & 1}
    )


def _before(best: dict[_State, FloatArray], state: _State) -> list[_State]:
    """Give the states from which one comes by its last stop."""
    seen, stop = state
    rest = seen & ~(1 << stop)
    if not rest:
        return [(0, START)]
    lasts = (at for at in range(rest.bit_length()) if rest >> at & 1)
    return [(rest, at) for at in lasts if (rest, at) in best]


def _done(
    problem: RouteProblem,
    ways: dict[tuple[int, int], tuple[RowArray, FloatArray]],
    best: dict[_State, FloatArray],
    state: _State,
) -> FloatArray:
    """Best total by the slot in which the last stop of a state is done."""
    ready = np.full(problem.slots + 1, NEVER)
    for came in _before(best, state):
        arrive, price = ways[came[1], state[1]]
        np.maximum.at(ready, arrive, best[came] - price)
    return after(problem, state[1], begun(problem, state[1], ready))


def _traced(
    problem: RouteProblem,
    ways: dict[tuple[int, int], tuple[RowArray, FloatArray]],
    best: dict[_State, FloatArray],
    state: _State,
) -> tuple[list[int], list[int]]:
    """Follow the best way backwards from its last stop."""
    route: list[int] = []
    starts: list[int] = []
    left = int(best[state].argmax())
    while state[1] != START:
        stop = state[1]
        start = left - int(problem.service[stop])
        route.append(stop)
        starts.append(start)
        offers = []
        for came in _before(best, state):
            arrive, price = ways[came[1], stop]
            offer = np.where(arrive <= start, best[came] - price, NEVER)
            offers.append((float(offer.max()), int(offer.argmax()), came))
        _total, left, state = max(offers)
    return route[::-1], starts[::-1]
