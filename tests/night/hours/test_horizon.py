"""Horizons that are drawn, typed or measured, the bad ones above all."""

import numpy as np
import pytest
from hypothesis import given, strategies as st

from companion.advice import AdviceError
from companion.night.hours.horizon_import import read_horizon
from companion.sky import Site, horizon_altitude_deg


def test_a_horizon_is_joined_by_straight_lines_over_north() -> None:
    points = ((90.0, 10.0), (270.0, 30.0))
    found = horizon_altitude_deg(points, [90.0, 180.0, 270.0, 0.0, 360.0, -90.0])
    assert found == pytest.approx([10.0, 20.0, 30.0, 20.0, 20.0, 30.0])


def test_without_points_the_horizon_is_open() -> None:
    assert np.all(horizon_altitude_deg((), np.arange(0.0, 360.0)) == 0.0)


@given(
    st.lists(
        st.tuples(st.integers(0, 359), st.integers(0, 90)), min_size=1, unique_by=lambda p: p[0]
    ),
    st.sampled_from([",", ";", "\t"]),
)
def test_what_is_written_is_read_in_any_order(points: list[tuple[int, int]], mark: str) -> None:
    text = "\n".join(f"{azimuth}{mark}{altitude}" for azimuth, altitude in points)
    found = read_horizon(text)
    assert found.points == tuple(sorted((float(a), float(h)) for a, h in points))
    assert horizon_altitude_deg(found.points, points[0][0]) == pytest.approx(points[0][1])


def test_what_cannot_be_taken_as_it_is_gets_a_word() -> None:
    found = read_horizon(
        "azimuth,altitude\n0,5\n90,-5\n90,12\n180,95\n-30,8\n200,abc\n400,nan\n210,20\n"
    )
    assert found.points == (
        (0.0, 5.0),
        (90.0, 12.0),
        (180.0, 90.0),
        (210.0, 20.0),
        (330.0, 8.0),
    )
    report = "\n".join(found.report)
    assert "altitude -5° taken as 0°" in report
    assert "altitude 95° taken as 90°" in report
    assert "azimuth -30° taken as 330°" in report
    assert "90° is given again; 12° is kept" in report
    assert "“200 abc” has no azimuth and altitude" in report
    assert "“400 nan”" in report
    assert "No point between 0° and 90°" in report
    assert "azimuth,altitude" not in report


def test_gaps_are_bridged_and_said() -> None:
    found = read_horizon("350;3\n10;5\n20;7")
    assert any("No point between 20° and 350°" in line for line in found.report)
    assert read_horizon("77 12").report == ("Only one point: the horizon is 12° all round.",)


def test_a_file_from_anywhere_is_read() -> None:
    text = "Azimut\tHöhe\n10°\t5,5\n20°\t6\n"
    for encoding in ("utf-8", "utf-8-sig", "latin-1", "utf-16"):
        assert read_horizon(text.encode(encoding)).points == ((10.0, 5.5), (20.0, 6.0))


@pytest.mark.parametrize("data", ["", "one,two\nthree,four", b"\x00\x01\x02", "77"])
def test_no_horizon_at_all_is_refused_in_words(data: bytes | str) -> None:
    with pytest.raises(AdviceError, match="No line of this horizon") as told:
        read_horizon(data)
    assert told.value.kept


def test_a_horizon_too_large_is_refused() -> None:
    with pytest.raises(AdviceError, match="more than"):
        read_horizon("\n".join(f"{i / 1000},1" for i in range(100_002)))


def test_a_read_horizon_fits_a_site() -> None:
    points = read_horizon("0,5\n120,10\n240,7").points
    assert Site("here", 45.0, 0.0, horizon=points).horizon == points
