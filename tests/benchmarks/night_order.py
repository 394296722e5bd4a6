#!/usr/bin/env python3
"""Order random nights and compare with the optimum that CP-SAT proves.

``python tests/benchmarks/night_order.py [NIGHTS]`` prints mean and worst shortfall in value and
the time of each; it asserts nothing. A night holds 14 targets for three hours, more than fit.
"""

import statistics
import sys
import time
from pathlib import Path

from companion.night.order.route import MOST_STOPS, best_route
from companion.night.order.route_search import good_route

sys.path.insert(0, str(Path(__file__).parents[1]))
from reference.cp_sat import optimum, random_night

_NIGHTS = 200


def main(nights: int) -> int:
    """Print the figures."""
    shortfalls, ours_s, theirs_s, unproven = [], [], [], 0
    for seed in range(nights):
        night = random_night(seed)
        start = time.perf_counter()
        value = night.value(good_route(night))
        middle = time.perf_counter()
        exact = optimum(night)
        ours_s.append(middle - start)
        theirs_s.append(time.perf_counter() - middle)
        unproven += not exact.proven
        shortfalls.append(1.0 - value / exact.value)
    print(f"{nights} nights of 14 targets, {unproven} optima unproven")
    print(f"shortfall: mean {statistics.mean(shortfalls):.3%}, worst {max(shortfalls):.2%}")
    print(f"optimal: {sum(s < 1e-9 for s in shortfalls)} of {nights}")
    print(f"search {statistics.median(ours_s):.2f} s, CP-SAT {statistics.median(theirs_s):.2f} s")
    small = [random_night(10_000 + seed, count=MOST_STOPS, hours=2.0) for seed in range(20)]
    start = time.perf_counter()
    equal = sum(
        abs(night.value(best_route(night)) - optimum(night).value) < 1e-6 for night in small
    )
    print(f"{MOST_STOPS} targets, exact: {equal} of {len(small)} as CP-SAT", end=", ")
    print(f"{(time.perf_counter() - start) / len(small):.2f} s both together")
    return 0


if __name__ == "__main__":
    raise SystemExit(main(int(sys.argv[1]) if len(sys.argv) > 1 else _NIGHTS))
