"""Twilight and Moon of a night against astropy and tables of the US Naval Observatory.

Twilights end with the Sun's centre 6°, 12°, 18° below the horizon (USNO definitions): astropy's
Sun must stand there at the times given. Rising and setting are those of the tables that the
wheel of ``ephem`` carries for its own tests (``tests/usno``), in whole minutes.
"""

import re
from datetime import UTC, datetime, timedelta
from pathlib import Path

import ephem
import pytest
from astropy import units
from astropy.coordinates import AltAz, EarthLocation, get_sun
from astropy.time import Time
from astropy.utils import iers

from companion.night.hours.darkness import darkness
from companion.night.hours.grid import night_grid
from companion.sky import DRY_PAN, LOON_BARRENS, Ephemeris, Site

FOLDER = Path(ephem.__file__).parent / "tests" / "usno"
MINUTE = timedelta(seconds=60)


def sun_altitude_deg(site: Site, utc: datetime) -> float:
    iers.conf.auto_download, iers.conf.auto_max_age = False, None
    place = EarthLocation.from_geodetic(site.longitude_deg, site.latitude_deg, site.elevation_m)
    when = Time(utc)
    return float(
        get_sun(when).transform_to(AltAz(obstime=when, location=place)).alt.to_value(units.deg)
    )


@pytest.mark.parametrize("month", [3, 6, 10, 12])
@pytest.mark.parametrize("site", [LOON_BARRENS, DRY_PAN, Site("Quito", -0.2, -78.5)])
def test_twilights_end_where_astropy_has_the_sun(
    ephemeris: Ephemeris, site: Site, month: int
) -> None:
    night = darkness(night_grid(ephemeris, site, datetime(2025, month, 20, 23, tzinfo=UTC)))
    for twilight, limit in ((night.civil, -6.0), (night.nautical, -12.0), (night.dark, -18.0)):
        for utc in (twilight.begins_utc, twilight.ends_utc):
            assert utc is not None
            # 0.02° are five seconds where the Sun sinks steeply.
            assert sun_altitude_deg(site, utc) == pytest.approx(limit, abs=0.02)


def rise_and_set(name: str) -> list[tuple[datetime, datetime | None, datetime | None]]:
    """Read a year's table: day, rise, set, as Eastern Standard Time written in UTC."""
    lines = (FOLDER / name).read_text().splitlines()
    year = int(re.search(r"for (?:the )?.*?(\d{4})", "\n".join(lines[:4]))[1])  # type: ignore[index]
    found = []
    for line in lines:
        if not re.match(r"\d\d  ", line):
            continue
        for month in range(1, 13):
            cells = line[4 + 11 * (month - 1) : 13 + 11 * (month - 1)]
            try:
                day = datetime(year, month, int(line[:2]), 5, tzinfo=UTC)
            except ValueError:
                continue
            events = [
                day + timedelta(hours=int(text[:2]), minutes=int(text[2:]))
                if text.strip()
                else None
                for text in (cells[:4], cells[5:9])
            ]
            found.append((day, events[0], events[1]))
    return sorted(found, key=lambda entry: entry[0])


def test_sunset_and_sunrise_of_a_year(ephemeris: Ephemeris) -> None:
    site = Site("Atlanta", 33 + 46 / 60, -84 - 25 / 60)
    table = rise_and_set("riset_sun.txt")
    for index in range(0, len(table) - 1, 23):
        sunset, sunrise = table[index][2], table[index + 1][1]
        assert sunset is not None
        assert sunrise is not None
        night = darkness(night_grid(ephemeris, site, sunset))
        assert night.sun_down.begins_utc is not None
        assert night.sun_down.ends_utc is not None
        assert abs(night.sun_down.begins_utc - sunset) <= MINUTE
        assert abs(night.sun_down.ends_utc - sunrise) <= MINUTE


def test_moonrise_and_moonset_of_a_year(ephemeris: Ephemeris) -> None:
    site = Site("Boston", 42 + 19 / 60, -71 - 5 / 60)
    rises = [rise for _day, rise, _set in rise_and_set("riset_moon.txt") if rise]
    sets = [sets for _day, _rise, sets in rise_and_set("riset_moon.txt") if sets]
    compared = 0
    for days in range(3, 360, 17):
        grid = night_grid(
            ephemeris, site, datetime(1984, 1, 1, 4, tzinfo=UTC) + timedelta(days=days)
        )
        night = darkness(grid)
        for found, table in ((night.moonrise_utc, rises), (night.moonset_utc, sets)):
            if found is not None:
                # The mean semidiameter stands for the true one, and steps are cubic: a minute more.
                assert min(abs(found - event) for event in table) <= 2 * MINUTE
                compared += 1
    assert compared > 35


def test_the_moon_is_lit_as_its_phases_say(ephemeris: Ephemeris) -> None:
    lines = (FOLDER / "moon_phases.txt").read_text().splitlines()
    expected = (0.0, 0.5, 1.0, 0.5)
    checked = 0
    year = int(re.search(r"\d{4}", lines[0])[0])  # type: ignore[index]
    for line in lines:
        for column, lit in enumerate(expected):
            cell = line[2 + 16 * column : 18 + 16 * column]
            match = re.search(r"(\w{3}) +(\d+) +(\d+) +(\d+)", cell)
            if not match:
                continue
            when = datetime.strptime(f"{year} {match[1]} {match[2]}", "%Y %b %d").replace(
                hour=int(match[3]), minute=int(match[4]), tzinfo=UTC
            )
            look = ephemeris.moment(Site("Greenwich", 51.5, 0.0), when).body("moon")
            assert look.lit_fraction == pytest.approx(lit, abs=0.012)
            checked += 1
    assert checked > 40
