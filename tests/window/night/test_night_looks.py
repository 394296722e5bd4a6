"""The pages of night and journal at every size: pure red, and no word runs into another."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtWidgets import QWidget
from window.conftest import Windows
from window.facts import deep
from window.fakes import FakeEvening
from window.night_fakes import NOON, at, imported, order, ranked, view
from window.purity import lit, stained
from window.test_looks import SIZES, check_words, scene, written

from companion.live import ListQuestion, OrderQuestion
from companion.window import MainWindow, RedApplication
from companion.window.night import front, lanes

__all__ = ["written"]  # a fixture
_LATE = (front, lanes)  # loaded before the fixture looks for who writes

Scene = Callable[[Windows, tuple[int, int]], MainWindow]


def _planned() -> FakeEvening:
    evening = FakeEvening()
    targets = [one.target for one in evening.queue.items if one.waiting]
    evening.night.order = order(targets)
    evening.night.list = ranked([*targets, *(deep(f"NGC {n}, a long name") for n in range(40))])
    return evening


def _busy() -> FakeEvening:
    evening = FakeEvening()
    evening.night.view = None
    evening.night.shares = {ListQuestion: 0.4, OrderQuestion: 0.7}
    return evening


def _empty() -> FakeEvening:
    evening = FakeEvening(rows=0)
    evening.night.view = view([])
    evening.night.list = ranked([], words="nothing passes: ask for less")
    evening.night.order = order([], lost=0)
    evening.nights.view = None
    return evening


def _huge() -> FakeEvening:
    evening = FakeEvening(rows=500)
    targets = [one.target for one in evening.queue.items if one.waiting]
    evening.night.view = view(targets)
    evening.night.order = order(targets, lost=400)
    return evening


def _polar() -> FakeEvening:
    evening = FakeEvening()
    targets = [one.target for one in evening.queue.items if one.waiting]
    base = view(targets)
    nothing = replace(base.darkness.dark, begins_utc=None, ends_utc=None)
    evening.night.view = replace(
        base,
        begins_utc=NOON,
        ends_utc=at(24.0),
        sun_altitude_deg=tuple(3.0 for _step in base.times_s),
        darkness=replace(
            base.darkness,
            sun_down=nothing,
            civil=nothing,
            nautical=nothing,
            dark=nothing,
            words="polar day: the Sun does not set",
        ),
    )
    return evening


def _read() -> FakeEvening:
    evening = FakeEvening()
    evening.night.report = imported(remarks=30)
    return evening


SCENES: dict[str, Scene] = {
    "night": scene(FakeEvening, "screen:night"),
    "a cursor": scene(_planned, "screen:night", "row_down", "leap_right", "best"),
    "lost": scene(_planned, "screen:night", *["row_down"] * 9),
    "being worked out": scene(_busy, "screen:night"),
    "an empty queue": scene(_empty, "screen:night"),
    "five hundred": scene(_huge, "screen:night", *["row_down"] * 60),
    "polar day": scene(_polar, "screen:night"),
    "list": scene(_planned, "screen:night", "tonight", "row_down", "kinds", "height"),
    "no list": scene(_empty, "screen:night", "tonight"),
    "list in work": scene(_busy, "screen:night", "tonight"),
    "constellation": scene(_planned, "screen:night", "tonight", "constellation", typed="Xyz"),
    "rounds": scene(FakeEvening, "screen:night", "rounds"),
    "order": scene(_planned, "screen:night", "order", "row_down"),
    "nothing to order": scene(_empty, "screen:night", "order"),
    "clouds": scene(_planned, "screen:night", "order", "clouds"),
    "report": scene(_read, "screen:night", "report"),
    "journal": scene(FakeEvening, "screen:journal"),
    "a night of it": scene(FakeEvening, "screen:journal", "row_down", "row_right", "row_down"),
    "no journal": scene(_empty, "screen:journal"),
    "night help": scene(FakeEvening, "screen:night", "help"),
}


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", SCENES)
def test_pure_red(
    make_window: Windows, qapp: RedApplication, name: str, size: tuple[int, int]
) -> None:
    window = SCENES[name](make_window, size)
    for dimmer in (0, 99):
        qapp.brightness.move(dimmer)
        picture = window.grab()
        assert stained(picture) == 0
        assert lit(picture) > 1000


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", SCENES)
def test_no_word_runs_into_another(
    make_window: Windows,
    written: list[tuple[str, QWidget, QRectF]],
    name: str,
    size: tuple[int, int],
) -> None:
    window = SCENES[name](make_window, size)
    check_words(window, written)


def test_a_new_report_comes_up_by_itself(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    window.do("screen:night")
    evening.night.report = imported(remarks=3)
    evening.night.changed.emit()
    assert window.context == "report"


def test_what_is_lettered_over_the_chart_is_looked_at(
    make_window: Windows,
    written: list[tuple[str, QWidget, QRectF]],
) -> None:
    window = SCENES["lost"](make_window, (1366, 768))
    written.clear()
    window.grab()
    texts = {text for text, _widget, _box in written}
    assert {"30°", "60°", "NOW", "Moon", "Jupiter", "dark 20:12"} <= texts
    assert any("before its turn" in text for text in texts)
