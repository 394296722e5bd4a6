"""The help: nothing in it is cut or left out, and a click on a key does what the key does."""

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QFontMetricsF, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from window.conftest import Windows
from window.fakes import FakeEvening
from window.hands import press

from companion.window import MainWindow
from companion.window.frame.help_flow import HelpRow, KeyGroup, pages_of
from companion.window.frame.help_sheet import HelpSheet
from companion.window.kit.lettering import Size

SIZES = ((1366, 768), (1920, 1080), (1024, 600), (800, 500), (600, 1000), (480, 300))


def help_of(window: MainWindow) -> HelpSheet:
    press(window, "?")
    sheet = window.sheets.up
    assert isinstance(sheet, HelpSheet)
    sheet.grab()  # where things are is known once they are drawn
    return sheet


def click(sheet: HelpSheet, action: str) -> None:
    (box,) = [box for box, row in sheet._boxes if row.action == action][:1]
    QTest.mouseClick(sheet, Qt.MouseButton.LeftButton, pos=box.center().toPoint())


def group(title: str, count: int, *, needed: bool = True) -> KeyGroup:
    return KeyGroup(title, tuple(HelpRow(str(at), f"does {at}") for at in range(count)), needed)


def test_groups_flow_from_column_to_column_and_from_page_to_page() -> None:
    groups = [group("ON AIM", 12), group("EVERYWHERE", 4), group("ON NORTH", 5, needed=False)]
    first, second = pages_of(groups, columns=2, room=10.0)
    assert [(part.title, len(part.rows), part.column) for part in (*first, *second)] == [
        ("ON AIM", 8, 0),
        ("ON AIM", 4, 1),
        ("EVERYWHERE", 4, 2),  # three and one would look forgotten
        ("ON NORTH", 5, 3),
    ]
    told = [row for page in (first, second) for part in page for row in part.rows]
    assert told == [row for one in groups for row in one.rows]  # each once, in their order


@pytest.mark.parametrize("room", [0.5, 2.0, 3.5, 7.0, 40.0])
@pytest.mark.parametrize("columns", [1, 3])
def test_no_key_is_left_out_and_no_column_overflows(room: float, columns: int) -> None:
    groups = [group("A", 21), group("B", 19), group("C", 1, needed=False), group("D", 6)]
    pages = pages_of(groups, columns, room)
    parts = [part for page in pages for part in page]
    assert [row for part in parts for row in part.rows] == [r for g in groups for r in g.rows]
    for part in parts:
        assert part.top + 1.2 + len(part.rows) <= max(room, 2.2) or part.top == 0.0
    for number, page in enumerate(pages):
        assert {part.column // columns for part in page} <= {number}


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_every_row_is_written_whole_at_every_size(
    make_window: Windows, size: tuple[int, int]
) -> None:
    window = make_window(size=size)
    sheet = help_of(window)
    width = QFontMetricsF(Size.SMALL.font(sheet.scale)).horizontalAdvance
    for page in range(len(sheet.pages())):
        sheet.grab()
        assert sheet._page == page
        for box, row in sheet._boxes:
            assert sheet.rect().contains(box.toRect())
            if not row.action.startswith("screen:"):
                assert box.width() >= width(row.says) + sheet._cap_column([row])
        press(window, "Down")
    shown = {row for page in sheet.pages() for part in page for row in part.rows}
    assert shown == {row for one in sheet.groups() for row in one.rows}


def test_a_click_on_a_key_does_what_the_key_does(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    sheet = help_of(window)
    click(sheet, "skip")
    assert not sheet.isVisible()
    assert any("skip" in str(one) for one in evening.told)
    click(help_of(window), "note")
    assert window.sheets.up is not None
    assert window.sheets.up.word == "entry"
    press(window, "Esc")
    click(help_of(window), "screen:north")
    assert window.stage.shown.word == "north"


def test_keys_of_other_screens_are_not_hit(make_window: Windows) -> None:
    window = make_window()
    sheet = help_of(window)
    own = {row.action for part in sheet.groups()[:2] for row in part.rows}
    assert {row.action for one in sheet.groups()[2:] for row in one.rows} == {""}
    hit = {row.action for _box, row in sheet._boxes}
    assert hit <= own | {row.action for row in sheet.screens()}
    QTest.mouseClick(sheet, Qt.MouseButton.LeftButton, pos=QPoint(3, 3))
    assert window.sheets.up is sheet


def test_the_key_under_the_pointer_is_bright_and_the_wheel_turns_pages(
    make_window: Windows,
) -> None:
    window = make_window(size=(800, 500))
    sheet = help_of(window)
    (box,) = [box for box, row in sheet._boxes if row.action == "found"]
    QTest.mouseMove(sheet, box.center().toPoint())
    assert sheet._hovered == "found"
    for down, page in ((-120, 1), (-120, 2), (120, 1), (120, 0), (120, 0)):
        turn = QWheelEvent(
            QPointF(9, 9), QPointF(9, 9), QPoint(), QPoint(0, down), Qt.MouseButton.NoButton,
            Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
        )  # fmt: skip
        QApplication.sendEvent(sheet, turn)
        assert sheet._page == page
