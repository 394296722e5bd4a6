"""The horizon as it is drawn: by keys, by hand, kept or dropped, and what it looks like."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from window import test_looks
from window.conftest import Windows
from window.fakes import FakeEvening
from window.hands import press, told
from window.purity import lit, stained
from window.test_looks import SCENES, scene, written

from companion.sky import LOON_BARRENS
from companion.window import MainWindow, RedApplication
from companion.window.place.horizon_sheet import HorizonSheet, reading_words

__all__ = ["written"]  # a fixture

_TREES = ((85.0, 0.0), (90.0, 12.0), (180.0, 30.0), (270.0, 75.0), (275.0, 0.0))


def _wooded() -> FakeEvening:
    evening = FakeEvening()
    evening.choices = replace(evening.choices, site=replace(LOON_BARRENS, horizon=_TREES))
    return evening


def _sheet(window: MainWindow) -> HorizonSheet:
    press(window, "7", "_")
    sheet = window.sheets.up
    assert isinstance(sheet, HorizonSheet)
    return sheet


def _drag(sheet: HorizonSheet, *directions: tuple[float, float]) -> None:
    places = [sheet.drawing.point_of(*direction).toPoint() for direction in directions]
    QTest.mousePress(sheet.drawing, Qt.MouseButton.LeftButton, pos=places[0])
    for place in places[1:]:
        QTest.mouseMove(sheet.drawing, place)
    QTest.mouseRelease(sheet.drawing, Qt.MouseButton.LeftButton, pos=places[-1])


def test_keys_draw_and_enter_keeps(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    sheet = _sheet(window)
    assert sheet.reading.text == "Open in the south · azimuth 180°"
    press(window, *["Right"] * 9, *["Up"] * 13, "Down")
    assert sheet.reading.text == "Tree line 12° high in the south-west · azimuth 225°"
    press(window, "Enter")
    assert window.sheets.up is None
    wanted = replace(LOON_BARRENS, horizon=((220.0, 0.0), (225.0, 12.0), (230.0, 0.0)))
    assert told(evening, "choose_site") == [("choose_site", wanted)]


def test_escape_drops(make_window: Windows) -> None:
    evening = _wooded()
    window = make_window(evening)
    sheet = _sheet(window)
    press(window, "Up", "Up", "Esc")
    assert window.sheets.up is None
    assert told(evening, "choose_site") == []
    _sheet(window)
    assert sheet.reading.text.startswith("Tree line 30° high")


def test_it_opens_with_what_is_there_and_changes_nothing_by_itself(make_window: Windows) -> None:
    evening = _wooded()
    window = make_window(evening)
    sheet = _sheet(window)
    assert sheet.line.altitude_deg(135) == pytest.approx(21.0)
    press(window, "Left", "Right", "Enter")
    assert told(evening, "choose_site") == []


def test_what_was_there_stays_beside_a_change(make_window: Windows) -> None:
    evening = _wooded()
    window = make_window(evening)
    _sheet(window)
    press(window, *["Left"] * 36, "Up", "Up", "Enter")
    kept = evening.choices.site.horizon
    assert kept == ((0.0, 2.0), (5.0, 0.0), *_TREES, (355.0, 0.0))


def test_backspace_opens_a_direction_and_delete_all(make_window: Windows) -> None:
    evening = _wooded()
    window = make_window(evening)
    sheet = _sheet(window)
    press(window, "Backspace")
    assert sheet.line.altitude_deg(180) == 0.0
    assert sheet.line.altitude_deg(175) > 25.0
    press(window, "Delete", "Enter")
    assert evening.choices.site.horizon == ()


def test_the_line_stops_at_the_ground_and_at_the_top(make_window: Windows) -> None:
    window = make_window(_wooded())
    sheet = _sheet(window)
    press(window, *["Up"] * 40)
    assert sheet.line.altitude_deg(180) == 60.0
    press(window, "Backspace", "Down")
    assert sheet.line.altitude_deg(180) == 0.0
    press(window, *["Right"] * 18, "Up")  # higher than the scale since it was typed
    assert sheet.line.altitude_deg(270) == 75.0
    press(window, "Down")
    assert sheet.line.altitude_deg(270) == 74.0


@pytest.mark.parametrize("size", [(1366, 768), (640, 400)])
def test_the_hand_draws(make_window: Windows, size: tuple[int, int]) -> None:
    evening = FakeEvening()
    window = make_window(evening, size)
    sheet = _sheet(window)
    _drag(sheet, (90, 10), (110, 18), (130, 18))
    assert sheet.cursor_deg == 130
    assert [sheet.line.altitude_deg(at) for at in (85, 90, 100, 110, 120, 130, 135)] == (
        pytest.approx([0, 10, 14, 18, 18, 18, 0], abs=1.0)
    )
    QTest.mouseMove(sheet.drawing, sheet.drawing.point_of(200, 40).toPoint())
    assert sheet.line.altitude_deg(200) == 0.0  # the hand is off the button
    press(window, "Enter")
    assert len(evening.choices.site.horizon) <= 7
    assert list(evening.choices.site.horizon) == sorted(evening.choices.site.horizon)


def test_a_hand_beyond_the_edge_draws_at_the_edge(make_window: Windows) -> None:
    sheet = _sheet(make_window())
    right = sheet.drawing.rect().topRight()
    QTest.mouseClick(sheet.drawing, Qt.MouseButton.LeftButton, pos=right)
    assert sheet.cursor_deg == 360
    assert sheet.line.altitude_deg(0) == 60.0
    assert sheet.reading.text == "Tree line 60° high in the north · azimuth 0°"


def test_before_there_is_a_place_nothing_is_drawn(make_window: Windows) -> None:
    evening = FakeEvening(rows=0)
    evening.latest, evening.needs_site = None, True
    window = make_window(evening)
    press(window, "Esc", "_")
    assert window.sheets.up is None
    assert "draw_horizon" not in {hint.action for hint in window.hints.hints}


def test_words_of_directions() -> None:
    assert reading_words(45, 0.4) == "Open in the north-east · azimuth 45°"
    assert reading_words(355, 7.0) == "Tree line 7° high in the north · azimuth 355°"


@pytest.mark.parametrize("size", [(1366, 768), (640, 400)])
def test_pure_red_and_no_word_on_another(
    make_window: Windows,
    written: list[tuple[str, QWidget, QRectF]],
    qapp: RedApplication,
    monkeypatch: pytest.MonkeyPatch,
    size: tuple[int, int],
) -> None:
    show = scene(_wooded, "screen:place", "draw_horizon")
    monkeypatch.setitem(SCENES, "horizon", show)
    test_looks.test_no_word_runs_into_another(make_window, written, "horizon", size)
    window = show(make_window, size)
    for dimmer in (0, 99):
        qapp.brightness.move(dimmer)
        picture = window.grab()
        assert stained(picture) == 0
        assert lit(picture) > 1000
