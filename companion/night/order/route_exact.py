"""The best route of all, for few stops: dynamic programming over the sets of stops seen.

For each set and last stop only those ways are kept that are earlier or cost less than every
other (Held & Karp 1962, J. SIAM 10, 196, with time windows).
"""

from collections import defaultdict

from companion.night.order.route import START, RouteProblem
from companion.night.progress import Progress, go_on

MOST_STOPS = 11
_Way = tuple[float, float, tuple[int, ...]]  # end of the last stop, cost so far, route
_Front = dict[tuple[int, int], list[_Way]]


def best_route(problem: RouteProblem, progress: Progress | None = None) -> list[int]:
    """Give the route of most value; among those of equal value the one that costs least.

    Raises
    ------
    Cancelled
        If ``progress`` says so.
    """
    layer: _Front = {(0, START): [(problem.start_s, 0.0, ())]}
    best: tuple[float, float, tuple[int, ...]] = (0.0, 0.0, ())
    for count in range(len(problem)):
        go_on(progress, count / len(problem))
        layer = _next_layer(problem, layer)
        for ways in layer.values():
            for _end, cost, route in ways:
                best = min(best, (-round(problem.value(route), 9), cost, route))
    go_on(progress, 1.0)
    return list(best[2])


def _next_layer(problem: RouteProblem, layer: _Front) -> _Front:
    """Add one stop to every way."""
    found: _Front = defaultdict(list)
    for (seen, last), ways in layer.items():
        for stop in range(len(problem)):
            if seen >> stop & 1:
                continue
            key = (seen | 1 << stop, stop)
            for end, cost, route in ways:
                start = problem.start_of(stop, end + problem.turn(last, stop, end))
                if start is not None:
                    done = start + float(problem.service_s[stop])
                    more = problem.step_cost(stop, end, start)
                    _keep(found[key], (done, cost + more, (*route, stop)))
    return found


def _keep(ways: list[_Way], new: _Way) -> None:
    """Keep a way unless another is both earlier and cheaper; drop what it beats."""
    if any(old[0] <= new[0] and old[1] <= new[1] for old in ways):
        return
    ways[:] = [old for old in ways if old[0] < new[0] or old[1] < new[1]]
    ways.append(new)
