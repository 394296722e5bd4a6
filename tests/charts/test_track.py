"""Where a target goes, on the charts, against skyfield's own places."""

from datetime import UTC, datetime, timedelta
from typing import Any

import numpy as np
import pytest
from skyfield.api import EarthSatellite, wgs84

from companion.charts import SkyFrame, SkyFrameMaker
from companion.events import mover_of, read_elements
from companion.finding import seen_vectors
from companion.instant import Choices
from companion.sky import DRY_PAN, LOON_BARRENS, Ephemeris, Site, load_catalogue

NIGHT = datetime(2026, 10, 11, 2, tzinfo=UTC)
STATION = """STATION
1 25544U 98067A   08264.51782528 -.00002182  00000-0 -11606-4 0  2927
2 25544  51.6416 247.4627 0006703 130.5360 325.0288 15.72125391563537"""  # from memory


@pytest.fixture(scope="module")
def ephemeris() -> Ephemeris:
    return Ephemeris.load()


@pytest.fixture(scope="module")
def maker(ephemeris: Ephemeris) -> SkyFrameMaker:
    return SkyFrameMaker(ephemeris, load_catalogue())


def _frame(maker: SkyFrameMaker, key: str, utc: datetime, site: Site = LOON_BARRENS) -> SkyFrame:
    return maker.frame(Choices(1, site, target=load_catalogue().target(key)), utc)


def _apart_deg(a: np.ndarray, b: np.ndarray) -> float:
    return float(np.degrees(2.0 * np.arcsin(np.linalg.norm(a - b) / 2.0)))


@pytest.mark.parametrize("site", [LOON_BARRENS, DRY_PAN])
def test_a_planet_goes_among_the_stars_where_skyfield_has_it(
    maker: SkyFrameMaker, ephemeris: Ephemeris, site: Site
) -> None:
    """Beside the same star: the path is drawn on the stars of now."""
    frame = _frame(maker, "body:saturn", NIGHT, site)
    assert frame.track is not None
    kernel: Any = ephemeris._kernel
    timescale = ephemeris.earth.timescale
    place = wgs84.latlon(site.latitude_deg, site.longitude_deg, site.elevation_m)
    now = timescale.from_datetime(NIGHT)
    for day, (text, vector) in zip(range(5, 31, 5), frame.track.marks, strict=True):
        utc = NIGHT + timedelta(days=day)
        then = timescale.from_datetime(utc)
        icrs = (kernel["earth"] + place).at(then).observe(kernel["saturn barycenter"]).apparent()
        direction = place.rotation_at(now) @ (icrs.position.au / np.linalg.norm(icrs.position.au))
        north, east, up = direction
        if up < np.sin(np.radians(10.0)):
            continue
        azimuth, altitude = np.degrees(np.arctan2(east, north)), np.degrees(np.arcsin(up))
        lifted = altitude + 1.02 / 60.0 / np.tan(
            np.radians(altitude + 10.3 / (altitude + 5.11))
        )  # Sæmundsson 1986
        assert _apart_deg(vector, seen_vectors(azimuth, lifted)) < 0.01
        assert text == f"{(utc - timedelta(hours=3)).day} {utc:%b}" or site is DRY_PAN


def test_a_satellite_goes_over_the_sky_as_skyfield_has_it(ephemeris: Ephemeris) -> None:
    elements = read_elements(STATION).elements[0]
    ephemeris.carry([mover_of(elements)])
    maker = SkyFrameMaker(ephemeris, load_catalogue())
    name, first, second = STATION.splitlines()
    satellite = EarthSatellite(first, second, name, ephemeris.earth.timescale)
    place = wgs84.latlon(45.20, -62.30, 120.0)
    window = [ephemeris.earth.time(datetime(2008, 9, day, tzinfo=UTC)) for day in (20, 22)]
    times, kinds = satellite.find_events(place, *window, altitude_degrees=25.0)
    highest = next(time for time, kind in zip(times, kinds, strict=True) if kind == 1)
    utc = highest.utc_datetime()
    frame = maker.frame(Choices(1, LOON_BARRENS, target=mover_of(elements).target), utc)
    assert frame.track is not None
    assert len(frame.track.marks) >= 5
    minute = utc.replace(second=0, microsecond=0)
    local = minute - timedelta(hours=3)
    where = {text.partition(" ")[0]: vector for text, vector in frame.track.marks}
    vector = where[f"{local:%H:%M}"]
    altitude, azimuth, _far = (
        (satellite - place)
        .at(ephemeris.earth.time(minute))
        .altaz(temperature_C=10.0, pressure_mbar=1010.0)
    )
    assert _apart_deg(vector, seen_vectors(azimuth.degrees, altitude.degrees)) < 0.05
    assert frame.track.points[:, 2].min() > 0.0
    far = maker.frame(
        Choices(2, LOON_BARRENS, target=mover_of(elements).target), utc + timedelta(minutes=40)
    )
    assert far.track is None


def test_what_stands_among_the_stars_has_no_path_and_the_moon_has_hours(
    maker: SkyFrameMaker,
) -> None:
    assert _frame(maker, "hip:91262", NIGHT).track is None
    assert _frame(maker, "body:sun", NIGHT).track is None
    moon = _frame(maker, "body:moon", NIGHT).track
    assert moon is not None
    assert [text for text, _vector in moon.marks][:2] == ["02:00", "05:00"]
    assert 10.0 < _apart_deg(moon.points[0], moon.points[-1]) < 16.0


def test_a_path_ends_with_what_is_known_of_it(maker: SkyFrameMaker) -> None:
    """DE421 ends in 2053: a path into the unknown is not drawn."""
    late = datetime(2053, 10, 1, tzinfo=UTC)
    assert _frame(maker, "body:saturn", late).track is None


def test_a_path_ends_where_its_last_mark_stands(maker: SkyFrameMaker) -> None:
    """A planet's thirty days with their first, a mark each fifth; the Moon's twenty-four hours."""
    for key, steps, marks in (("body:saturn", 30, 6), ("body:moon", 24, 8)):
        track = _frame(maker, key, NIGHT).track
        assert track is not None
        assert len(track.points) == steps + 1
        assert len(track.marks) == marks
        for number, (_text, vector) in enumerate(track.marks, start=1):
            np.testing.assert_array_equal(vector, track.points[number * steps // marks])
        np.testing.assert_array_equal(track.marks[-1][1], track.points[-1])
