"""What keys and new facts do to the window."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from time import monotonic
from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from companion.journal import Fault, Left, Outcome
from companion.live import Severity, SortBy
from companion.sky import Match
from companion.window import RedApplication, Screen
from companion.window.aim.panel import AimPanel
from companion.window.forms.find_sheet import FindSheet
from companion.window.forms.prompt_sheet import PromptSheet
from companion.window.frame.status_words import Freshness
from companion.window.north.panel import NorthPanel
from window.conftest import Windows
from window.fakes import (
    NORTH,
    QUEUE,
    READING,
    SATURN,
    UTC_NOW,
    VEGA,
    FakeEvening,
    FakeHit,
    aim,
    snapshot,
)
from window.hands import aim_of, press, told


@pytest.mark.parametrize(
    ("key", "call"),
    [
        (" ", ("mark", Outcome.FOUND)),
        ("n", ("mark", Outcome.NOT_SEEN)),
        ("k", ("mark", Outcome.SKIPPED)),
        ("l", ("later",)),
        ("z", ("undo",)),
        ("Z", ("redo",)),
        ("Down", ("choose", VEGA.key)),
        ("PageDown", ("choose", QUEUE[10].key)),
        ("End", ("choose", QUEUE[-1].key)),
        ("Alt+Down", ("move", SATURN.key, 1)),
        ("Shift+Up", ("move", SATURN.key, -1)),
        ("Delete", ("remove", SATURN.key)),
        ("o", ("sort", SortBy.TIME_LEFT)),
        ("r", ("set_fast", True)),
        ("T", ("set_preview", None)),
    ],
)
def test_one_key_for_every_action(make_window: Windows, key: str, call: tuple[Any, ...]) -> None:
    evening = FakeEvening()
    press(make_window(evening), key)
    assert evening.told == [call]


def test_the_order_goes_round(make_window: Windows) -> None:
    evening = FakeEvening()
    press(make_window(evening), "o", "o", "o", "o")
    assert [by for _sort, by in evening.told] == [*SortBy, SortBy.TIME_LEFT]


def test_search_is_live_and_enter_takes(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "/", "veg")
    sheet = window.sheets.up
    assert isinstance(sheet, FindSheet)
    assert [words.name for words in sheet.list.words] == ["Vega"]
    assert sheet.list.words[0].about == "star in Lyra · mag 0.0"
    press(window, "Enter")
    assert evening.told == [("add", VEGA, True)]
    assert window.sheets.up is None
    press(window, " ")
    assert evening.told[-1] == ("mark", Outcome.FOUND)


def test_shift_enter_puts_a_find_at_the_end(make_window: Windows) -> None:
    evening = FakeEvening()
    press(make_window(evening), "/", "m 3", "Shift+Enter")
    assert told(evening, "add") == [("add", QUEUE[2], False)]


def test_what_is_typed_into_a_field_is_no_key(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "/", "q n k 7?")
    assert evening.told == []
    assert window.sheets.up is not None
    assert window.sheets.up.field.text() == "q n k 7?"
    press(window, "Esc")
    assert window.sheets.up is None


def test_a_guess_is_shown_as_one_and_enter_does_not_take_it(
    make_window: Windows, monkeypatch: pytest.MonkeyPatch
) -> None:
    evening = FakeEvening()
    guess = FakeHit(VEGA, 1.0, Match.LIKE, "Vega", at_once=False)
    monkeypatch.setattr(evening, "find", lambda _text, answer: answer([guess]))
    window = make_window(evening)
    press(window, "/", "vgea", "Enter")
    sheet = window.sheets.up
    assert isinstance(sheet, FindSheet)
    assert evening.told == []
    assert sheet.list.words[0].below.startswith("a guess, spelled like Vega")
    assert "Nothing is called “vgea”" in sheet.explanation.text
    assert "Choose one" in sheet.error.text
    press(window, "Down", "Enter")
    assert evening.told == [("add", VEGA, True)]


@pytest.mark.parametrize(("sure", "told"), [(True, [("add", VEGA, True)]), (False, [])])
def test_enter_before_the_answer_waits_for_it(
    make_window: Windows, monkeypatch: pytest.MonkeyPatch, *, sure: bool, told: list[Any]
) -> None:
    evening = FakeEvening()
    answers: list[Any] = []
    monkeypatch.setattr(evening, "find", lambda _text, answer: answers.append(answer))
    window = make_window(evening)
    press(window, "/", "v", "e")
    answers[1]([FakeHit(SATURN, 1.0, Match.EXACT, "Saturn")])
    press(window, "g", "Enter")  # what is shown answers to "ve", not to "veg"
    assert evening.told == []
    answers[2]([FakeHit(VEGA, 1.0, Match.BEGINS, "Vega", at_once=sure)])
    assert evening.told == told


def test_nothing_found_says_what_may_be_typed(make_window: Windows) -> None:
    window = make_window()
    press(window, "/", 'x"y')
    assert window.sheets.up is not None
    assert "Nothing is called" in window.sheets.up.explanation.text
    assert "M 31" in window.sheets.up.explanation.text


def test_a_stale_answer_is_dropped(make_window: Windows, monkeypatch: pytest.MonkeyPatch) -> None:
    evening = FakeEvening()
    answers: list[Any] = []
    monkeypatch.setattr(evening, "find", lambda _text, answer: answers.append(answer))
    window = make_window(evening)
    press(window, "/", "v", "e")
    sheet = window.sheets.up
    assert isinstance(sheet, FindSheet)
    answers[0]([FakeHit(VEGA, 1.0, Match.EXACT, "Vega")])
    assert sheet.list.words == ()
    answers[1]([FakeHit(VEGA, 1.0, Match.EXACT, "Vega")])
    assert len(sheet.list.words) == 1


def test_ten_megabytes_pasted_into_the_search_are_cut(make_window: Windows) -> None:
    window = make_window()
    press(window, "/")
    assert window.sheets.up is not None
    window.sheets.up.field.setText("x" * 10_000_000)
    assert len(window.sheets.up.field.text()) == 200


@pytest.mark.parametrize(
    ("keys", "typed", "call"),
    [
        ("a", "30", ("set_lead", 30.0)),
        ("b", "12.5", ("set_low_limit", 12.5)),
        ("b", "12,5°", ("set_low_limit", 12.5)),
        ("w", "a smoke ring", ("note", "a smoke ring", SATURN)),
        ("t", "2026-10-11T02:30:00Z", ("set_preview", UTC_NOW.replace(day=11, hour=2, minute=30,
                                                                     second=0))),
        ("t", "", ("set_preview", None)),
    ],
)  # fmt: skip
def test_values_are_typed_beside_the_numbers(
    make_window: Windows, keys: str, typed: str, call: tuple[Any, ...]
) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, keys)
    assert isinstance(window.sheets.up, PromptSheet)
    window.sheets.up.field.setText(typed)
    press(window, "Enter")
    assert evening.told == [call]
    assert window.sheets.up is None


@pytest.mark.parametrize(
    ("keys", "typed", "parts"),
    [
        ("a", "soon", ("“soon” is no number of seconds ahead", "from 0 to 3600 s", "is kept")),
        ("a", "-4", ("out of range",)),
        ("b", "nan", ("out of range",)),
        ("t", "yesterday", ("is no time", "is kept")),
    ],
)
def test_bad_values_are_refused_in_their_place(
    make_window: Windows, keys: str, typed: str, parts: Sequence[str]
) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, keys)
    sheet = window.sheets.up
    assert isinstance(sheet, PromptSheet)
    sheet.field.setText(typed)
    press(window, "Enter")
    assert evening.told == []
    assert window.sheets.up is sheet
    for part in parts:
        assert part in sheet.error.text


# Near the Sun.


def _near_the_sun() -> FakeEvening:
    return FakeEvening(snapshot(aim=aim(sun_danger=True, sun_distance_deg=12.3)))


def test_near_the_sun_no_number_and_no_needle_shows_the_way(make_window: Windows) -> None:
    window = make_window(_near_the_sun())
    face = aim_of(window).face
    assert [figure.text for figure in face.figures] == ["", ""]
    assert [words.text for words in face.beneath] == ["", ""]
    assert [way.text for way in face.ways] == ["", ""]
    assert face.ring._needle.shown is None
    assert face.quadrant._tube.shown is None
    assert not face.facts.facts
    assert face.attention.notice.caution
    assert "uncover" in {hint.action for hint in window.hints.hints}
    press(window, "2")
    north = window.stage.shown
    assert isinstance(north, NorthPanel)
    assert north.figures[1].text == ""
    assert north.rose._target.shown is None


def test_u_uncovers_only_at_the_second_press(make_window: Windows) -> None:
    evening = _near_the_sun()
    window = make_window(evening)
    press(window, "u")
    face = aim_of(window).face
    assert evening.told == []
    assert "once more" in face.attention.notice.text
    press(window, "u")
    assert evening.told == [("uncover",)]
    assert face.figures[0].text == "41.3"
    assert face.attention.notice.caution


def test_the_first_press_is_forgotten_in_time_and_with_the_target(
    make_window: Windows, monkeypatch: pytest.MonkeyPatch
) -> None:
    evening = _near_the_sun()
    window = make_window(evening)
    press(window, "u")
    later = monotonic() + 60.0
    monkeypatch.setattr("companion.window.frame.twice.monotonic", lambda: later)
    press(window, "u")
    assert evening.told == []


def test_u_does_nothing_away_from_the_sun(make_window: Windows) -> None:
    evening = FakeEvening()
    press(make_window(evening), "u", "u")
    assert evening.told == []


# What the aim shows.


def test_never_another_targets_numbers(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    face = aim_of(window).face
    assert face.figures[0].text == "41.3"
    evening.queue.choose(VEGA.key)
    assert face.name.text == "Vega"
    assert [figure.text for figure in face.figures] == ["", ""]
    evening.tell(snapshot(aim=aim(target=VEGA, altitude_deg=69.5)))
    assert face.figures[0].text == "69.5"


def test_an_empty_evening_says_what_to_do(make_window: Windows) -> None:
    window = make_window(FakeEvening(snapshot(aim=None, rows=()), rows=0))
    assert aim_of(window).face.attention.notice.head == "Press / and type what you want to see."


def test_the_mounts_own_readings_rule_once_there_is_a_mount(make_window: Windows) -> None:
    face = aim_of(make_window(FakeEvening(snapshot(aim=aim(reading=READING))))).face
    assert [figure.text for figure in face.figures] == ["41.3", "187½"]
    assert face.captions[0].text == "ALTITUDE DIAL"
    assert face.advice.text == "95% within 0.4°: finder first"


def test_below_the_horizon_it_says_when_it_comes_up(make_window: Windows) -> None:
    below = aim(altitude_deg=-12.3, rises_utc=UTC_NOW + timedelta(hours=3), turn=None)
    face = aim_of(make_window(FakeEvening(snapshot(aim=below)))).face
    assert face.attention.isVisible()
    assert "until 23:14" in face.attention.notice.head
    assert not face.ways[0].isVisible()
    assert face.quadrant._tube.shown is None


def test_the_numbers_stand_as_large_as_a_full_screen_lets_them(make_window: Windows) -> None:
    # 110 points of a 14-inch screen of 1920 by 1080 pixels, 157.35 to the inch: 240 pixels.
    full = aim_of(make_window(size=(1920, 1080))).face.figures[0].pixels
    assert full > 0.94 * 240
    third = aim_of(make_window(size=(640, 400))).face.figures[0].pixels
    assert third > 0.45 * full


def test_digits_do_not_move_the_columns(make_window: Windows) -> None:
    evening = FakeEvening()
    face = aim_of(make_window(evening)).face
    before = [figure.geometry() for figure in face.figures]
    for azimuth, altitude in ((0.0, 8.1), (359.5, 88.8), (111.0, 11.1)):
        evening.tell(snapshot(aim=aim(azimuth_deg=azimuth, altitude_deg=altitude)))
        assert [figure.geometry() for figure in face.figures] == before


# The queue.


def test_five_hundred_rows_cost_what_is_seen(make_window: Windows) -> None:
    evening = FakeEvening(rows=500)
    queue = aim_of(make_window(evening)).queue
    seen = len(queue.rows)
    assert 5 < seen < 30
    evening.queue.choose(evening.queue.items[400].target.key)
    assert evening.queue.items[400].target.key in {row.key for row in queue.rows}
    assert len(queue.rows) == seen


def test_a_row_is_hit_by_hand(make_window: Windows) -> None:
    evening = FakeEvening()
    queue = aim_of(make_window(evening)).queue
    third = QPoint(40, queue._head_height() + int(2.5 * queue._row_height()))
    QTest.mouseClick(queue, Qt.MouseButton.LeftButton, pos=third)
    assert evening.told == [("choose", QUEUE[2].key)]


def test_a_snapshot_that_says_the_same_repaints_nothing(make_window: Windows) -> None:
    evening = FakeEvening()
    queue = aim_of(make_window(evening)).queue
    before = queue._drawn
    evening.tell(snapshot())
    assert queue._drawn is before


# Screens, messages, brightness, leaving.


def test_digits_bring_up_screens_and_each_is_told_what_is_new(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "2")
    north = window.stage.shown
    assert isinstance(north, NorthPanel)
    assert north.figures[0].text == "16"
    evening.tell(snapshot(north=replace(NORTH, compass_for_true_north_deg=26.3)))
    assert north.figures[0].text == "26½"
    press(window, "1")
    assert isinstance(window.stage.shown, AimPanel)


def test_a_screen_is_added_by_a_line(make_window: Windows) -> None:
    class Extra(Screen):
        digit, word = "9", "extra"

    window = make_window()
    window.add_screen("9", "extra", Extra)
    press(window, "9")
    assert isinstance(window.stage.shown, Extra)
    window.go_to("aim")
    digits = [screen.digit for screen in window.stage.screens]
    assert digits == sorted(digits)
    assert digits[-1] == "9"


def test_a_hint_is_hit_with_a_glove(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    window.grab()
    hit = {action: box for box, action in window.hints._boxes}["found"]
    assert hit.height() >= 44
    QTest.mouseClick(window.hints, Qt.MouseButton.LeftButton, pos=hit.center().toPoint())
    assert evening.told == [("mark", Outcome.FOUND)]


def test_messages_stay_until_they_are_dismissed(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    evening.messages.say(Severity.NOTE, "First.")
    evening.messages.say(Severity.WARNING, "The clock looks wrong.")
    assert window.messages.text == "Warning: The clock looks wrong. (1 more: esc)"
    assert window.messages.isVisible()
    press(window, "Esc")
    assert window.messages.text == "Note: First."
    press(window, "Esc")
    assert not window.messages.isVisible()


def test_doubts_are_said_until_they_are_read(make_window: Windows) -> None:
    evening = FakeEvening(snapshot(doubts=("The clock looks wrong.", "The model has run out.")))
    window = make_window(evening)
    assert window.messages.text == "Warning: The model has run out. (1 more: esc)"
    evening.messages.say(Severity.ERROR, "The journal is full.")
    press(window, "Esc")
    press(window, "Esc")
    assert window.messages.text == "Warning: The clock looks wrong."
    press(window, "Esc")
    evening.tell(snapshot(doubts=("The clock looks wrong.",)))
    assert not window.messages.isVisible()
    assert window.status.status.trust.endswith("1 doubt")


def test_a_journal_in_trouble_offers_its_ways_out(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "J", "J")
    assert evening.told == []
    evening.upkeep.fault = Fault.FULL
    evening.changed.emit()
    assert window.hints.hints[0].action == "retry_journal"
    press(window, "J", "J", "j")
    assert evening.told == [("retry",)]
    evening.upkeep.fault = Fault.DAMAGED
    evening.changed.emit()
    press(window, "J")
    assert "the old file keeps another name" in window.hints.hints[0].word
    press(window, "J")
    assert evening.told == [("retry",), ("begin_anew",)]


def test_what_a_damaged_journal_holds_is_brought_back_on_one_key(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "y")
    assert evening.told == []
    evening.upkeep.rescuable = (Path("journal-aside-1.sqlite"),)
    evening.changed.emit()
    assert (window.hints.hints[0].action, window.hints.hints[0].word) == ("rescue", "bring back")
    press(window, "y")
    assert evening.told == [("rescue",)]


def test_brightness_on_two_keys(make_window: Windows, qapp: RedApplication) -> None:
    window = make_window()
    press(window, "[", "[", "-")
    assert qapp.brightness.step == 3
    press(window, "]", "+")
    assert qapp.brightness.step == 1


def test_the_band_comes_when_the_numbers_are_not_for_now(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    assert not window.banner.isVisible()
    evening.tell(snapshot(preview=True))
    assert "NOT THE SKY OF NOW" in window.banner.text
    assert window.banner.isVisible()
    evening.tell(snapshot(made_monotonic_s=monotonic() - 30.0))
    assert window.banner.text.startswith("THE NUMBERS STOPPED")
    evening.tell(snapshot())
    assert not window.banner.isVisible()


def test_a_stray_q_does_not_end_the_evening(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "q")
    assert window.isVisible()
    assert window.hints.hints[0].word == "press again: leave"
    assert evening.told == [("warn_of_leaving",)]
    press(window, "q")
    assert not window.isVisible()
    assert evening.closed == 1


def test_a_window_that_would_lose_something_stays_until_it_is_left_again(
    make_window: Windows,
) -> None:
    evening = FakeEvening()
    evening.left = Left(("found: Vega",))
    window = make_window(evening)
    press(window, "q", "q")
    assert window.isVisible()
    evening.tell(snapshot())  # everything goes on meanwhile
    assert window.status.status.fresh is Freshness.LIVE
    press(window, "q")
    assert window.isVisible()
    press(window, "q")
    assert not window.isVisible()
    assert evening.closed == 2


def test_full_screen_on_one_key(make_window: Windows) -> None:
    window = make_window()
    press(window, "f")
    assert window.isFullScreen()
    press(window, "f")
    assert not window.isFullScreen()
