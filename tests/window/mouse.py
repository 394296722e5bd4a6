"""What somebody does who has a mouse and no keys."""

from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from companion.window import MainWindow
from companion.window.frame.help_sheet import HelpSheet
from companion.window.kit.row_list import RowList


def click(widget: QWidget, at: QPointF) -> None:
    """Press and let go of the left button."""
    QTest.mouseClick(widget, Qt.MouseButton.LeftButton, pos=at.toPoint())


def hit(window: MainWindow, action: str) -> None:
    """Hit what does something: on the hint line, or where that has no room for it in the help."""
    window.hints.grab()
    boxes = {what: box for box, what in window.hints._boxes}
    if action in boxes:
        click(window.hints, boxes[action].center())
        return
    click(window.hints, boxes["help"].center())
    sheet = window.sheets.up
    assert isinstance(sheet, HelpSheet)
    for _page in sheet.pages():
        sheet.grab()
        for box, row in sheet._boxes:
            if row.action == action:
                click(sheet, box.center())
                return
        wheel(sheet, -120)
    raise AssertionError(f"no mouse can reach {action!r} on {window.stage.shown.word}")


def hit_row(rows: RowList, at: int) -> None:
    """Hit a row that is in sight."""
    click(rows, QPointF(rows.width() / 2, (at - rows._first() + 0.5) * rows.pitch()))


def wheel(widget: QWidget, turned: int) -> None:
    """Turn the wheel over the middle of something; away from one is positive."""
    at = QPointF(widget.rect().center())
    turn = QWheelEvent(
        at,
        widget.mapToGlobal(at),
        QPoint(),
        QPoint(0, turned),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(widget, turn)
