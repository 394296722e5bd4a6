"""Stops with time windows in plain numbers: what a route is, and when each stop comes.

Seconds throughout. The turn to a stop begins when the one before ends; whoever arrives early
waits there. For few stops the best route of all is found by dynamic programming over the sets of
stops seen; ``route_search.py`` is for many.
"""

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from companion.arrays import FloatArray
from companion.night.progress import Progress, go_on

START = -1  # in place of a stop: where the tube is at the beginning


@dataclass(frozen=True, eq=False)
class RouteProblem:
    """n stops between two times.

    ``windows`` holds, for each stop, the spans within which all of its time must lie, ascending.
    ``turn_s`` has shape (bins, n + 1, n): the turn from a stop (row stop + 1; row 0 is the
    beginning) to another, in each stretch of ``bin_s`` from ``start_s``. ``low_s``, shape
    (bins, n), is how many seconds of waiting somebody would give for a stop that begins then to
    stand at its best instead.
    """

    values: FloatArray
    service_s: FloatArray
    windows: tuple[tuple[tuple[float, float], ...], ...]
    turn_s: FloatArray
    low_s: FloatArray
    bin_s: float
    start_s: float
    end_s: float

    def __len__(self) -> int:
        return len(self.values)

    @cached_property
    def turns(self) -> list[list[list[float]]]:
        """The turns as lists, which single look-ups read faster."""
        turns: list[list[list[float]]] = self.turn_s.tolist()
        return turns

    @cached_property
    def starts(self) -> tuple[tuple[tuple[float, float], ...], ...]:
        """Earliest and latest start in each window that is long enough, for each stop."""
        return tuple(
            tuple(
                (max(opens, self.start_s), min(closes, self.end_s) - service)
                for opens, closes in spans
                if min(closes, self.end_s) - max(opens, self.start_s) >= service - 1e-6
            )
            for spans, service in zip(self.windows, self.service_s.tolist(), strict=True)
        )

    def bin_of(self, time_s: float) -> int:
        """Stretch that a time lies in."""
        number = int((time_s - self.start_s) / self.bin_s)
        return min(max(number, 0), len(self.turn_s) - 1)

    def turn(self, origin: int, stop: int, time_s: float) -> float:
        """Length of a turn that begins at a time."""
        return self.turns[self.bin_of(time_s)][origin + 1][stop]

    def start_of(self, stop: int, arrival_s: float) -> float | None:
        """When a stop begins after an arrival; None if all its windows are over."""
        for earliest, latest in self.starts[stop]:
            if arrival_s <= latest + 1e-6:
                return max(earliest, arrival_s)
        return None

    def schedule(self, route: Sequence[int]) -> list[tuple[float, float]] | None:
        """Start and end of each stop of a route; None if one comes too late."""
        kept, times = self._followed(route, drop=False)
        return times if len(kept) == len(route) else None

    def trimmed(self, route: Sequence[int]) -> list[int]:
        """Drop what comes too late in a route."""
        return self._followed(route, drop=True)[0]

    def _followed(
        self, route: Sequence[int], *, drop: bool
    ) -> tuple[list[int], list[tuple[float, float]]]:
        """Go along a route; at what is too late go on without it, or stop."""
        turns, services, starts = self.turns, self._services, self.starts
        last_bin, start_s, bin_s = len(turns) - 1, self.start_s, self.bin_s
        kept: list[int] = []
        times: list[tuple[float, float]] = []
        now, here = start_s, START
        for stop in route:
            number = int((now - start_s) / bin_s)
            arrival = now + turns[min(number, last_bin)][here + 1][stop]
            for earliest, latest in starts[stop]:
                if arrival <= latest + 1e-6:
                    start = max(earliest, arrival)
                    now, here = start + services[stop], stop
                    kept.append(stop)
                    times.append((start, now))
                    break
            else:
                if not drop:
                    break
        return kept, times

    @cached_property
    def _services(self) -> list[float]:
        services: list[float] = self.service_s.tolist()
        return services

    def value(self, route: Sequence[int]) -> float:
        """Sum of the values of a route."""
        return float(self.values[list(route)].sum()) if route else 0.0

    def cost(self, route: Sequence[int]) -> float:
        """Seconds that a route spends turning and waiting, and what it gives for standing low."""
        times = self.schedule(route) or []
        spent, left = 0.0, self.start_s
        for stop, (start, end) in zip(route, times, strict=True):
            spent += self.step_cost(stop, left, start)
            left = end
        return spent

    def step_cost(self, stop: int, left_s: float, start_s: float) -> float:
        """Cost of one stop that begins at a time, after the one before was left."""
        return start_s - left_s + self._lows[self.bin_of(start_s)][stop]

    @cached_property
    def _lows(self) -> list[list[float]]:
        lows: list[list[float]] = self.low_s.tolist()
        return lows

    def latest_starts(
        self, route: Sequence[int], times: Sequence[tuple[float, float]]
    ) -> list[float]:
        """Latest start of each stop of a route, with its times, that keeps the rest feasible."""
        latest = [0.0] * len(route)
        free_until = math.inf
        for at in range(len(route) - 1, -1, -1):
            stop, start = route[at], times[at][0]
            last = free_until - self._services[stop]
            fit = [min(late, last) for early, late in self.starts[stop] if early <= last + 1e-6]
            latest[at] = max([start, *fit])
            left = times[at - 1][1] if at else self.start_s
            free_until = latest[at] - self.turn(route[at - 1] if at else START, stop, left)
        return latest


MOST_STOPS = 11
_Way = tuple[float, float, tuple[int, ...]]  # end of the last stop, cost so far, route
_Front = dict[tuple[int, int], list[_Way]]


def best_route(problem: RouteProblem, progress: Progress | None = None) -> list[int]:
    """Give the route of most value; among those of equal value the one that costs least.

    For each set of stops and each last stop only those ways are kept that are earlier or cost less
    than every other (Held & Karp 1962, J. SIAM 10, 196, with time windows).

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
