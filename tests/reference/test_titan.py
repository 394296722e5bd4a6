"""Titan against what the package ``ephem`` says by itself, and against published shadow transits.

``ephem`` tells apart from its places whether Titan is seen from the Earth and from the Sun; that
is compared with when Titan is said to be behind Saturn and in its shadow. The shadow transits of
2025 are those that magazines of the trade foretold (from memory, their middles to 10 minutes).
"""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

import ephem
import numpy as np
import pytest
from astropy.coordinates import GCRS, get_body
from astropy.time import Time

from companion.events import ComingRequest, Event, event_kinds_named, what_comes
from companion.night import Conditions, find_instrument
from companion.sky import LOON_BARRENS, Ephemeris, load_catalogue

FORETOLD = ("2025-07-18T09:32", "2025-08-03T08:45", "2025-08-19T07:52")
EDGE = timedelta(minutes=12)
WELL_BEHIND = 0.7  # radii from the middle, north or south
NOT_GRAZING = timedelta(hours=4.5)
MINUTE = timedelta(minutes=1)


@pytest.fixture(scope="module")
def titans(ephemeris: Ephemeris) -> tuple[Event, ...]:
    first = datetime(2025, 3, 1, tzinfo=UTC)
    request = ComingRequest(
        LOON_BARRENS,
        first,
        first + timedelta(days=200),
        find_instrument("150"),
        Conditions.at(LOON_BARRENS),
        event_kinds_named("titan"),
    )
    return what_comes(ephemeris, load_catalogue(), request)


def _ephem(utc: datetime) -> "ephem.Titan":
    titan = ephem.Titan()
    titan.compute(ephem.Date(utc.replace(tzinfo=None)))
    return titan


def test_it_is_hidden_when_the_library_says_so(titans: Sequence[Event]) -> None:
    events = [event for event in titans if event.code == "behind"]
    assert len(events) > 3
    for event in events:
        assert event.start_utc is not None
        assert event.end_utc is not None
        for inside in (event.start_utc + EDGE, event.utc, event.end_utc - EDGE):
            assert not _ephem(inside).earth_visible, (event.title, inside)
        if event.end_utc - event.start_utc < NOT_GRAZING:
            continue
        for outside in (event.start_utc - EDGE, event.end_utc + EDGE):
            assert _ephem(outside).earth_visible, (event.title, outside)


@pytest.mark.parametrize(("code", "side"), [("in_shadow", -1.0), ("shadow", 1.0)])
def test_the_sun_titan_and_saturn_stand_in_a_line(
    titans: Sequence[Event], code: str, side: float
) -> None:
    """With Sun and Saturn by astropy: at both ends the line passes Saturn's limb."""
    events = [event for event in titans if event.code == code]
    assert len(events) > 8
    for event in events:
        for utc, least, most in (
            (event.start_utc, 0.88, 1.02),
            (event.utc, 0.0, 0.88),
            (event.end_utc, 0.88, 1.02),
        ):
            assert utc is not None
            miss, towards_sun = _line(utc)
            assert least < miss < most, (event.title, utc)
            assert towards_sun * side > 15.0


def _line(utc: datetime) -> tuple[float, float]:
    """Give by how many radii the line from the Sun misses, and how far Titan is sunward."""
    time = Time(utc.replace(tzinfo=None))
    saturn, sun = (
        get_body(body, time).transform_to(GCRS(obstime=time)).cartesian.xyz.to_value("au")
        for body in ("saturn", "sun")
    )
    sight = saturn / np.linalg.norm(saturn)
    east = np.cross([0.0, 0.0, 1.0], sight)
    east /= np.linalg.norm(east)
    titan = _ephem(utc)
    place = titan.x * east - titan.y * np.cross(sight, east) - titan.z * sight
    to_sun = (sun - saturn) / np.linalg.norm(sun - saturn)
    along = float(place @ to_sun)
    return float(np.linalg.norm(place - along * to_sun)) * 60000.0 / 60268.0, along


def test_nothing_is_missed_in_the_library_s_own_row_of_hours(titans: Sequence[Event]) -> None:
    hidden = [event for event in titans if event.code == "behind"]
    utc = datetime(2025, 3, 2, tzinfo=UTC)
    for hour in range(198 * 24):
        moment = utc + timedelta(hours=hour)
        titan = _ephem(moment)
        if not titan.earth_visible and abs(titan.y) < WELL_BEHIND:
            assert any(
                one.start_utc - EDGE <= moment <= one.end_utc + EDGE  # type: ignore[operator]
                for one in hidden
            ), moment


@pytest.mark.parametrize("utc", FORETOLD)
def test_its_shadow_crosses_saturn_when_foretold(titans: Sequence[Event], utc: str) -> None:
    wanted = datetime.fromisoformat(utc).replace(tzinfo=UTC)
    shadows = [event.utc for event in titans if event.code == "shadow"]
    assert min(abs(one - wanted) for one in shadows) < 10 * MINUTE


def test_it_is_farthest_where_the_library_has_it_farthest(titans: Sequence[Event]) -> None:
    for event in titans:
        if event.code in {"eastern", "western"}:
            here, before, after = (
                _ephem(event.utc + timedelta(hours=hours)) for hours in (0.0, -3.0, 3.0)
            )
            assert (here.x > 0.0) is (event.code == "eastern")
            assert here.x**2 + here.y**2 > before.x**2 + before.y**2
            assert here.x**2 + here.y**2 > after.x**2 + after.y**2
