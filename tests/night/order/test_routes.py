"""Routes against all others: small problems of which every order can be tried."""

from dataclasses import replace
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from companion.night.order.route import NOT_THEN, START, RouteProblem
from companion.night.order.route_exact import best_route
from companion.night.order.route_search import good_route
from companion.night.order.route_times import best_times
from companion.night.order.route_walk import Walk


def small(seed: int, count: int) -> RouteProblem:
    """Invent a problem of a hundred minutes whose gains rise and sink."""
    luck = np.random.default_rng(seed)
    slots = 200
    service = luck.integers(10, 30, count)
    away = (np.arange(slots) - luck.uniform(0, slots, (count, 1))) / slots
    values = luck.integers(1, 6, (count, 1)).astype(np.float64)
    gain = values * np.maximum(1.0 - 2.0 * away**2, 0.01)
    for stop, opens in enumerate(luck.integers(-60, 160, count).tolist()):
        closes = min(opens + int(luck.integers(15, 160)), slots) - int(service[stop])
        gain[stop, : max(opens, 0)] = NOT_THEN
        gain[stop, max(closes + 1, 0) :] = NOT_THEN
    best = np.maximum(gain.max(axis=1), 0.0)
    return RouteProblem(
        gain=gain,
        service=service.astype(np.intp),
        turn=luck.integers(1, 10, (4, count + 1, count)).astype(np.intp),
        stretch=50,
        turn_price=best / 120.0,
        wait_price=best / 1200.0,
    )


def kept(problem: RouteProblem, route: list[int], starts: list[int]) -> bool:
    """Say whether a route lies in its windows and turns take their time."""
    left, here = 0, START
    for stop, start in zip(route, starts, strict=True):
        if start < left + problem.turn_to(here, stop, left) or problem.gain[stop, start] < 0.0:
            return False
        left, here = start + int(problem.service[stop]), stop
    return left <= problem.slots and len(set(route)) == len(route)


@given(st.integers(0, 10_000))
@settings(max_examples=12, deadline=None)
def test_the_exact_order_beats_every_other(seed: int) -> None:
    problem = small(seed, 5)
    route, starts = best_route(problem)
    assert kept(problem, route, starts)
    best = 0.0
    for length in range(1, 6):
        for other in permutations(problem.able, length):
            timed = best_times(problem, other)
            if timed is not None:
                assert kept(problem, list(other), timed[1])
                assert problem.total(other, timed[1]) == pytest.approx(timed[0])
                best = max(best, timed[0])
    assert problem.total(route, starts) == pytest.approx(best)


@given(st.integers(0, 10_000))
@settings(max_examples=8, deadline=None)
def test_the_search_comes_close_and_keeps_the_windows(seed: int) -> None:
    problem = small(seed, 8)
    problem = replace(problem, turn=problem.turn[:1], stretch=problem.slots)
    route, starts = good_route(problem)
    best = problem.total(*best_route(problem))
    assert kept(problem, route, starts)
    assert 0.9 * best <= problem.total(route, starts) <= best + 1e-9
    latest = problem.latest_starts(route, starts)
    assert all(late >= start for late, start in zip(latest, starts, strict=True))
    for at, late in enumerate(latest):
        timed = best_times(late_from(problem, route[at], late), route)
        assert timed is not None


def late_from(problem: RouteProblem, stop: int, slot: int) -> RouteProblem:
    """Give the problem in which a stop may not begin before a slot."""
    gain = problem.gain.copy()
    gain[stop, :slot] = NOT_THEN
    return replace(problem, gain=gain)


def test_times_of_an_order_are_the_best_of_all_times() -> None:
    problem = replace(small(5, 2), turn=np.full((1, 3, 2), 4), stretch=200)
    for route in ([0, 1], [1, 0]):
        timed = best_times(problem, route)
        tried = [
            problem.total(route, [one, other])
            for one in range(problem.slots)
            for other in range(problem.slots)
            if kept(problem, route, [one, other])
        ]
        assert (timed is None) == (not tried)
        if timed is not None:
            assert timed[0] == pytest.approx(max(tried))


def test_a_route_that_is_too_late_is_trimmed() -> None:
    problem = small(3, 8)
    whole = list(problem.able)
    assert best_times(problem, whole) is None
    assert best_times(problem, Walk(problem).kept(whole)) is not None
    assert good_route(problem, whole)[0]
    nothing = replace(problem, gain=np.full_like(problem.gain, NOT_THEN))
    assert good_route(nothing) == best_route(nothing) == ([], [])
