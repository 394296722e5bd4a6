#!/usr/bin/env python3
"""Order nights: against the optimum that CP-SAT proves, and against a rule that knows no heights.

``python tests/benchmarks/night_order.py [NIGHTS]`` prints, for invented nights of 14 targets in
three hours (more than fit), mean and worst shortfall of the total and the time of each; then, for
real nights at the demo sites, how much more the eye gains than by the rule that an order followed
before: most value, then least turning and waiting, a target taken once its window opens. It asserts
nothing.
"""

import statistics
import sys
import time
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np

from companion.night import (
    Conditions,
    Session,
    Wish,
    darkness,
    find_instrument,
    night_grid,
    plan_night,
)
from companion.night.order.problem import SLOT_S, OrderProblem, order_problem
from companion.night.order.route import NOT_THEN, RouteProblem
from companion.night.order.route_exact import MOST_STOPS, best_route
from companion.night.order.route_search import good_route
from companion.sky import DRY_PAN, LOON_BARRENS, Ephemeris, load_search

sys.path.insert(0, str(Path(__file__).parents[1]))
from reference.cp_sat import optimum, random_night

_NIGHTS, _REAL_NIGHTS = 200, 40
_PATIENCE_S = 60.0
_LOW_S = 900.0  # of waiting that the former rule gave for standing high


def main(nights: int) -> int:
    """Print the figures."""
    against_the_former_rule(_REAL_NIGHTS)
    if nights:
        against_the_optimum(nights)
    return 0


def against_the_optimum(nights: int) -> None:
    """Print the shortfall of the search, and whether the exact way is exact."""
    shortfalls, bounds, ours_s, theirs_s = [], [], [], []
    for seed in range(nights):
        night = random_night(seed)
        start = time.perf_counter()
        total = night.total(*good_route(night))
        middle = time.perf_counter()
        exact = optimum(night, _PATIENCE_S)
        ours_s.append(middle - start)
        theirs_s.append(time.perf_counter() - middle)
        bounds.append(1.0 - total / exact.most)
        if exact.proven:
            shortfalls.append(1.0 - total / exact.value)
    print(f"{nights} nights of 14 targets, {nights - len(shortfalls)} optima unproven")
    print(f"shortfall: mean {statistics.mean(shortfalls):.3%}, worst {max(shortfalls):.2%}", end="")
    print(f"; with the bounds of all: mean {statistics.mean(bounds):.3%}, worst {max(bounds):.2%}")
    print(f"optimal: {sum(s < 1e-5 for s in shortfalls)} of {nights}")
    print(f"search {statistics.median(ours_s):.2f} s, CP-SAT {statistics.median(theirs_s):.2f} s")
    small = [random_night(10_000 + seed, count=MOST_STOPS, hours=2.0) for seed in range(20)]
    start = time.perf_counter()
    equal = sum(
        abs(night.total(*best_route(night)) - optimum(night).value) < 1e-3 for night in small
    )
    print(f"{MOST_STOPS} targets, exact: {equal} of {len(small)} as CP-SAT", end=", ")
    print(f"{(time.perf_counter() - start) / len(small):.2f} s both together")


def against_the_former_rule(nights: int) -> None:
    """Print how much more the eye gains on real nights."""
    ephemeris, luck = Ephemeris.load(), np.random.default_rng(9)
    more: list[float] = []
    counts: list[tuple[int, int]] = []
    for _ in range(nights):
        problem = real_night(ephemeris, luck)
        former = former_rule(problem)
        ours, theirs = (_routed(one) for one in (problem.route, former))
        gained = [problem.route.gained(*one) for one in (ours, theirs)]
        more.append(gained[0] / gained[1] - 1.0)
        counts.append((len(ours[0]), len(theirs[0])))
    ephemeris.close()
    print(f"{nights} real nights, expected visibility over the former rule: ", end="")
    print(f"mean {statistics.mean(more):+.1%}, median {statistics.median(more):+.1%}", end=", ")
    print(f"least {min(more):+.1%}, most {max(more):+.1%}")
    ours_seen, theirs_seen = (sum(one[n] for one in counts) for n in (0, 1))
    print(f"targets seen: {ours_seen} against {theirs_seen}")


def _routed(problem: RouteProblem) -> tuple[list[int], list[int]]:
    return best_route(problem) if len(problem.able) <= MOST_STOPS else good_route(problem)


def real_night(ephemeris: Ephemeris, luck: np.random.Generator) -> OrderProblem:
    """Draw site, date, hours and a queue of planets and Messier objects."""
    site = (LOON_BARRENS, DRY_PAN)[int(luck.integers(2))]
    noon = datetime(2026, 1, 1, 16 if site is LOON_BARRENS else 10, tzinfo=UTC)
    grid = night_grid(ephemeris, site, noon + timedelta(days=int(luck.integers(730))))
    begins = darkness(grid).nautical.begins_utc
    assert begins is not None
    start = begins + timedelta(hours=float(luck.uniform(0.0, 2.0)))
    session = Session(start, start + timedelta(hours=float(luck.uniform(1.5, 6.0))))
    names = ["jupiter", "saturn", "mars", "venus", "uranus", *(f"m {n}" for n in range(1, 111))]
    chosen = luck.choice(len(names), int(luck.integers(5, 41)), replace=False)
    search = load_search()
    targets = [search.resolve(names[number]) for number in chosen]
    plans = plan_night(
        ephemeris,
        grid,
        targets,
        instrument=find_instrument("150"),
        conditions=Conditions.at(site),
    )
    wishes = [Wish(target, float(luck.integers(1, 6))) for target in targets]
    return order_problem(grid, wishes, plans, session)


def former_rule(problem: OrderProblem) -> RouteProblem:
    """Give the same evening with the former aim: values first, then little turning and waiting."""
    route = problem.route
    may = route.gain >= 0.0
    times = np.array([problem.offset_s(slot) for slot in range(route.slots)])
    gain = np.full_like(route.gain, NOT_THEN)
    least = min(wish.value for wish in problem.wishes)
    price = 0.5 * least / (route.slots * SLOT_S + _LOW_S * len(route))
    for stop, (wish, plan) in enumerate(zip(problem.wishes, problem.plans, strict=True)):
        altitude = np.interp(times, problem.grid.offsets_s, plan.curve.altitude_deg)
        sine = np.sin(np.radians(altitude))
        if may[stop].any():
            low = 1.0 - np.clip(sine / sine[may[stop]].max(), 0.0, 1.0)
            gain[stop] = np.where(may[stop], wish.value - price * _LOW_S * low, NOT_THEN)
    flat = np.full(len(route), price * SLOT_S)
    return replace(route, gain=gain, turn_price=flat, wait_price=flat)


if __name__ == "__main__":
    raise SystemExit(main(int(sys.argv[1]) if len(sys.argv) > 1 else _NIGHTS))
