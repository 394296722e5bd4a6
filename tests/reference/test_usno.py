"""Rising, transit, setting against tables of the US Naval Observatory.

The tables are those that the wheel of ``ephem`` carries for its own tests (``tests/usno``): they
give whole minutes.
"""

import re
from datetime import UTC, datetime, timedelta
from pathlib import Path

import ephem
import pytest

from companion.sky import MOON, SUN, Ephemeris, Kind, Site, Target, find_crossings

FOLDER = Path(ephem.__file__).parent / "tests" / "usno"
RIGEL = Target(
    "hip:24436", "Rigel", Kind.STAR, 78.634467, -8.201638, pm_ra_mas_per_yr=1.31, epoch_year=1991.25
)
ROW = re.compile(r"(\d{4} \w{3} \d\d) \(\w+\)(.*)")
MINUTE = timedelta(seconds=60)  # an event at 00:00 may have been a little before midnight


def rows(name: str) -> list[tuple[datetime, str]]:
    lines = (FOLDER / name).read_text().splitlines()
    found = [match for line in lines if (match := ROW.match(line))]
    return [
        (datetime.strptime(match[1], "%Y %b %d").replace(tzinfo=UTC), f"{match[0]:<110}")
        for match in found
    ]


def check(
    ephemeris: Ephemeris, target: Target, site: Site, west_h: float, table: str
) -> tuple[int, timedelta]:
    """Compare every entry; give how many and the worst difference."""
    count, worst = 0, timedelta()
    for day, line in rows(table):
        midnight = day + timedelta(hours=west_h)
        events = find_crossings(ephemeris, site, target, midnight - 2 * MINUTE)
        found = (events.rises_utc, events.transit_utc, events.sets_utc)
        for column, event in zip((25, 42, 57), found, strict=True):
            text = line[column : column + 5]
            if not re.fullmatch(r"\d\d:\d\d", text):
                continue
            hours, minutes = map(int, text.split(":"))
            expected = midnight + timedelta(hours=hours, minutes=minutes)
            assert event is not None, line
            count, worst = count + 1, max(worst, abs(event - expected))
    return count, worst


def test_rigel_rises_culminates_and_sets(ephemeris: Ephemeris) -> None:
    site = Site("Philadelphia", 40.0, -75.15)
    count, worst = check(ephemeris, RIGEL, site, 4.0, "risettran_rigel.txt")
    assert count == 60
    assert worst <= MINUTE


def test_the_moon_rises_culminates_and_sets_at_high_latitude(ephemeris: Ephemeris) -> None:
    site = Site("Fairbanks", 64.81, -147.75)
    count, worst = check(ephemeris, MOON, site, 8.0, "risettran_moon.txt")
    assert count == 39
    # At 65° north the Moon meets the horizon so flatly that 0.01° is more than a minute.
    assert worst <= 2 * MINUTE


@pytest.mark.parametrize(
    ("table", "target", "site"),
    [
        ("riset_sun.txt", SUN, Site("Atlanta", 33 + 46 / 60, -84 - 25 / 60)),
        ("riset_moon.txt", MOON, Site("Boston", 42 + 19 / 60, -71 - 5 / 60)),
    ],
)
def test_a_year_of_risings_and_settings(
    ephemeris: Ephemeris, table: str, target: Target, site: Site
) -> None:
    lines = (FOLDER / table).read_text().splitlines()
    count, worst = 0, timedelta()
    year = int(re.search(r"for (?:the )?.*?(\d{4})", "\n".join(lines[:4]))[1])  # type: ignore[index]
    for line in lines:
        if not re.match(r"\d[13579]  ", line):  # every other day, every third month
            continue
        for month in range(1, 13, 3):
            cells = line[4 + 11 * (month - 1) : 13 + 11 * (month - 1)]
            try:
                midnight = datetime(year, month, int(line[:2]), 5, tzinfo=UTC)
            except ValueError:
                continue
            events = find_crossings(ephemeris, site, target, midnight - 2 * MINUTE)
            for text, event in ((cells[:4], events.rises_utc), (cells[5:9], events.sets_utc)):
                if not text.strip().isdigit():
                    continue
                expected = midnight + timedelta(hours=int(text[:2]), minutes=int(text[2:]))
                assert event is not None
                count, worst = count + 1, max(worst, abs(event - expected))
    assert count > 110
    assert worst <= MINUTE
