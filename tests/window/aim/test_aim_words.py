from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from window.facts import READING, UTC_NOW, aim, snapshot

from companion.instant import HandlingFacts, Trend, Turn
from companion.sky import Kind, Target
from companion.window.aim import words as aim_words
from companion.window.aim.words import numbers, turns, withheld

MOON = Target("body:moon", "Moon", Kind.MOON, body="moon", constellation="Vir")
SUN = Target("body:sun", "Sun", Kind.SUN, body="sun", constellation="Vir")


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, ("41.3", "171")),
        ({"azimuth_deg": 359.9}, ("41.3", "0")),
        ({"altitude_deg": -0.04}, ("0.0", "171")),
        ({"altitude_deg": -12.34, "azimuth_deg": 187.6}, ("−12.3", "187½")),
        ({"reading": READING}, ("41.3", "187½")),
        ({"reading": replace(READING, altitude_text="41¼")}, ("41¼", "187½")),
    ],
)
def test_the_two_numbers(changes: dict[str, Any], expected: tuple[str, str]) -> None:
    assert numbers(aim(**changes)) == expected


def test_beneath_the_numbers_stand_what_is_left_over_true_and_compass() -> None:
    assert aim_words.beneath(aim()) == (
        "as seen 41.28° · without air 41.26°",
        "true 171.2° · compass 187½°",
    )
    assert aim_words.beneath(aim(reading=READING)) == (
        "as seen 41.28°",
        "a hair under · true 171.2° · compass 187½°",
    )
    assert aim_words.beneath(aim(compass_deg=None))[1] == "true 171.2°"


@pytest.mark.parametrize(
    ("turn", "expected"),
    [
        (None, ("", "", "")),
        (Turn("Vega", -96.2, -12.4, 9.6), ("12° down", "96° left", "nine and a half fists")),
        (Turn("Vega", 4.0, 0.25, 0.4), ("15′ up", "4.0° right", "half a fist")),
    ],
)
def test_the_way_to_turn(turn: Turn | None, expected: tuple[str, str, str]) -> None:
    assert turns(aim(turn=turn)) == expected


@pytest.mark.parametrize(
    ("changes", "value", "more"),
    [
        ({}, "3h10", "10° up at 23:24"),
        ({"sinks_utc": None}, "5h00", "sets at 01:14"),
        ({"sinks_utc": None, "sets_utc": None, "never": "never sets here"}, "unlimited",
         "never sets here"),
        ({"sinks_utc": None, "sets_utc": None}, "long", ""),
        ({"altitude_deg": -3.0}, "", ""),
    ],
)  # fmt: skip
def test_time_left(changes: dict[str, Any], value: str, more: str) -> None:
    fact = aim_words.left_fact(aim(**changes), UTC_NOW, 10.0, snapshot().local)
    assert (fact.value, fact.more) == (value, more)


@pytest.mark.parametrize(
    ("changes", "caption", "value", "more"),
    [
        ({}, "NOW", "rising", "highest at 20:54"),
        ({"trend": Trend.SETTING}, "NOW", "setting", ""),
        ({"trend": Trend.BELOW}, "NOW", "", ""),
        ({"trend": Trend.TRANSIT}, "NOW", "near its highest", ""),
        ({}, "MOON", "64° away", "down"),
        ({"moon_distance_deg": None}, "MOON", "", "down"),
        ({}, "PER MINUTE", "0.24° right", "0.03° up"),
        ({"azimuth_rate_arcsec_per_s": -600.0, "altitude_rate_arcsec_per_s": -9.0},
         "PER MINUTE", "10.00° left", "0.15° down"),
    ],
)  # fmt: skip
def test_quieter_facts(changes: dict[str, Any], caption: str, value: str, more: str) -> None:
    made = {f.caption: f for f in aim_words.facts(snapshot(), aim(**changes), 10.0)}
    assert (made[caption].value, made[caption].more) == (value, more)


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, "planet in Pisces · mag 0.9 · 18″ · rings tilted 7°"),
        ({"magnitude": None, "size": "", "detail": ""}, "planet in Pisces"),
        ({"constellation": "", "magnitude": -1.46, "size": "", "detail": ""}, "planet · mag −1.5"),
    ],
)
def test_description(changes: dict[str, Any], expected: str) -> None:
    assert aim_words.description(aim(**changes)) == expected


def test_numbers_near_the_sun_are_withheld_for_every_target_but_the_uncovered() -> None:
    near = aim(sun_danger=True, sun_distance_deg=12.3)
    assert withheld(near, frozenset())
    assert withheld(near, frozenset({"hip:1"}))
    assert not withheld(near, frozenset({near.target.key}))
    assert not withheld(aim(), frozenset())


def test_the_caution_near_the_sun_says_what_can_happen_and_what_to_do() -> None:
    near = aim(sun_danger=True, sun_distance_deg=12.3)
    notice = aim_words.notice(snapshot(), near, frozenset())
    assert notice.caution
    assert notice.head == "The numbers are withheld."
    for part in ("12° from Saturn", "blinds", "wait until the Sun has set", "u twice"):
        assert part in notice.text
    asked = aim_words.notice(snapshot(), near, frozenset(), asked=True)
    assert "once more" in asked.text
    open_ = aim_words.notice(snapshot(), near, frozenset({near.target.key}))
    assert open_.caution
    assert "blinds" in open_.text


def test_the_sun_itself_asks_for_its_filter() -> None:
    notice = aim_words.notice(
        snapshot(), aim(target=SUN, sun_danger=True, sun_distance_deg=None), frozenset()
    )
    assert notice.caution
    assert "filter" in notice.text


@pytest.mark.parametrize(
    ("changes", "head", "text"),
    [
        ({"rises_utc": UTC_NOW + timedelta(hours=3)}, "Below the horizon until 23:14.",
         "It comes up in 3h00."),
        ({"never": "never rises here"}, "Below the horizon.", "Saturn never rises here."),
        ({}, "Below the horizon.", "does not come up within a day"),
    ],
)  # fmt: skip
def test_below_the_horizon(changes: dict[str, Any], head: str, text: str) -> None:
    notice = aim_words.notice(snapshot(), aim(altitude_deg=-3.0, **changes), frozenset())
    assert notice.head == head
    assert text in notice.text
    assert not notice.caution


def test_the_lead_says_for_when_the_numbers_are() -> None:
    local = snapshot().local
    assert aim_words.advice(aim(), local) == ""
    assert aim_words.advice(aim(lead_s=30.0), local) == "for 20:14:37, in 30 s"
    both = aim_words.advice(aim(lead_s=30.0, reading=READING), local)
    assert both == "for 20:14:37, in 30 s · 95% within 0.4°: finder first"


def test_nothing_to_say_about_a_plain_target() -> None:
    assert aim_words.notice(snapshot(), aim(), frozenset()) == aim_words.NOTHING


@pytest.mark.parametrize(
    ("phase", "changes", "drowned"),
    [
        ("day", {}, True),
        ("civil twilight", {}, False),
        ("day", {"magnitude": -4.1}, False),
        ("day", {"target": MOON}, False),
        ("day", {"magnitude": None}, True),
    ],
)
def test_daylight_drowns_all_but_the_brightest(
    phase: str, changes: dict[str, Any], drowned: bool
) -> None:
    facts = aim(**changes)
    assert aim_words.drowned_by_day(phase, facts) is drowned


def test_the_eyepiece_s_height_is_told_where_it_is_known() -> None:
    known = aim(handling=HandlingFacts(eyepiece_height_m=1.62))
    assert aim_words.height_fact(known).value == "1.6 m"
    assert aim_words.height_fact(aim()).value == ""


def test_by_day_a_target_says_first_that_it_does_not_show() -> None:
    dark = replace(snapshot().dark, phase="day", next_phase_utc=UTC_NOW + timedelta(hours=2))
    by_day = snapshot(aim=aim(), dark=dark)
    said = aim_words.notice(by_day, aim(), frozenset())
    assert said.head == "Not to be seen: it is day."
    assert "The Sun sets at 22:14." in said.text
    left = aim_words.facts(by_day, aim(), 10.0)[0]
    assert (left.value, left.more) == ("", "not by day")
    forever = replace(by_day, dark=replace(dark, next_phase_utc=None))
    assert "does not set today" in aim_words.notice(forever, aim(), frozenset()).text
