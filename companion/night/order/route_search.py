"""Good routes for many stops: insertion, then small changes by simulated annealing.

Annealing after Kirkpatrick, Gelatt & Vecchi 1983, Science 220, 671.
"""

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass

from companion.night.order.route import RouteProblem
from companion.night.order.route_insert import Insertion, slot_price
from companion.night.order.route_times import best_times
from companion.night.order.route_walk import Walk
from companion.night.progress import Progress, go_on

_SEED = 1  # the same queue gives the same order
_PRICES = (0.0, 0.5, 1.0, 1.5)  # of time, as parts of what it seems worth
_STEPS = 200_000  # of all changes together, times stops: for many stops
_STEPS_OF_FEW = 720_000
_LEAST_CHANGES = 1200
_FEW = 40  # stops up to which several beginnings are tried
_WARM, _MILD, _COLD = 0.15, 0.05, 0.003  # mean gains that a change may lose, first and last
# Kinds of change, by part of all: another time to begin, two exchanged, else a piece elsewhere.
_HOLDS, _EXCHANGES = 0.12, 0.28
_PIECES = (1, 1, 1, 2, 2, 3)  # stops in a piece
_LONGEST_HOLD = 110  # slots by which a start is put off at a time
_TELLS = 100  # changes between two words of progress


def good_route(
    problem: RouteProblem,
    first: Sequence[int] = (),
    progress: Progress | None = None,
) -> tuple[list[int], list[int]]:
    """Give a route of a great total, and its starts.

    Parameters
    ----------
    problem : RouteProblem
        Stops, their gains and turns.
    first : sequence of int
        A route to start from, such as the one before; what is too late in it is dropped.
    progress : callable, optional
        Takes the part that is done; gives False to stop.

    Raises
    ------
    Cancelled
        If ``progress`` says so.
    """
    if not problem.able:
        return [], []
    begun = _begun(problem, first, progress)
    few = len(problem.able) <= _FEW
    changes = (_STEPS_OF_FEW if few else _STEPS) // len(problem.able)
    recipes = [(begun, _MILD, max(changes, _LEAST_CHANGES))]
    if few:
        third = changes // 3
        recipes = [(begun, _MILD, third), (begun, _WARM, third), (_Route([], []), _WARM, third)]
    found = []
    for number, (route, warmth, count) in enumerate(recipes):
        told = _Told(progress, number / len(recipes), 1.0 / len(recipes))
        kept = _Annealing(problem, _SEED + number).run(route, warmth, count, told)
        found.append(_timed(problem, kept))
    go_on(progress, 1.0)
    best = max(found, key=lambda one: problem.total(one.stops, one.slots))
    return best.stops, best.slots


@dataclass(frozen=True, slots=True)
class _Route:
    """Stops with a slot each: when they begin, or of all stops those before which none does."""

    stops: list[int]
    slots: list[int]


@dataclass(frozen=True, slots=True)
class _Told:
    """Tells how far a part of the work is."""

    progress: Progress | None
    done: float
    share: float

    def tell(self, part: float) -> None:
        """Say how far the part is."""
        go_on(self.progress, self.done + part * self.share)


def _begun(problem: RouteProblem, first: Sequence[int], progress: Progress | None) -> _Route:
    """Give the best of some routes by insertion."""
    price, best, most = slot_price(problem), _Route([], [0] * len(problem)), -math.inf
    few = len(problem.able) <= _FEW
    beginnings: list[tuple[list[int], float]] = [
        ([], part * price) for part in (_PRICES if few and price else (1.0,))
    ]
    if first:
        beginnings.append((list(first), price))
    for route, worth in beginnings:
        go_on(progress, 0.0)
        stops, hold = Insertion(problem, worth).filled(route)
        timed = best_times(problem, stops)
        if timed is not None and timed[0] > most:
            best, most = _Route(stops, hold), timed[0]
    return best


def _timed(problem: RouteProblem, route: list[int]) -> _Route:
    timed = best_times(problem, route)
    assert timed is not None  # noqa: S101  # a walk along it found its times
    return _Route(route, timed[1])


class _Annealing:
    """Changes an order of all stops; those that find no time in it are left out."""

    def __init__(self, problem: RouteProblem, seed: int) -> None:
        self._problem, self._walk = problem, Walk(problem)
        self._luck = random.Random(seed)  # noqa: S311 - no secret, the same every time
        self._mean = float(problem.gain[list(problem.able)].max(axis=1).mean())

    def run(self, begun: _Route, warmth: float, changes: int, told: _Told) -> list[int]:
        """Change an order many times, and give the best route that was found."""
        inside = set(begun.stops)
        order = [*begun.stops, *(stop for stop in self._problem.able if stop not in inside)]
        self._walk.hold[: len(begun.slots)] = begun.slots
        trail = self._walk.along(order)
        best, kept = trail[-1][2], self._walk.kept(order)
        heat, cooler = warmth * self._mean, (_COLD / warmth) ** (1.0 / changes)
        for number in range(changes):
            if number % _TELLS == 0:
                told.tell(number / changes)
            heat *= cooler
            new, at, undo = self._changed(order, trail)
            after = self._walk.along(new, at, trail[at])
            lost = trail[-1][2] - after[-1][2]
            if lost <= 0.0 or self._luck.random() < math.exp(-lost / heat):
                order = new
                trail[at:] = after
                if after[-1][2] > best + 1e-9:
                    best, kept = after[-1][2], self._walk.kept(order)
            elif undo is not None:
                self._walk.hold[undo[0]] = undo[1]
        return kept

    def _changed(
        self, order: list[int], trail: list[tuple[int, int, float]]
    ) -> tuple[list[int], int, tuple[int, int] | None]:
        """Give another order, from where on it differs, and how to take back another hold."""
        luck = self._luck.random
        kind, at = luck(), int(luck() * len(order))
        if kind < _HOLDS:
            stop, hold = order[at], self._walk.hold
            before = hold[stop]
            put_off = max(trail[at][0], before) + int(luck() * _LONGEST_HOLD) + 1
            hold[stop] = 0 if before and luck() < 0.6 else put_off
            return order, at, (stop, before)
        other = int(luck() * len(order))
        if kind < _HOLDS + _EXCHANGES:
            new = order.copy()
            new[at], new[other] = new[other], new[at]
            return new, min(at, other), None
        length = _PIECES[int(luck() * len(_PIECES))]
        piece, new = order[at : at + length], order[:at] + order[at + length :]
        new[other:other] = piece
        return new, min(at, other), None
