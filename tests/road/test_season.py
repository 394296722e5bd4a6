"""When something stands well again: the simple formulae against full ones, and the moments given.

Sun, Moon and planets are compared with astropy's own (ERFA and its built-in ephemeris), which
shares nothing with the program.
"""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from astropy.coordinates import GeocentricMeanEcliptic, GeocentricTrueEcliptic, get_body
from astropy.time import Time

from companion.road import season
from companion.road.season import Season
from companion.sky import (
    DRY_PAN,
    LOON_BARRENS,
    Ephemeris,
    Site,
    TargetTable,
    load_catalogue,
)

DAYS = np.linspace(0.0, 27.0 * 365.25, 1201)  # 2000 to 2026: later leap seconds nobody knows
NORTH = Site("north", 62.0, 25.0, 100.0, "Europe/Helsinki")
SITES = (LOON_BARRENS, DRY_PAN, NORTH)
BEGUN = tuple(datetime(2026, month, 12, 17, 30, tzinfo=UTC) for month in (1, 4, 7, 10))


def times() -> Time:
    return Time(2451545.0 + DAYS, format="jd", scale="tt")


def off_deg(found_deg: np.ndarray, true_deg: np.ndarray) -> float:
    """Give the greatest distance between angles."""
    return float(np.abs((found_deg - true_deg + 180.0) % 360.0 - 180.0).max())


def test_the_sun_is_where_it_is_to_a_fiftieth_of_a_degree() -> None:
    true = get_body("sun", times()).transform_to(GeocentricTrueEcliptic(equinox=times()))
    assert off_deg(season._sun_longitude_deg(DAYS), true.lon.deg) < 0.02


def test_the_moon_is_where_it_is_to_a_degree() -> None:
    true = get_body("moon", times()).transform_to(GeocentricTrueEcliptic(equinox=times()))
    longitude, latitude = season._moon_deg(DAYS)
    assert off_deg(longitude, true.lon.deg) < 1.0
    assert off_deg(latitude, true.lat.deg) < 1.0


@pytest.mark.parametrize(
    ("body", "within_deg"), [("venus", 0.25), ("mars", 0.35), ("jupiter", 0.25), ("saturn", 0.25)]
)
def test_planets_are_where_they_are_to_a_third_of_a_degree(body: str, within_deg: float) -> None:
    true = get_body(body, times()).transform_to(GeocentricMeanEcliptic(equinox="J2000"))
    longitude, _latitude = season._planet_deg(body, DAYS)
    assert off_deg(longitude, true.lon.deg) < within_deg


def body_altitude_deg(ephemeris: Ephemeris, site: Site, utc: datetime, body: str) -> float:
    target = load_catalogue().target(f"body:{body}")
    moment = ephemeris.moment(site, utc)
    return float(moment.horizontal(TargetTable.of((target,), utc)).altitude_deg[0])


@pytest.mark.parametrize("site", SITES, ids=lambda site: site.name)
@pytest.mark.parametrize("begun", BEGUN, ids=lambda utc: f"{utc:%B}")
def test_a_moment_that_is_given_holds_what_it_promises(
    ephemeris: Ephemeris, site: Site, begun: datetime
) -> None:
    told = Season(site, begun)

    def high(utc: datetime, body: str) -> float:
        return body_altitude_deg(ephemeris, site, utc, body)

    promises: tuple[tuple[datetime | None, Callable[[datetime], bool]], ...] = (
        (told.when_dark(), lambda at: high(at, "sun") < -8.9),
        (told.when_dark(-15.0), lambda at: high(at, "sun") < -14.9),
        (told.when_moon(), lambda at: high(at, "moon") > 10.0 and high(at, "sun") < -3.9),
        (told.when_moonless(), lambda at: high(at, "moon") < 0.0 and high(at, "sun") < -14.9),
        (told.when_sunset(), lambda at: -0.6 < high(at, "sun") < 10.1),
        (told.when_planet("jupiter"), lambda at: high(at, "jupiter") > 18.0),
        (told.when_planet("saturn"), lambda at: high(at, "saturn") > 16.0),
    )
    for at, holds in promises:
        if at is not None:
            assert begun <= at < begun + timedelta(days=401)
            assert holds(at)


def test_what_is_given_is_the_first_evening(ephemeris: Ephemeris) -> None:
    """Night after night is looked through by the full ephemeris, half hour by half hour."""
    begun = datetime(2026, 10, 12, 17, 30, tzinfo=UTC)
    given = Season(LOON_BARRENS, begun).when_moon()
    assert given is not None
    steps = range(0, int((given - begun).total_seconds()) - 1800, 1800)
    before = [begun + timedelta(seconds=step) for step in steps]
    before = [at for at in before if at.hour in range(21, 24) or at.hour in range(5)]  # 18 to 1 h
    when = Time(before)
    moon, sun = (
        get_body(body, when).transform_to(GeocentricTrueEcliptic(equinox=when)).lon.deg
        for body in ("moon", "sun")
    )
    for at, ahead in zip(before, (moon - sun) % 360.0, strict=True):
        if 31.5 < ahead < 198.5 and body_altitude_deg(ephemeris, LOON_BARRENS, at, "sun") < -4.5:
            assert body_altitude_deg(ephemeris, LOON_BARRENS, at, "moon") <= 13.5, at


def test_before_sunset_means_the_sun_goes_down_within_two_hours(ephemeris: Ephemeris) -> None:
    for site in (LOON_BARRENS, DRY_PAN):
        at = Season(site, BEGUN[1]).when_sunset()
        assert at is not None
        assert body_altitude_deg(ephemeris, site, at, "sun") > 0.0
        assert body_altitude_deg(ephemeris, site, at + timedelta(hours=2), "sun") < -0.5
        assert body_altitude_deg(ephemeris, site, at - timedelta(hours=1), "sun") > 5.0
