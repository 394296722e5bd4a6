"""What keys and new facts do to the window."""

from dataclasses import replace
from time import monotonic
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from window.conftest import Windows
from window.facts import NORTH, QUEUE, SATURN, VEGA, snapshot
from window.fakes import FakeEvening
from window.hands import press

from companion.journal import Left, Outcome
from companion.live import SortBy
from companion.window import RedApplication, Screen
from companion.window.aim.panel import AimPanel
from companion.window.frame.status_words import Freshness
from companion.window.north.panel import NorthPanel


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
        ("O", ("sort", SortBy.TIME_LEFT)),
        ("#", ("set_fast", True)),
        ("T", ("come_back",)),
    ],
)
def test_one_key_for_every_action(make_window: Windows, key: str, call: tuple[Any, ...]) -> None:
    evening = FakeEvening()
    press(make_window(evening), key)
    assert evening.told == [call]


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
        digit, word = "0", "extra"

    window = make_window()
    window.add_screen("0", "extra", Extra)
    press(window, "0")
    assert isinstance(window.stage.shown, Extra)
    window.go_to("aim")
    digits = [screen.digit for screen in window.stage.screens]
    assert digits == sorted(digits)
    assert digits[-2:] == ["F7", "F8"]


def test_a_hint_is_hit_with_a_glove(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    window.grab()
    hit = {action: box for box, action in window.hints._boxes}["found"]
    assert hit.height() >= 44
    QTest.mouseClick(window.hints, Qt.MouseButton.LeftButton, pos=hit.center().toPoint())
    assert evening.told == [("mark", Outcome.FOUND)]


def test_brightness_on_two_keys(make_window: Windows, qapp: RedApplication) -> None:
    window = make_window()
    press(window, "[", "[", "<")
    assert qapp.brightness.step == 3
    press(window, "]", ">")
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
