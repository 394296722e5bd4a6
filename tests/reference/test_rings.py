"""The tilt of Saturn's rings against another library and a worked example."""

import math
from datetime import UTC, datetime

import ephem
import pytest

from companion.sky import LOON_BARRENS, Ephemeris

TOLERANCE_DEG = 0.01  # the poles of the IAU's reports differ by less


def tilt_deg(ephemeris: Ephemeris, utc: datetime) -> float:
    tilt = ephemeris.moment(LOON_BARRENS, utc).facts("saturn").ring_tilt_deg
    assert tilt is not None
    return tilt


@pytest.mark.parametrize("year", range(1990, 2050, 5))
def test_the_rings_tilt_as_another_library_says(ephemeris: Ephemeris, year: int) -> None:
    """``ephem`` computes it from VSOP87 and a pole of its own; north face seen is positive."""
    utc = datetime(year, 4, 1, tzinfo=UTC)
    saturn = ephem.Saturn()
    saturn.compute(utc.replace(tzinfo=None))
    expected = math.degrees(saturn.earth_tilt)
    assert tilt_deg(ephemeris, utc) == pytest.approx(expected, abs=TOLERANCE_DEG)


def test_the_worked_example_of_meeus(ephemeris: Ephemeris) -> None:
    """Meeus, *Astronomical Algorithms*, example 45.a (from memory): 16.442°."""
    utc = datetime(1992, 12, 16, tzinfo=UTC)
    assert tilt_deg(ephemeris, utc) == pytest.approx(16.442, abs=TOLERANCE_DEG)


def test_other_bodies_have_no_rings(ephemeris: Ephemeris) -> None:
    moment = ephemeris.moment(LOON_BARRENS, datetime(2026, 10, 10, tzinfo=UTC))
    assert moment.facts("jupiter").ring_tilt_deg is None
