"""Stretches of time in which something holds."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, strategies as st

from companion.night.hours.spans import run_around, runs, spans_above, spans_below

TIMES = np.arange(0.0, 86401.0, 300.0)


@given(st.lists(st.booleans()))
def test_runs_are_all_that_holds(flags: list[bool]) -> None:
    found = runs(np.array(flags, dtype=bool))
    covered = [i for first, last in found for i in range(first, last + 1)]
    assert covered == [i for i, flag in enumerate(flags) if flag]
    assert all(b[0] > a[1] + 1 for a, b in pairwise(found))


@given(st.floats(0.01, 0.95))
def test_crossings_are_found_between_steps(limit: float) -> None:
    curve = np.sin(2.0 * np.pi * TIMES / 86400.0)
    spans = spans_above(TIMES, curve, limit)
    exact = np.degrees(np.arcsin(limit)) * 240.0
    ends = {round(t) for span in spans for t in (span.start_s, span.end_s)} - {0, 86400}
    assert min(abs(end - exact) for end in ends) <= 1.0
    below = spans_below(TIMES, curve, limit)
    whole = sum(span.length_s for span in (*spans, *below))
    assert whole == pytest.approx(86400.0, abs=1e-3)


def test_a_curve_that_never_crosses_has_all_or_nothing() -> None:
    flat = np.full_like(TIMES, 5.0)
    assert [s.length_s for s in spans_above(TIMES, flat, 1.0)] == [86400.0]
    assert spans_below(TIMES, flat, 1.0) == []


@given(st.lists(st.booleans(), min_size=1, max_size=30), st.data())
def test_the_run_around_a_step_ends_where_it_breaks(flags: list[bool], data: st.DataObject) -> None:
    if not any(flags):
        return
    at = data.draw(st.sampled_from([i for i, flag in enumerate(flags) if flag]))
    holds = np.array(flags, dtype=bool)[:, None]
    first, last = run_around(holds, np.array([at]))
    assert holds[first[0] : last[0] + 1].all()
    assert first[0] == 0 or not holds[first[0] - 1, 0]
    assert last[0] == len(flags) - 1 or not holds[last[0] + 1, 0]
