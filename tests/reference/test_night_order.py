"""The order of a queue against the exact optimum by constraint programming.

OR-tools CP-SAT is a general solver that knows nothing of our search. The nights are invented, with
gains that rise and sink; what is checked is a bound that another program proves.
"""

import pytest

from companion.night.order.route_exact import best_route
from companion.night.order.route_search import good_route

from .cp_sat import optimum, random_night


@pytest.mark.parametrize("seed", range(6))
def test_small_queues_reach_the_optimum(seed: int) -> None:
    night = random_night(1000 + seed, count=8, hours=1.5)
    exact = optimum(night)
    assert exact.proven
    assert night.total(*best_route(night)) == pytest.approx(exact.value, abs=1e-3)


def test_larger_queues_come_within_a_few_percent() -> None:
    shortfalls = []
    for seed in range(5):  # benchmarks/night_order.py takes 200 of them
        night = random_night(seed)
        exact = optimum(night, seconds=60.0)
        total = night.total(*good_route(night))
        assert exact.proven
        assert total <= exact.value + 1e-3
        shortfalls.append(1.0 - total / exact.value)
    assert sum(shortfalls) / len(shortfalls) < 0.01
    assert max(shortfalls) < 0.05
