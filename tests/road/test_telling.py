"""What steps say, looked at with plain arithmetic on the catalogue's own places."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from companion.night import Conditions
from companion.road import Learned
from companion.road.evening import Evening
from companion.road.steps import TELLERS
from companion.road.telling import Telling, Waiting
from companion.sky import (
    LOON_BARRENS,
    PLANETS,
    Ephemeris,
    Site,
    clock_text,
    load_catalogue,
    zone_of,
)
from road.conftest import Walk

SPRING = datetime(2027, 4, 11, 1, 0, tzinfo=UTC)
DATES = [datetime(2027, month, 11, 1, 30, tzinfo=UTC) for month in range(1, 13)]


def evening_of(ephemeris: Ephemeris, utc: datetime, site: Site = LOON_BARRENS) -> Evening:
    return Evening(load_catalogue(), ephemeris.moment(site, utc), Conditions.at(site))


def told(ephemeris: Ephemeris, key: str, utc: datetime, site: Site = LOON_BARRENS) -> Telling:
    found = TELLERS[key](evening_of(ephemeris, utc, site))
    assert isinstance(found, Telling)
    return found


def test_tomorrow_it_is_there_four_minutes_earlier(ephemeris: Ephemeris) -> None:
    """A sidereal day is 3 min 56 s shorter than a mean one."""
    found = told(ephemeris, "earlier", SPRING)
    then = (SPRING - timedelta(minutes=4)).astimezone(zone_of(LOON_BARRENS.time_zone))
    assert f"tomorrow at {clock_text(then)}, four minutes earlier" in found.sentences[1]
    star = load_catalogue().target(found.subject)
    assert star.ra_deg is not None
    tomorrow = told(ephemeris, "earlier", SPRING + timedelta(days=1, minutes=-4))
    assert tomorrow.subject == found.subject
    assert tomorrow.azimuth_deg == pytest.approx(found.azimuth_deg, abs=0.1)


def test_what_is_called_the_brightest_within_two_fists_is_that(ephemeris: Ephemeris) -> None:
    said = sum(_said_and_true(ephemeris, utc) for utc in DATES)
    assert said >= 7


def _said_and_true(ephemeris: Ephemeris, utc: datetime) -> int:
    """Give how many steps of an evening say so; each has to be true."""
    stars = load_catalogue().stars
    moment = ephemeris.moment(LOON_BARRENS, utc)
    said = 0
    for key in ("first-star", "second-star", "third-star"):
        found = TELLERS[key](evening_of(ephemeris, utc))
        if isinstance(found, Waiting) or "brightest star within two fists" not in str(found):
            continue
        said += 1
        hip = int(found.subject.removeprefix("hip:"))
        row = int(np.flatnonzero(stars.hip == hip)[0])
        vector = _unit(float(stars.ra_deg[row]), float(stars.dec_deg[row]))
        bright = np.flatnonzero(stars.magnitude < stars.magnitude[row])
        others = _unit(stars.ra_deg[bright], stars.dec_deg[bright])
        near = np.degrees(np.arccos(np.clip(others @ vector, -1.0, 1.0)))
        assert near.size == 0 or near.min() > 19.8
        for planet in PLANETS:
            look = moment.body(planet.body)
            brighter = look.magnitude is not None and look.magnitude < stars.magnitude[row]
            if brighter and look.altitude_deg > 10.0:
                away = np.degrees(np.arccos(_unit(look.ra_deg, look.dec_deg) @ vector))
                assert away > 19.8
    return said


def _unit(ra_deg: float | np.ndarray, dec_deg: float | np.ndarray) -> np.ndarray:
    ra, dec = np.radians(ra_deg), np.radians(dec_deg)
    return np.stack([np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)], axis=-1)


def test_directions_name_a_bright_star_and_where_it_stands(ephemeris: Ephemeris) -> None:
    found = told(ephemeris, "directions", SPRING)
    assert any(" stands in the " in one and "there is " in one for one in found.sentences)


@pytest.mark.parametrize(("latitude_deg", "shown"), [(15.0, True), (11.0, True), (5.0, False)])
def test_the_pole_is_looked_for_where_it_stands_over_ten_degrees(
    ephemeris: Ephemeris, latitude_deg: float, shown: bool
) -> None:
    site = Site("tropics", latitude_deg, -62.3)
    found = TELLERS["pole"](evening_of(ephemeris, SPRING + timedelta(hours=1), site))
    assert isinstance(found, Telling) is shown


def test_a_new_figure_comes_on_another_night(walk: Walk) -> None:
    learned = (Learned("own-group", "group:dipper", SPRING - timedelta(hours=1), found=True),)
    same = walk(LOON_BARRENS, SPRING, tries=learned)
    assert not any(step.is_figure for step in same.doable)
    later = walk(LOON_BARRENS, SPRING + timedelta(days=2), tries=learned)
    assert any(step.is_figure and not step.again for step in later.doable) or all(
        not step.is_figure or step.waits or step.again for step in later.steps
    )
