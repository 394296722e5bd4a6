"""Texts of queue, north, status line and hints."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from types import SimpleNamespace
from typing import Any

import pytest

from companion.instant import Choices, CompassZone
from companion.journal import Outcome
from companion.live import QueueItem
from companion.sky import DRY_PAN, LOON_BARRENS, TURN_DEG_PER_S
from companion.window.aim.words import progress, row_words, time_words
from companion.window.forms.prompts import clock_prompt
from companion.window.frame import status_words
from companion.window.frame.status_words import Freshness
from companion.window.night.prompts import end_prompt
from companion.window.north import words as north_words
from window.fakes import (
    ADT,
    DARK,
    NORTH,
    QUEUE,
    SATURN,
    UTC_NOW,
    VEGA,
    FakeEvening,
    aim,
    row,
    snapshot,
)

# The queue.


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, "3h10"),
        ({"time_left_s": None}, "stays up"),
        ({"time_left_s": 0.0}, "low"),
        ({"altitude_deg": -2.0, "rises_in_s": 5400.0}, "in 90 min"),
        ({"altitude_deg": -2.0}, "down"),
    ],
)
def test_time_left_in_a_row(changes: dict[str, Any], expected: str) -> None:
    assert time_words(row(0, SATURN)._replace(**changes)) == expected


def test_a_waiting_row_shows_its_figures() -> None:
    words = row_words(
        QueueItem(SATURN, Outcome.WAITING, None, ""), row(0, SATURN), ADT, frozenset(), SATURN.key
    )
    assert words.figures == ("78.0°", "171½°", "3h10", "24°")
    assert words.current
    assert not words.instead


@pytest.mark.parametrize(
    ("outcome", "expected"),
    [
        (Outcome.FOUND, "found 20:14"),
        (Outcome.NOT_SEEN, "not seen 20:14"),
        (Outcome.SKIPPED, "skipped 20:14"),
    ],
)
def test_a_row_that_is_done_says_so(outcome: Outcome, expected: str) -> None:
    item = QueueItem(VEGA, outcome, UTC_NOW, "")
    words = row_words(item, row(1, VEGA), ADT, frozenset(), None)
    assert (words.instead, words.figures) == (expected, ("", "", "", ""))


def test_a_row_near_the_sun_withholds_its_figures() -> None:
    item, facts = QueueItem(SATURN, Outcome.WAITING, None, ""), row(0, SATURN)
    near = facts._replace(sun_danger=True)
    assert row_words(item, near, ADT, frozenset(), None).instead == "too near the Sun"
    assert row_words(item, near, ADT, frozenset({SATURN.key}), None).figures[0] == "78.0°"


def test_progress() -> None:
    items = [
        QueueItem(target, outcome, None, "")
        for target, outcome in zip(
            QUEUE[:4],
            (Outcome.FOUND, Outcome.FOUND, Outcome.NOT_SEEN, Outcome.WAITING),
            strict=True,
        )
    ]
    assert progress(items) == "2 of 4 seen, 1 waiting"
    assert progress(items[:2]) == "2 of 2 seen, none waiting"
    assert progress([]) == "nothing in the queue yet"


# True north.


def test_what_the_compass_must_read() -> None:
    assert north_words.compass_north(NORTH) == "16"
    assert north_words.compass_target(NORTH, aim(), frozenset()) == "187½"
    assert north_words.compass_target(NORTH, None, frozenset()) == ""
    near = aim(sun_danger=True)
    assert north_words.compass_target(NORTH, near, frozenset()) == ""
    assert "WITHHELD" in north_words.target_caption(near, frozenset())
    assert north_words.compass_target(NORTH, near, frozenset({SATURN.key})) == "187½"


@pytest.mark.parametrize(
    ("changes", "caption", "value", "more"),
    [
        ({}, "DECLINATION", "16.2° west", "± 0.4° · WMM2025, valid to 2030.0"),
        ({"declination_deg": 3.04}, "DECLINATION", "3.0° east",
         "± 0.4° · WMM2025, valid to 2030.0"),
        ({"declination_deg": None}, "DECLINATION", "none worth using", "WMM2025, valid to 2030.0"),
        ({}, "IT CHANGES", "0.12° a year", "to the east"),
        ({"yearly_change_deg": -0.05}, "IT CHANGES", "0.05° a year", "to the west"),
        ({}, "DEVIATION OF THIS COMPASS", "not measured", "press d towards a known body"),
        ({"deviation_deg": -1.5}, "DEVIATION OF THIS COMPASS", "−1.5°", "x forgets it"),
        ({}, "POLARIS", "45.5° high", "0.4° east of true north"),
        ({"polaris_azimuth_deg": 359.3}, "POLARIS", "45.5° high", "0.7° west of true north"),
        ({}, "AS A NORTH IT IS", "12 times better", "than the compass"),
        ({"shadow_azimuth_deg": 88.2}, "SHADOW OF A PLUMB LINE", "88.2°", "never look at the Sun"),
    ],
)  # fmt: skip
def test_facts_of_north(changes: dict[str, Any], caption: str, value: str, more: str) -> None:
    made = {fact.caption: fact for fact in north_words.facts(replace(NORTH, **changes))}
    assert (made[caption].value, made[caption].more) == (value, more)


@pytest.mark.parametrize(
    ("changes", "head", "text"),
    [
        ({}, "", ""),
        ({"zone": CompassZone.BLACKOUT, "horizontal_nt": 1400.0, "declination_deg": None},
         "A compass is of no use here.", "1,400 nT"),
        ({"zone": CompassZone.CAUTION, "horizontal_nt": 4200.0},
         "Trust the compass little here.", "4,200 nT"),
        ({"expired": True}, "The magnetic model has run out.", "by Polaris"),
        ({"polaris_azimuth_deg": None, "polaris_altitude_deg": None, "polaris_gain": None},
         "Polaris is below the horizon.", "sighting a star or planet"),
        ({"polaris_altitude_deg": None, "shadow_azimuth_deg": 88.0},
         "Polaris is below the horizon.", "Never look at the Sun"),
    ],
)  # fmt: skip
def test_what_makes_north_doubtful(changes: dict[str, Any], head: str, text: str) -> None:
    notice = north_words.notice(snapshot(site=DRY_PAN, north=replace(NORTH, **changes)))
    assert notice.head == head
    assert text in notice.text


# Status line and band.


def test_how_live_the_numbers_are() -> None:
    live = snapshot(made_monotonic_s=100.0)
    assert status_words.freshness(None, 0.0) is Freshness.COMING
    assert status_words.freshness(live, 101.0) is Freshness.LIVE
    assert status_words.freshness(live, 104.0) is Freshness.STALE
    assert status_words.freshness(replace(live, preview=True), 101.0) is Freshness.PREVIEW


def test_the_status_line() -> None:
    status = status_words.status(snapshot(made_monotonic_s=100.0), 100.2)
    assert status.time == "20:14:07 ADT"
    assert (status.site, status.live) == ("Loon Barrens", "live")
    assert status.dark == "nautical twilight, dark at 20:36 · Moon rises 23:10"
    assert status.trust == "aligned on 3, within 0.3°"
    assert status_words.status(snapshot(made_monotonic_s=0.0), 42.0).live == "stopped 42 s ago"


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"moon_up": True, "moon_next": "sets"},
         "nautical twilight, dark at 20:36 · Moon 31% lit sets 23:10"),
        ({"next_phase_utc": None, "moon_next_utc": None},
         "nautical twilight · Moon stays down"),
    ],
)  # fmt: skip
def test_darkness(changes: dict[str, Any], expected: str) -> None:
    assert status_words.dark_words(snapshot(dark=replace(DARK, **changes))) == expected


def test_trust_counts_doubts() -> None:
    assert status_words.trust_words(snapshot(alignment=None)) == "true directions, no mount"
    words = status_words.trust_words(snapshot(doubts=("The clock looks wrong.",)))
    assert words == "aligned on 3, within 0.3° · 1 doubt"


def test_the_band_over_everything() -> None:
    choices = Choices(1, LOON_BARRENS)
    live = snapshot(made_monotonic_s=0.0)
    still = replace(live, preview=True)

    def band(one: Any, now_s: float, *, demo: bool = False, running: bool = False) -> str:
        since = UTC_NOW - timedelta(minutes=1) if running else None
        asked = replace(choices, preview_since_utc=since)
        return status_words.banner(one, asked, now_s, demo=demo)

    assert band(live, 1.0) == band(None, 1.0) == ""
    assert band(live, 60.0).startswith("THE NUMBERS STOPPED 60 S AGO")
    assert band(still, 1.0).startswith("PREVIEW · 10 Oct 2026, 20:14 ADT")
    assert band(still, 1.0, demo=True, running=True).startswith("DEMO EVENING")
    assert band(still, 1.0, demo=True).startswith("PREVIEW")


# The clock.


def test_the_clocks_ten_seconds_are_what_the_sky_turns_in_them() -> None:
    """The sky turns by 15.041″ a second (the sidereal rate)."""
    evening: Any = FakeEvening()
    arcmin = 10.0 * TURN_DEG_PER_S * 60.0
    assert f"Ten seconds are {arcmin:.1f}′" in clock_prompt(evening).explanation


@pytest.mark.parametrize(
    ("typed", "utc"),
    [
        ("23:30", datetime(2026, 10, 12, 2, 30, tzinfo=UTC)),  # tonight's has passed: tomorrow's
        ("1:30", datetime(2026, 10, 11, 4, 30, tzinfo=UTC)),
    ],
)
def test_an_end_lies_ahead(typed: str, utc: datetime) -> None:
    """At half past midnight, 3:30 UTC, at Loon Barrens."""

    evening: Any = FakeEvening()
    evening.clock = SimpleNamespace(now_utc=datetime(2026, 10, 11, 3, 30, tzinfo=UTC))
    end_prompt(evening).take(typed, 0)
    assert evening.night.told == [("set_end", utc)]
