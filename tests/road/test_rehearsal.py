"""Each question has one right answer: places recomputed with astropy, words read by their own rule.

The words are read here as a person reads them: eight points of the compass, fists of ten degrees.
"""

from datetime import UTC, datetime
from functools import cache

import numpy as np
import pytest
from astropy import units
from astropy.coordinates import AltAz, EarthLocation, SkyCoord
from astropy.time import Time

from companion.arrays import FloatArray
from companion.night import Conditions
from companion.road import Question, Rehearsal, rehearse
from companion.sky import (
    DRY_PAN,
    LOON_BARRENS,
    Ephemeris,
    Site,
    load_catalogue,
    load_search,
    zone_of,
)

EVENINGS = [
    (LOON_BARRENS, datetime(2026, 10, 10, 23, 14, tzinfo=UTC)),
    (LOON_BARRENS, datetime(2026, 4, 10, 16, 0, tzinfo=UTC)),  # by day: of the coming dusk
    (DRY_PAN, datetime(2026, 1, 15, 19, 0, tzinfo=UTC)),
]
POINTS = dict(
    zip(
        ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"),
        range(0, 360, 45),
        strict=True,
    )
)
NAMED = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight")
NUMBERS = {name: n for n, name in enumerate(NAMED)}
PARTS = {"a quarter": 0.25, "a half": 0.5, "half": 0.5, "three quarter": 0.75}


@cache
def asked(at: int) -> Rehearsal:
    site, utc = EVENINGS[at]
    ephemeris = Ephemeris.load()
    try:
        return rehearse(
            ephemeris, load_catalogue(), site, utc, Conditions.at(site), count=60, seed=3
        )
    finally:
        ephemeris.close()


def place_of(name: str, site: Site, utc: datetime) -> FloatArray:
    """Altitude and azimuth of a star in degrees, without air, by astropy."""
    hit = load_search().resolve(name)
    star = SkyCoord(hit.ra_deg * units.deg, hit.dec_deg * units.deg)
    here = EarthLocation(lat=site.latitude_deg * units.deg, lon=site.longitude_deg * units.deg)
    seen = star.transform_to(AltAz(obstime=Time(utc.replace(tzinfo=None)), location=here))
    return np.array([seen.alt.deg, seen.az.deg])


def holds(words: str, place: FloatArray) -> bool:
    """Tell whether a place is where the words say: within its eighth, and a third of a fist."""
    altitude, azimuth = place
    if words == "nearly overhead":
        return bool(altitude > 75.0)
    side, _comma, high = words.removeprefix("in the ").partition(", ")
    off = abs((azimuth - POINTS[side] + 180.0) % 360.0 - 180.0)
    fists = _fists(high.removesuffix(" up"))
    return bool(off < 24.0 and abs(altitude - 10.0 * fists) < 3.5)


def _fists(words: str) -> float:
    words = words.removesuffix(" fists").removesuffix("s of a fist").removesuffix(" of a fist")
    words = words.replace("three quarters", "three quarter")
    whole, _and, part = words.partition(" and ")
    first = {"a fist": 1.0, "half a fist": 0.5}.get(whole)
    if first is None:
        first = PARTS.get(whole, float(NUMBERS.get(whole, 0)))
    return first + PARTS.get(part, 0.0)


def apart_deg(one: FloatArray, other: FloatArray) -> float:
    return float(np.degrees(np.arccos(np.clip(vector(one) @ vector(other), -1.0, 1.0))))


def vector(place: FloatArray) -> FloatArray:
    altitude, azimuth = np.radians(place)
    flat = np.cos(altitude)
    return np.array([flat * np.cos(azimuth), flat * np.sin(azimuth), np.sin(altitude)])


def questions(at: int, kind: str) -> list[Question]:
    found = [one for one in asked(at).questions if one.kind == kind]
    assert found
    return found


@pytest.mark.parametrize("at", range(len(EVENINGS)))
def test_only_one_of_the_named_stars_is_what_stands_there(at: int) -> None:
    site, utc = EVENINGS[at][0], asked(at).utc
    for one in questions(at, "which-is-this"):
        where = one.text.rpartition("brightest star ")[2].removesuffix("?")
        true = [name for name in one.choices if holds(where, place_of(name, site, utc))]
        assert true == [one.answer], one.text
        marked = np.array([one.altitude_deg, one.azimuth_deg])
        assert apart_deg(marked, place_of(one.name, site, utc)) < 0.2


@pytest.mark.parametrize("at", range(len(EVENINGS)))
def test_only_one_place_is_that_of_the_star(at: int) -> None:
    site, utc = EVENINGS[at][0], asked(at).utc
    for one in questions(at, "point-at"):
        here = place_of(one.name, site, utc)
        assert [words for words in one.choices if holds(words, here)] == [one.answer], one.text


@pytest.mark.parametrize("at", range(len(EVENINGS)))
def test_at_nine_it_stands_in_one_place_only(at: int) -> None:
    site, utc = EVENINGS[at][0], asked(at).utc
    local = utc.astimezone(zone_of(site.time_zone))
    for one in questions(at, "where-at-nine"):
        day = local.day + one.text.endswith("tomorrow?")
        nine = local.replace(day=day, hour=21, minute=0, second=0, microsecond=0)
        then = place_of(one.name, site, nine.astimezone(UTC))
        assert [words for words in one.choices if holds(words, then)] == [one.answer], one.text


@pytest.mark.parametrize("at", range(len(EVENINGS)))
def test_only_one_line_leads_there(at: int) -> None:
    """The great circle through both stars, ahead of the second, passes within 15° of the end."""
    site, utc = EVENINGS[at][0], asked(at).utc
    for one in questions(at, "which-line"):
        end = vector(np.array([one.altitude_deg, one.azimuth_deg]))
        true = []
        for line in one.choices:
            first, _through, second = line.removeprefix("from ").partition(" through ")
            a, b = (vector(place_of(name, site, utc)) for name in (first, second))
            normal = np.cross(a, b) / np.linalg.norm(np.cross(a, b))
            ahead = np.cross(normal, b) @ end > 0.0
            if ahead and abs(np.degrees(np.arcsin(normal @ end))) < 14.5:
                true.append(line)
        assert true == [one.answer], one.text
        assert len(one.line) == 2


@pytest.mark.parametrize("at", range(len(EVENINGS)))
def test_the_same_seed_asks_the_same_and_no_choice_stands_twice(at: int) -> None:
    for one in asked(at).questions:
        assert len(set(one.choices)) == 4
        assert one.answer == one.choices[one.right]
    by_day = EVENINGS[at][1]
    assert asked(at).utc >= by_day


def test_where_it_stays_light_there_is_no_question() -> None:
    ephemeris = Ephemeris.load()
    site = Site("far north", 89.0, 10.0)
    june = datetime(2027, 6, 20, 21, 0, tzinfo=UTC)
    made = rehearse(ephemeris, load_catalogue(), site, june, Conditions.at(site), count=8, seed=1)
    ephemeris.close()
    local = made.utc
    assert not made.questions or (local - june).days > 30
