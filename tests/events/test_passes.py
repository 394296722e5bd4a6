from datetime import UTC, datetime, timedelta

import pytest
from skyfield.api import EarthSatellite, wgs84

from companion.events import ComingRequest, Event, EventKind, read_elements, what_comes
from companion.night import Conditions, find_instrument
from companion.sky import LOON_BARRENS, Ephemeris, load_catalogue

from .test_elements import STATION

FIRST = datetime(2008, 9, 20, tzinfo=UTC)


@pytest.fixture(scope="module")
def seen(ephemeris: Ephemeris) -> tuple[Event, ...]:
    request = ComingRequest(
        LOON_BARRENS,
        FIRST,
        FIRST + timedelta(days=10),
        find_instrument("eye"),
        Conditions.at(LOON_BARRENS),
        frozenset({EventKind.SATELLITE}),
        read_elements(STATION).elements,
    )
    return what_comes(ephemeris, load_catalogue(), request)


def test_passes_are_where_skyfield_has_them(seen: tuple[Event, ...], ephemeris: Ephemeris) -> None:
    assert len(seen) >= 5
    name, first, second = STATION.splitlines()
    satellite = EarthSatellite(first, second, name, ephemeris.earth.timescale)
    place = wgs84.latlon(45.20, -62.30, 120.0)
    for event in seen:
        altitude, azimuth, distance = (
            (satellite - place).at(ephemeris.earth.time(event.utc)).altaz()
        )
        assert event.altitude_deg == pytest.approx(altitude.degrees, abs=0.05)
        assert event.azimuth_deg == pytest.approx(azimuth.degrees, abs=0.2)
        assert event.numbers["distance_km"] == pytest.approx(distance.km, abs=1.0)


def test_passes_end_in_the_shadow_or_low_down(seen: tuple[Event, ...]) -> None:
    for event in seen:
        assert event.start_utc is not None
        assert event.end_utc is not None
        assert event.start_utc <= event.utc <= event.end_utc
        assert event.end_utc - event.start_utc < timedelta(minutes=8)
    assert any("enters_shadow" in event.contacts for event in seen)
    assert len({event.uid for event in seen}) == len(seen)
