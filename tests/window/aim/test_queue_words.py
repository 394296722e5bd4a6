"""Texts of the queue."""

from typing import Any

import pytest
from window.facts import ADT, QUEUE, SATURN, UTC_NOW, VEGA, row

from companion.journal import Outcome
from companion.live import QueueItem
from companion.window.aim.words import progress, row_words, time_words


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
    assert progress(items) == "2 of 4 seen · 1 waiting"
    assert progress(items[:2]) == "2 of 2 seen · none waiting"
    assert progress([]) == "nothing in the queue yet"
