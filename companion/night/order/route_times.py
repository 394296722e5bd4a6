"""The best times of a route whose order is given, by dynamic programming over the slots."""

from collections.abc import Sequence

import numpy as np

from companion.arrays import FloatArray, RowArray
from companion.night.order.route import START, RouteProblem

NEVER = -np.inf


def leaving(problem: RouteProblem) -> FloatArray:
    """Give the best total by the slot in which one is ready to turn: nothing is done yet."""
    best = np.full(problem.slots + 1, NEVER)
    best[0] = 0.0
    return best


def arrivals(problem: RouteProblem, origin: int, stop: int) -> tuple[RowArray, FloatArray]:
    """Slot in which a turn that begins in each slot ends, and its price less that of waiting.

    Shape (slots + 1,) each. What ends after the evening ends in its last slot.
    """
    slots = np.arange(problem.slots + 1)
    stretches = np.minimum(slots // problem.stretch, len(problem.turn) - 1)
    turn = problem.turn[stretches, origin + 1, stop]
    arrive = slots + turn
    price = turn * problem.turn_price[stop] - arrive * problem.wait_price[stop]
    late = arrive > problem.slots
    return np.where(late, problem.slots, arrive), np.where(late, np.inf, price)


def begun(problem: RouteProblem, stop: int, ready: FloatArray) -> FloatArray:
    """Best total by the slot in which a stop begins, from that by its turn's end; (slots + 1,).

    ``ready`` holds the price of waiting until slot 0, as ``arrivals`` counts it.
    """
    waited = np.maximum.accumulate(ready)[:-1]
    gain = problem.gain[stop]
    slots = np.arange(problem.slots)
    return np.where(gain >= 0.0, waited + gain - slots * problem.wait_price[stop], NEVER)


def after(problem: RouteProblem, stop: int, begins: FloatArray) -> FloatArray:
    """Best total by the slot in which a stop is done."""
    done = np.full(problem.slots + 1, NEVER)
    service = int(problem.service[stop])
    done[service:] = begins[: problem.slots + 1 - service]
    return done


def best_times(problem: RouteProblem, route: Sequence[int]) -> tuple[float, list[int]] | None:
    """Give total and starts of a route at its best; None if one comes too late in it."""
    best, here = leaving(problem), START
    trail: list[tuple[RowArray, FloatArray, FloatArray]] = []
    for stop in route:
        arrive, price = arrivals(problem, here, stop)
        offers = best - price
        ready = np.full(problem.slots + 1, NEVER)
        np.maximum.at(ready, arrive, offers)
        begins = begun(problem, stop, ready)
        trail.append((arrive, offers, begins))
        best, here = after(problem, stop, begins), stop
    if not route:
        return 0.0, []
    total = float(best.max())
    if total == NEVER:
        return None
    start = int(trail[-1][2].argmax())
    return total, _back(problem, route, trail, start)


def _back(
    problem: RouteProblem,
    route: Sequence[int],
    trail: Sequence[tuple[RowArray, FloatArray, FloatArray]],
    start: int,
) -> list[int]:
    """Follow the best times backwards."""
    starts = [start]
    for at in range(len(route) - 1, 0, -1):
        arrive, offers, _begins = trail[at]
        left = int(np.where(arrive <= starts[-1], offers, NEVER).argmax())
        starts.append(left - int(problem.service[route[at - 1]]))
    return starts[::-1]
