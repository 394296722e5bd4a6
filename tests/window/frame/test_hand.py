"""What the mouse does, and what small windows keep."""

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from window.conftest import Windows
from window.fakes import FakeEvening
from window.hands import aim_of, press

from companion.live import Severity
from companion.window.frame.adaptation import Adaptation
from companion.window.frame.help_sheet import HelpSheet
from companion.window.kit.row_list import Row, RowList


def _turn_wheel(widget: QWidget, notches: int) -> None:
    spot = QPointF(widget.rect().center())
    event = QWheelEvent(
        spot,
        QPointF(widget.mapToGlobal(spot.toPoint())),
        QPoint(),
        QPoint(0, -120 * notches),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(widget, event)


def test_the_wheel_scrolls_a_list_and_a_click_moves_nothing(make_window: Windows) -> None:
    window = make_window()
    rows = RowList(window)
    rows.setGeometry(0, 0, 500, 400)
    hits: list[int] = []
    rows.hit.connect(hits.append)
    rows.say([Row(f"row {at}") for at in range(60)], 0)
    rows.show()
    _turn_wheel(rows, 2)
    first = rows._first()
    assert first == 6
    assert rows.chosen == 0
    last = rows._room() - 1
    QTest.mouseClick(
        rows, Qt.MouseButton.LeftButton, pos=QPoint(50, round((last + 0.5) * rows.pitch()))
    )
    assert hits == [first + last]
    rows.say(rows.rows, hits[0])
    assert rows._first() == first


def test_undo_search_and_help_stand_in_the_footer_for_the_mouse(make_window: Windows) -> None:
    window = make_window()
    window.grab()
    drawn = [action for _box, action in window.hints._boxes]
    keys = [action for action in drawn if not action.startswith("screen:")]
    assert keys[:4] == ["help", "found", "undo", "search"]
    box = next(box for box, action in window.hints._boxes if action == "undo")
    QTest.mouseClick(window.hints, Qt.MouseButton.LeftButton, pos=box.center().toPoint())
    assert ("undo",) in window.evening.told  # type: ignore[attr-defined]


def test_a_click_puts_a_message_away(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    evening.messages.say(Severity.WARNING, "a cloud")
    assert window.messages.isVisible()
    QTest.mouseClick(window.messages, Qt.MouseButton.LeftButton)
    assert not evening.messages.current


def test_the_window_is_closed_by_the_mouse(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    boxes = {action: box for box, action in window.status._buttons()}
    assert set(boxes) == {"minimise", "leave"}
    QTest.mouseClick(
        window.status, Qt.MouseButton.LeftButton, pos=boxes["leave"].center().toPoint()
    )
    assert evening.closed == 1


@pytest.mark.parametrize("size", [(800, 500), (600, 1000), (1024, 600), (640, 400)])
def test_a_small_window_keeps_queue_screens_and_numbers(
    make_window: Windows, size: tuple[int, int]
) -> None:
    evening = FakeEvening()
    window = make_window(evening, size)
    assert evening.latest is not None
    evening.tell(evening.latest)
    window.grab()
    panel = aim_of(window)
    assert panel.queue.isVisible() or "waiting" in panel.following.text
    drawn = {action for _box, action in window.hints._boxes}
    assert {f"screen:{screen.word}" for screen in window.stage.screens} <= drawn
    assert {"help", "found"} <= drawn
    assert all(figure.text for figure in panel.face.figures)
    if size in {(600, 1000), (1024, 600)}:
        assert panel.face.ring.isVisible()


def test_the_eyes_adapt_under_a_dim_screen_alone() -> None:
    clock = Adaptation(0.0)
    assert clock.words(100.0, 0.5) == ""
    assert clock.words(130.0, 0.1) == "eyes adapting"
    assert clock.words(100.0 + 23 * 60, 0.1) == "eyes 23 min in the dark"
    assert clock.words(100.0 + 31 * 60, 0.1) == "eyes adapted"
    clock.begin(2000.0)
    assert clock.words(2010.0, 0.1) == "eyes adapting"


def test_help_has_a_page_for_before_you_go_out(make_window: Windows) -> None:
    window = make_window()
    press(window, "?", "Right")
    sheet = window.sheets.up
    assert isinstance(sheet, HelpSheet)
    for word in ("COLD", "ALONE", "LIGHTNING", "THE SUN", "LASERS", "BATTERIES", "WILDLIFE"):
        assert word in sheet.explanation.text
    press(window, "Left")
    assert sheet.head.text == "Keys"
