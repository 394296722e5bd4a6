"""Horizons that are drawn: a change stays where it is made, and nothing else moves."""

import numpy as np
import pytest
from hypothesis import given, strategies as st

from companion.night.hours.horizon_line import HorizonLine
from companion.sky import horizon_altitude_deg

_POINTS = st.lists(
    st.tuples(st.integers(0, 359), st.integers(0, 90)),
    max_size=12,
    unique_by=lambda point: point[0],
)


@given(_POINTS)
def test_a_line_that_is_only_looked_at_is_the_same_horizon(points: list[tuple[int, int]]) -> None:
    before = tuple(sorted((float(azimuth), float(high)) for azimuth, high in points))
    after = HorizonLine.through(before).thinned()
    around = np.arange(0.0, 360.0, 0.5)
    assert horizon_altitude_deg(after, around) == pytest.approx(
        horizon_altitude_deg(before, around), abs=1e-6
    )
    assert list(after) == sorted(after)
    assert len(after) <= len(before)


@given(_POINTS, st.integers(0, 71), st.integers(0, 60))
def test_a_change_moves_nothing_farther_than_its_neighbours(
    points: list[tuple[int, int]], at: int, altitude: int
) -> None:
    azimuth = at * HorizonLine.STEP_DEG
    before = HorizonLine.through(sorted(points))
    after = before.with_altitude(azimuth, altitude)
    assert after.altitude_deg(azimuth) == altitude
    around = (azimuth + np.arange(5.0, 356.0)) % 360.0
    assert horizon_altitude_deg(after.points, around) == pytest.approx(
        horizon_altitude_deg(before.points, around)
    )


def test_a_stroke_leaves_no_gap_in_either_direction() -> None:
    there = HorizonLine.through(()).with_stroke((90, 10.0), (110, 18.0))
    assert there.thinned() == ((85.0, 0.0), (90.0, 10.0), (110.0, 18.0), (115.0, 0.0))
    assert HorizonLine.through(()).with_stroke((110, 18.0), (90, 10.0)) == there


def test_the_right_end_is_north_again() -> None:
    line = HorizonLine.through(()).with_stroke((350, 4.0), (360, 4.0))
    assert line.altitude_deg(0) == line.altitude_deg(360) == 4.0
    assert line.thinned() == ((0.0, 4.0), (5.0, 0.0), (345.0, 0.0), (350.0, 4.0))


def test_a_level_line_takes_one_point_and_an_open_one_none() -> None:
    assert HorizonLine.through(((70.0, 7.0),)).thinned() == ((0.0, 7.0),)
    assert HorizonLine.through(()).with_altitude(0, -3.0).thinned() == ()
