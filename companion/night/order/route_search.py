"""Good routes for many stops: insertion, ruin and repair, and moving short pieces (or-opt)."""

import math
import random
from collections.abc import Iterable, Sequence
from itertools import pairwise

import numpy as np

from companion.arrays import FloatArray, RowArray
from companion.night.order.route import START, RouteProblem
from companion.night.progress import Progress, go_on

# Rounds of ruin and repair: many for few stops, which are cheap, fewer for many.
_MOST_ROUNDS, _LEAST_ROUNDS, _STOP_ROUNDS = 2000, 300, 30_000
_PATIENCE = 0.4  # part of the rounds without a better route after which to stop
_WARMTH = 2.0  # least values that a route may lose for a while at the beginning
_SEED = 1  # the same queue gives the same order
_LEAST_RUIN, _MOST_RUIN = 3, 0.4  # stops, part of the route
_NOISE = 0.4
_LONGEST_PIECE = 3
_DETOUR_S = 60.0  # of turning that less waiting may be worth


def good_route(
    problem: RouteProblem,
    first: Sequence[int] = (),
    progress: Progress | None = None,
) -> list[int]:
    """Give a route of much value that costs little.

    Parameters
    ----------
    problem : RouteProblem
        Stops and their windows.
    first : sequence of int
        A route to start from, such as the one before; what is too late in it is dropped.
    progress : callable, optional
        Takes the part that is done; gives False to stop.

    Raises
    ------
    Cancelled
        If ``progress`` says so.
    """
    search = _Search(problem)
    here = search.repaired(problem.trimmed(first), noise=0.0)
    here = best = max((here, search.repaired([], noise=0.0)), key=search.score)
    rounds = min(max(_STOP_ROUNDS // max(len(problem), 1), _LEAST_ROUNDS), _MOST_ROUNDS)
    since = 0
    for count in range(rounds):
        go_on(progress, count / rounds)
        new = search.repaired(search.ruined(here), noise=_NOISE)
        if search.accepts(new, here, warmth=_WARMTH * (1.0 - count / rounds)):
            here = new
        since += 1
        if search.score(new) > search.score(best) + 1e-9:
            best, since = new, 0
        if since > _PATIENCE * rounds:
            break
    go_on(progress, 1.0)
    return search.shortened(best)


class _Search:
    """One problem with its arrays and its luck."""

    def __init__(self, problem: RouteProblem) -> None:
        self._problem = problem
        self._luck = random.Random(_SEED)  # noqa: S311 - no secret, the same every time
        most = max((len(spans) for spans in problem.starts), default=0)
        self._early = np.full((most, len(problem)), np.inf)
        self._late = np.full((most, len(problem)), -np.inf)
        for stop, spans in enumerate(problem.starts):
            for number, (early, late) in enumerate(spans):
                self._early[number, stop], self._late[number, stop] = early, late
        positive = problem.values[problem.values > 0.0]
        self._least = least = float(positive.min()) if positive.size else 1.0
        # All cost together counts for less than the least value: values come first.
        most_cost = (
            problem.end_s - problem.start_s + float(problem.low_s.max(axis=0, initial=0.0).sum())
        )
        self._cost_weight = 0.5 * least / most_cost
        # For a first guess whether a route turns less: the turns in the middle of the night.
        self._usual_turns = problem.turns[len(problem.turns) // 2]
        self._scores: dict[tuple[int, ...], float] = {}

    def score(self, route: Sequence[int]) -> float:
        """Value, less a little for turning, waiting and standing low."""
        key = tuple(route)
        if key not in self._scores:
            cost = self._problem.cost(route)
            self._scores[key] = self._problem.value(route) - self._cost_weight * cost
        return self._scores[key]

    def accepts(self, new: Sequence[int], here: Sequence[int], warmth: float) -> bool:
        """Go on from a new route, sometimes from a slightly worse one (simulated annealing)."""
        lost = self.score(here) - self.score(new)
        if lost <= 0.0:
            return True
        return self._luck.random() < math.exp(-lost / max(warmth * self._least, 1e-9))

    def ruined(self, route: Sequence[int]) -> list[int]:
        """Take some stops out: a piece in a row, or here and there."""
        most = max(_LEAST_RUIN, int(len(route) * _MOST_RUIN))
        count = min(self._luck.randint(1, most), len(route))
        if self._luck.random() < 0.5:
            first = self._luck.randint(0, len(route) - count) if route else 0
            left = [*route[:first], *route[first + count :]]
        else:
            out = set(self._luck.sample(range(len(route)), count))
            left = [stop for at, stop in enumerate(route) if at not in out]
        return self._problem.trimmed(left)

    def repaired(self, route: list[int], noise: float) -> list[int]:
        """Insert, one after the other, what gives most value for its time."""
        problem = self._problem
        fits = [stop for stop in range(len(problem)) if problem.starts[stop]]
        luck = np.ones(len(problem))
        if noise:
            luck = np.exp(noise * np.array([self._luck.gauss(0.0, 1.0) for _ in luck]))
        outside = np.array([stop for stop in fits if stop not in set(route)], dtype=np.intp)
        while outside.size:
            gain = self._gains(route, outside) * luck[outside]
            at, which = divmod(int(gain.argmax()), len(outside))
            if gain[at, which] <= 0.0:
                break
            longer = [*route[:at], int(outside[which]), *route[at:]]
            if problem.schedule(longer) is None:  # turns differ a little from what was tabulated
                outside = np.delete(outside, which)
                continue
            route = longer
            outside = np.delete(outside, which)
        return route

    def _gains(self, route: Sequence[int], outside: RowArray) -> FloatArray:
        """Value for time of each stop outside in each gap; 0 where it does not fit.

        Shape (gaps, stops).
        """
        problem = self._problem
        times = problem.schedule(route) or []
        leave = np.array([problem.start_s, *(end for _start, end in times)])
        origins = np.array([START, *route], dtype=np.intp) + 1
        bins = np.array([problem.bin_of(time) for time in leave], dtype=np.intp)
        to = problem.turn_s[bins[:, None], origins[:, None], outside[None, :]]
        arrive = leave[:, None] + to
        starts = np.where(
            arrive <= self._late[:, None, outside],
            np.maximum(arrive, self._early[:, None, outside]),
            np.inf,
        ).min(axis=0, initial=np.inf)
        done = starts + problem.service_s[outside]
        fits, cost = np.isfinite(done), done - leave[:, None]
        if route:
            following = np.array(route, dtype=np.intp)
            onward = problem.turn_s[bins[:-1, None], outside[None, :] + 1, following[:, None]]
            latest = np.array(problem.latest_starts(route, times))
            fits[:-1] &= done[:-1] + onward <= latest[:, None]
            straight = problem.turn_s[bins[:-1], origins[:-1], following]
            cost[:-1] += onward - straight[:, None]
        gain = problem.values[outside] / np.maximum(cost, 1.0)
        return np.where(fits, gain, 0.0)

    def shortened(self, route: list[int]) -> list[int]:
        """Move short pieces elsewhere as long as that makes the route better."""
        better = True
        while better:
            better = False
            usual = self._usual_turns
            longest = _length(usual, route) + _DETOUR_S
            for new in _moved(route):
                likely = _length(usual, new) < longest
                if likely and self._problem.schedule(new) and self.score(new) > self.score(route):
                    route, better = new, True
                    break
        return route


def _length(turns: list[list[float]], route: Sequence[int]) -> float:
    return sum(turns[a + 1][b] for a, b in pairwise((START, *route)))


def _moved(route: Sequence[int]) -> Iterable[list[int]]:
    """All routes with one piece of up to three stops elsewhere."""
    for length in range(1, min(_LONGEST_PIECE, len(route) - 1) + 1):
        for first in range(len(route) - length + 1):
            piece = list(route[first : first + length])
            rest = [*route[:first], *route[first + length :]]
            for at in range(len(rest) + 1):
                if at != first:
                    yield [*rest[:at], *piece, *rest[at:]]
