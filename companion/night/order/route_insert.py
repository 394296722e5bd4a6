"""Routes put together by insertion: one stop after the other, what gives most for its time."""

from collections.abc import Sequence

import numpy as np

from companion.arrays import FloatArray, RowArray
from companion.night.order.route import NOT_THEN, START, RouteProblem
from companion.night.order.route_walk import Walk

_DELAYS = (0, 4, 10, 20, 40, 80)  # slots, between which the price of a delay is interpolated


def slot_price(problem: RouteProblem) -> float:
    """Give what a slot is worth to the first target that no longer fits; 0 if all fit."""
    able = list(problem.able)
    if not able:
        return 0.0
    usual = np.median(problem.turn[:, 1:, able], axis=(0, 1))
    takes = problem.service[able] + usual
    rate = problem.gain[able].max(axis=1) / takes
    by_rate = np.argsort(-rate, kind="stable")
    over = np.flatnonzero(np.cumsum(takes[by_rate]) > problem.slots)
    return float(rate[by_rate[over[0]]]) if over.size else 0.0


class Insertion:
    """One problem with its tables; ``price`` is what a slot of time is worth."""

    def __init__(self, problem: RouteProblem, price: float) -> None:
        self._problem = problem
        self._price = price
        self._walk = Walk(problem)
        self._best_start = _best_starts(problem)

    def filled(self, route: Sequence[int]) -> tuple[list[int], list[int]]:
        """Fill a route up; what is too late in it is dropped.

        Gives the route, and the slot before which each stop of the problem is not begun.
        """
        route, outside = self._walk.kept(route), np.array(self._problem.able, dtype=np.intp)
        outside = outside[~np.isin(outside, route)]
        while outside.size:
            index, starts = self._indices(route, outside)
            at, which = divmod(int(index.argmax()), len(outside))
            if index[at, which] == -np.inf:
                break
            stop = int(outside[which])
            longer = [*route[:at], stop, *route[at:]]
            self._walk.hold[stop] = int(starts[at, which])
            outside = np.delete(outside, which)
            # Delays and turns differ a little from what was tabulated.
            if self._walk.kept(longer) == longer:
                route = longer
            else:
                self._walk.hold[stop] = 0
        return route, self._walk.hold

    def _indices(self, route: Sequence[int], outside: RowArray) -> tuple[FloatArray, RowArray]:
        """Give how good it is to put each stop outside into each gap, and its start there.

        Shape (gaps, stops); minus infinity where it does not fit. Where time costs nothing, a stop
        may also wait for its best sight.
        """
        gaps = _Gaps(self._problem, route, self._walk.starts(route))
        index, starts = self._index(gaps, outside, self._problem.next_start)
        if self._price == 0.0:
            later, later_starts = self._index(gaps, outside, self._best_start)
            starts = np.where(later > index, later_starts, starts)
            index = np.maximum(later, index)
        return index, starts

    def _index(
        self, gaps: "_Gaps", outside: RowArray, start_of: RowArray
    ) -> tuple[FloatArray, RowArray]:
        problem = self._problem
        turn = problem.turn[gaps.stretches[:, None], gaps.origins[:, None] + 1, outside]
        arrive = np.minimum(gaps.leave[:, None] + turn, problem.slots)
        starts = start_of[outside, arrive]
        fits = starts < problem.slots
        gain = problem.gain[outside, np.minimum(starts, problem.slots - 1)]
        gain = gain - turn * problem.turn_price[outside]
        gain -= (starts - arrive) * problem.wait_price[outside]
        done = starts + problem.service[outside]
        takes = (done - gaps.leave[:, None]).astype(np.float64)
        if len(gaps.route):
            onward = problem.turn[gaps.stretches[:-1, None], outside + 1, gaps.route[:, None]]
            delay = np.maximum(done[:-1] + onward - gaps.starts[:, None], 0)
            fits[:-1] &= delay <= gaps.spare[:, None]
            gain[:-1] -= gaps.delay_costs(delay)
            takes[:-1] = np.minimum(takes[:-1] + onward - gaps.straight[:, None], takes[:-1])
            takes[:-1] = np.maximum(takes[:-1], delay)
        fits &= gain > 0.0
        return np.where(fits, gain - self._price * takes, -np.inf), starts


def _best_starts(problem: RouteProblem) -> RowArray:
    """Slot from each on in which a stop is best begun if nothing else waits; as ``next_start``."""
    slots = np.arange(problem.slots)
    worth = np.where(
        problem.gain >= 0.0, problem.gain - slots * problem.wait_price[:, None], -np.inf
    )
    running = np.maximum.accumulate(worth[:, ::-1], axis=1)[:, ::-1]
    at = np.where((worth == running) & np.isfinite(worth), slots, problem.slots)
    found = np.full((len(problem), problem.slots + 1), problem.slots)
    found[:, :-1] = np.minimum.accumulate(at[:, ::-1], axis=1)[:, ::-1]
    return found


class _Gaps:
    """The gaps of a route, the last one behind its end, with what a delay there costs."""

    def __init__(self, problem: RouteProblem, route: Sequence[int], starts: Sequence[int]) -> None:
        self._problem = problem
        self.route = np.array(route, dtype=np.intp)
        self.starts = np.array(starts, dtype=np.intp)
        ends = self.starts + problem.service[self.route]
        self.leave = np.concatenate([[0], ends]).astype(np.intp)
        self.stretches = np.minimum(self.leave // problem.stretch, len(problem.turn) - 1)
        self.origins = np.concatenate([[START], self.route]).astype(np.intp)
        self.straight = problem.turn[self.stretches[:-1], self.origins[:-1] + 1, self.route]
        latest = np.array(problem.latest_starts(route, starts), dtype=np.intp)
        self.spare = latest - self.starts
        self._costs = self._tabulated()

    def _tabulated(self) -> FloatArray:
        """Give what all stops from each on lose by some delays; shape (delays, stops)."""
        problem = self._problem
        now = problem.gain[self.route, self.starts]
        costs = np.zeros((len(_DELAYS), len(self.route)))
        for row, delay in enumerate(_DELAYS[1:], start=1):
            then = problem.gain[self.route, np.minimum(self.starts + delay, problem.slots - 1)]
            lost = np.where(then == NOT_THEN, 0.0, now - then)
            costs[row] = np.cumsum(lost[::-1])[::-1]
        return costs

    def delay_costs(self, delay: RowArray) -> FloatArray:
        """Give the price of delays of the stop behind each gap, (gaps, k) in and out."""
        upper = np.clip(np.searchsorted(_DELAYS, delay), 1, len(_DELAYS) - 1)
        low, high = np.array(_DELAYS)[upper - 1], np.array(_DELAYS)[upper]
        share = np.clip((delay - low) / (high - low), 0.0, 1.0)
        stops = np.arange(len(self.route))[:, None]
        under, over = self._costs[upper - 1, stops], self._costs[upper, stops]
        return np.asarray(under + share * (over - under))
