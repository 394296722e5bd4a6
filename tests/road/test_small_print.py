"""Where one answer ends and the other begins: bounds of an evening, sides of north, nights."""

import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from companion.advice import AdviceError
from companion.night import Conditions, TonightRequest, find_instrument
from companion.road import (
    AIMS,
    HostRequest,
    Learned,
    next_in_the_open,
    program,
    standings,
    stop_now,
)
from companion.road.evening import Evening
from companion.road.steps import TELLERS
from companion.road.telling import Telling
from companion.sky import LOON_BARRENS, Ephemeris, Kind, Target, load_catalogue
from road.conftest import Walk

DARK = datetime(2026, 10, 11, 2, 0, tzinfo=UTC)
SPRING = datetime(2027, 4, 11, 1, 0, tzinfo=UTC)
THREE_PLANETS = datetime(2027, 2, 14, 0, 0, tzinfo=UTC)  # Jupiter, Mars, Saturn
# Light years, from memory; they agree with Hipparcos to a few in a hundred.
LIGHT_YEARS = {
    "hip:32349": 8.6, "hip:97649": 16.7, "hip:91262": 25.0, "hip:69673": 36.7, "hip:24608": 42.9,
    "hip:21421": 65.0, "hip:49669": 79.0, "hip:65474": 250.0,
}  # fmt: skip


def wanted(utc: datetime, targets: int = 6, minutes: float = 10.0) -> HostRequest:
    conditions = Conditions.at(LOON_BARRENS)
    asked = TonightRequest(
        site=LOON_BARRENS, utc=utc, instrument=find_instrument("150"), conditions=conditions
    )
    return HostRequest(asked, targets, minutes)


def evening_of(ephemeris: Ephemeris, utc: datetime) -> Evening:
    moment = ephemeris.moment(LOON_BARRENS, utc)
    return Evening(load_catalogue(), moment, Conditions.at(LOON_BARRENS))


@pytest.mark.parametrize(
    ("targets", "minutes", "axis_m"), [(1, 1.0, 0.1), (20, 120.0, 5.0), (1, 1.5, 0.15)]
)
def test_the_least_and_the_most_of_an_evening_are_taken(
    ephemeris: Ephemeris, targets: int, minutes: float, axis_m: float
) -> None:
    request = replace(wanted(DARK, targets, minutes), axis_m=axis_m)
    found = program(ephemeris, load_catalogue(), request)
    assert 1 <= len(found.stops) <= targets
    assert found.minutes == minutes


@pytest.mark.parametrize(
    ("targets", "minutes", "axis_m"),
    [(0, 10.0, None), (21, 10.0, None), (6, 0.9, None), (6, 121.0, None), (6, 10.0, 0.09),
     (6, 10.0, 5.1)],
)  # fmt: skip
def test_less_and_more_is_refused(
    ephemeris: Ephemeris, targets: int, minutes: float, axis_m: float | None
) -> None:
    request = replace(wanted(DARK, targets, minutes), axis_m=axis_m)
    with pytest.raises(AdviceError):
        program(ephemeris, load_catalogue(), request)


@pytest.mark.parametrize(
    ("azimuth_deg", "clouded_deg", "open_there"),
    [
        (20.0, (350.0,), False),  # thirty degrees, over north
        (20.0, (300.0,), True),  # eighty
        (340.0, (50.0,), False),  # seventy, the other way round
        (340.0, (60.0,), True),
        (200.0, (160.0,), False),
        (200.0, (20.0,), True),  # opposite
        (200.0, (20.0, 170.0), False),  # one of two clouds is near
    ],
)
def test_clouds_are_as_far_away_over_north_as_elsewhere(
    ephemeris: Ephemeris, azimuth_deg: float, clouded_deg: tuple[float, ...], open_there: bool
) -> None:
    ra, dec = ephemeris.moment(LOON_BARRENS, DARK).icrs_of(azimuth_deg, 45.0)
    there = Target("icrs:there", "there", Kind.PLACE, float(ra[0]), float(dec[0]))
    request, catalogue = wanted(DARK), load_catalogue()
    chosen = next_in_the_open(ephemeris, catalogue, request, (there,), clouded_deg)
    assert chosen == (there if open_there else None)


def test_what_is_named_for_clouds_is_another_target_in_another_part(ephemeris: Ephemeris) -> None:
    found = program(ephemeris, load_catalogue(), wanted(DARK))
    named = [stop for stop in found.stops if stop.if_clouds]
    assert len(named) >= 3
    assert all(stop.if_clouds != stop.target.name for stop in named)


def test_who_waits_looks_at_two_planets_at_most(ephemeris: Ephemeris) -> None:
    """Of three that are up the two brightest; after the last thing it begins anew."""
    m42, catalogue = load_catalogue().target("ngc:NGC1976"), load_catalogue()
    told = [
        stop_now(ephemeris, catalogue, wanted(THREE_PLANETS), (m42,) * 20, turn=turn, spares=()).eye
        for turn in range(20)
    ]
    seen = {name for name in ("Jupiter", "Mars", "Saturn") if any(name in one for one in told)}
    assert len({one.name for one, _place in evening_of(ephemeris, THREE_PLANETS).planets}) == 3
    assert seen == {"Jupiter", "Mars"}
    assert told[0] != told[1]
    assert told.count(told[0]) > 1


def all_before_the_third_star(group_found: datetime) -> tuple[Learned, ...]:
    """Give tries an hour ago at all that comes before it; only the group was found elsewhen."""
    keys = [aim.key for aim in AIMS]
    before = keys[: keys.index("third-star")]
    subjects = {"first-star": "hip:69673", "second-star": "hip:24608"}
    hour_ago = SPRING - timedelta(hours=1)
    others = [Learned(key, subjects.get(key, ""), hour_ago, found=True) for key in before]
    return (
        Learned("own-group", "group:dipper", group_found, found=True),
        *(one for one in others if one.aim != "own-group"),
    )


@pytest.mark.parametrize(("hours", "comes"), [(1, False), (11, False), (13, True)])
def test_a_new_figure_comes_only_on_another_night(walk: Walk, hours: int, comes: bool) -> None:
    """The third star makes a figure; the group to begin at was another, learned hours ago."""
    tries = all_before_the_third_star(SPRING - timedelta(hours=hours))
    doable = walk(LOON_BARRENS, SPRING, tries=tries).doable
    assert any(step.key == "third-star" and not step.again for step in doable) is comes


def test_a_group_that_is_known_for_long_takes_no_place_of_a_new_one(walk: Walk) -> None:
    """Found on a second night, an hour ago: nothing new was learned tonight."""
    again = Learned("own-group", "group:dipper", SPRING - timedelta(hours=1), found=True)
    tries = (*all_before_the_third_star(SPRING - timedelta(days=3)), again)
    doable = walk(LOON_BARRENS, SPRING, tries=tries).doable
    assert any(step.key == "third-star" for step in doable)


def test_only_misses_in_a_row_count() -> None:
    """What was found and then missed twice does not rest; missed three times it does."""
    when = [SPRING + timedelta(days=day) for day in range(4)]
    found = [Learned("pole", "hip:11767", when[0], found=True)]
    missed = [Learned("pole", "hip:11767", utc, found=False) for utc in when[1:]]
    (twice,) = standings([*found, *missed[:2]]).values()
    (thrice,) = standings([*found, *missed]).values()
    assert (twice.missed, twice.rests(when[3])) == (2, False)
    assert (thrice.missed, thrice.rests(when[3])) == (3, True)


def test_light_has_been_under_way_for_as_long_as_is_known(ephemeris: Ephemeris) -> None:
    told: dict[str, float] = {}
    for month in range(1, 13):
        evening = evening_of(ephemeris, datetime(2027, month, 11, 1, 30, tzinfo=UTC))
        for key in ("first-star", "second-star", "third-star"):
            found = TELLERS[key](evening)
            assert isinstance(found, Telling)
            years = re.search(r"under way for about (\d+) years", " ".join(found.sentences))
            if years and found.subject in LIGHT_YEARS:
                told[found.subject] = float(years[1])
    assert set(told) == set(LIGHT_YEARS)
    for subject, years_said in told.items():
        assert years_said == pytest.approx(LIGHT_YEARS[subject], rel=0.06), subject


def test_a_star_three_fists_from_a_brighter_one_is_the_brightest_within_two(
    ephemeris: Ephemeris,
) -> None:
    """Deneb stands 24° from Vega."""
    evening = evening_of(ephemeris, datetime(2027, 9, 11, 1, 30, tzinfo=UTC))
    found = TELLERS["third-star"](evening)
    assert isinstance(found, Telling)
    assert found.subject == "hip:102098"
    assert "brightest star within two fists" in found.sentences[0]
    assert found.sentences[1] == "Its light has been under way for many centuries."


@pytest.mark.parametrize("month", range(1, 13))
def test_the_moons_of_jupiter_are_shown_at_jupiter(ephemeris: Ephemeris, month: int) -> None:
    utc = datetime(2027, month, 11, 1, 30, tzinfo=UTC)
    found = TELLERS["jupiter-moons"](evening_of(ephemeris, utc))
    altitude_deg = ephemeris.moment(LOON_BARRENS, utc).body("jupiter").altitude_deg
    if altitude_deg < 11.5:
        assert not isinstance(found, Telling)
    if isinstance(found, Telling):
        assert found.subject == "body:jupiter"
        assert found.altitude_deg == pytest.approx(altitude_deg, abs=0.1)
