"""The night in steps against the exact sky at those steps, and which night a moment means."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from companion.night.hours.darkness import darkness
from companion.night.hours.grid import NightGrid, interpolated, night_grid, solar_midnight
from companion.night.hours.turning import Turning
from companion.sky import (
    DRY_PAN,
    LOON_BARRENS,
    Ephemeris,
    Site,
    TargetTable,
    horizontal_separation_deg,
    load_catalogue,
)

TROMSOE = Site("Tromsø", 69.65, 18.96, 10.0, "Europe/Oslo")
JUNE = datetime(2026, 6, 21, 12, tzinfo=UTC)
DECEMBER = datetime(2026, 12, 21, 12, tzinfo=UTC)


@pytest.mark.parametrize("site", [LOON_BARRENS, DRY_PAN, TROMSOE])
def test_bodies_stand_where_the_ephemeris_has_them(ephemeris: Ephemeris, site: Site) -> None:
    grid = night_grid(ephemeris, site, datetime(2026, 11, 20, 22, tzinfo=UTC))
    for step in range(0, len(grid.offsets_s), 41):
        moment = ephemeris.moment(site, grid.utc(grid.offsets_s[step]))
        for name, track in grid.tracks.items():
            look = moment.body(name)
            off_deg = horizontal_separation_deg(
                look.azimuth_deg,
                look.altitude_airless_deg,
                track.azimuth_deg[step],
                track.altitude_airless_deg[step],
            )
            assert float(off_deg) < 1.0 / 60.0, name


def test_stars_stand_where_the_ephemeris_has_them(ephemeris: Ephemeris, autumn: NightGrid) -> None:
    stars = load_catalogue().bright_stars(2.5)
    table = TargetTable.of(stars, autumn.middle_utc)
    middle = ephemeris.moment(autumn.site, autumn.middle_utc).horizontal(table)
    turning = Turning.of(autumn.site.latitude_deg, middle.azimuth_deg, middle.altitude_airless_deg)
    steps = autumn.offsets_s[::48]
    altitude, azimuth = turning.altitude_deg(steps), turning.azimuth_deg(steps)
    for row, offset_s in enumerate(steps):
        exact = ephemeris.moment(autumn.site, autumn.utc(offset_s)).horizontal(table)
        up = exact.altitude_deg > 5.0
        off_deg = horizontal_separation_deg(
            exact.azimuth_deg[up], exact.altitude_deg[up], azimuth[row, up], altitude[row, up]
        )
        # Standard air instead of the site's own costs most of it, 15″ at 5°.
        assert off_deg.max() < 20.0 / 3600.0


def test_a_transit_is_the_highest_place(autumn: NightGrid) -> None:
    turning = Turning.of(45.2, np.array([90.0, 200.0, 10.0]), np.array([10.0, 50.0, 60.0]))
    at = turning.transit_offset_s()
    around = np.stack([turning.sine_of_altitude(at + d).diagonal() for d in (-600.0, 0.0, 600.0)])
    assert np.all(around[1] > around[0])
    assert np.all(around[1] > around[2])


def test_directions_turn_back_to_where_they_were_taken() -> None:
    azimuth, altitude = np.array([10.0, 123.0, 359.0]), np.array([5.0, 60.0, 30.0])
    later = Turning.of(-32.4, azimuth, altitude, 3600.0)
    assert later.azimuth_deg(np.array([3600.0]))[0] == pytest.approx(azimuth)
    sine = later.sine_of_altitude(np.array([3600.0]))[0]
    assert np.degrees(np.arcsin(sine)) == pytest.approx(altitude)


def test_a_cubic_is_interpolated_exactly() -> None:
    knots = np.arange(0.0, 8.0)
    at = np.linspace(0.0, 7.0, 50)
    values = np.stack([knots**3 - 2.0 * knots, knots], axis=1)
    found = interpolated(knots, values, at)
    assert found == pytest.approx(np.stack([at**3 - 2.0 * at, at], axis=1))


def test_a_morning_belongs_to_the_night_before_and_an_afternoon_to_the_coming() -> None:
    site = Site("Greenwich", 51.5, 0.0)
    morning, afternoon = datetime(2026, 3, 5, 9, tzinfo=UTC), datetime(2026, 3, 5, 15, tzinfo=UTC)
    assert solar_midnight(site, morning) == datetime(2026, 3, 5, tzinfo=UTC)
    assert solar_midnight(site, afternoon) == datetime(2026, 3, 6, tzinfo=UTC)


def test_by_day_the_coming_night_is_meant(ephemeris: Ephemeris) -> None:
    site = Site("Greenwich", 51.5, 0.0)
    nine = datetime(2026, 3, 5, 9, tzinfo=UTC)
    assert night_grid(ephemeris, site, nine).middle_utc.day == 6
    assert night_grid(ephemeris, site, nine, coming=False).middle_utc.day == 5
    five = datetime(2026, 3, 5, 5, tzinfo=UTC)
    assert night_grid(ephemeris, site, five).middle_utc.day == 5


def test_the_night_has_its_times_in_order(autumn: NightGrid) -> None:
    night = darkness(autumn)
    begins = [t.begins_utc for t in (night.sun_down, night.civil, night.nautical, night.dark)]
    ends = [t.ends_utc for t in (night.dark, night.nautical, night.civil, night.sun_down)]
    times = [*begins, *ends]
    assert None not in times
    assert times == sorted(times)  # type: ignore[type-var]  # none of them is None
    assert night.words == ""
    assert night.moon_lit_fraction < 0.02


def test_a_part_of_the_night_is_cut_out(autumn: NightGrid) -> None:
    first = autumn.middle_utc - timedelta(hours=1)
    inside = autumn.steps_between(first, autumn.middle_utc)
    assert inside.sum() == 13
    assert autumn.steps_between(None, None).sum() == autumn.night.sum()


def test_polar_day_and_night_are_said_in_words(ephemeris: Ephemeris) -> None:
    day = night_grid(ephemeris, TROMSOE, JUNE)
    night = night_grid(ephemeris, TROMSOE, DECEMBER)
    assert "does not set" in darkness(day).words
    assert "does not rise" in darkness(night).words
    assert day.night.all()  # there is nothing darker to choose from
    assert night.night.all()
    assert darkness(night).dark.begins_utc is not None
    assert darkness(day).dark.begins_utc is None


def test_a_night_that_never_gets_dark_says_so(ephemeris: Ephemeris) -> None:
    grid = night_grid(ephemeris, Site("Edinburgh", 55.95, -3.19), JUNE)
    assert "twilight lasts all night" in darkness(grid).words
    assert darkness(grid).moonless == ()


def test_the_pole_has_nights_too(ephemeris: Ephemeris) -> None:
    for latitude in (90.0, -90.0):
        grid = night_grid(ephemeris, Site("pole", latitude, 0.0), JUNE)
        assert np.isfinite(grid.sun.altitude_deg).all()
        assert darkness(grid).words
