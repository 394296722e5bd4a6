import logging
import sys
from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, QTimer
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import (
    QApplication,
    QCalendarWidget,
    QColorDialog,
    QComboBox,
    QDialog,
    QFileDialog,
    QInputDialog,
    QLabel,
    QMenu,
    QMessageBox,
    QProgressBar,
    QPushButton,
    QTableWidget,
    QTabWidget,
    QTextEdit,
    QToolTip,
    QTreeWidget,
    QWidget,
    QWizard,
)
from pytestqt.qtbot import QtBot
from window.purity import lit, stained

from companion.window.frame.start import RedGuard, install_guard


class White(QWidget):
    """A widget that knows nothing of red light."""

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(255, 255, 255))
        painter.fillRect(self.rect().adjusted(20, 20, -20, -20), QColor(90, 200, 250))


def _white_palette(widget: QWidget) -> QWidget:
    widget.setPalette(QPalette(QColor(255, 255, 255)))
    return widget


WIDGETS: list[Callable[[], QWidget]] = [
    White,
    lambda: _white_palette(QTextEdit("text")),
    lambda: _white_palette(QCalendarWidget()),
    lambda: _white_palette(QTableWidget(5, 5)),
    lambda: _white_palette(QTreeWidget()),
    lambda: _white_palette(QTabWidget()),
    lambda: _white_palette(QComboBox()),
    lambda: _white_palette(QProgressBar()),
    lambda: _white_palette(QPushButton("press")),
    lambda: QMessageBox(QMessageBox.Icon.Critical, "title", "text"),
    QColorDialog,
    QFileDialog,
    QInputDialog,
    QWizard,
    QDialog,
]


@pytest.mark.parametrize("make", WIDGETS)
def test_any_widget_is_pure_red(qtbot: QtBot, make: Callable[[], QWidget]) -> None:
    widget = make()
    qtbot.addWidget(widget)
    widget.resize(300, 200)
    widget.show()
    assert stained(widget.grab()) == 0


def test_the_count_can_fail(qtbot: QtBot, qapp: QApplication) -> None:
    guard = next(child for child in qapp.children() if isinstance(child, RedGuard))
    widget = White()
    qtbot.addWidget(widget)
    qapp.removeEventFilter(guard)
    try:
        assert stained(widget.grab()) > 0
    finally:
        qapp.installEventFilter(guard)
    assert stained(widget.grab()) == 0
    assert lit(widget.grab()) > 0


def test_menus_and_tool_tips_are_pure_red(qtbot: QtBot) -> None:
    menu = QMenu()
    qtbot.addWidget(menu)
    for name in ("one", "two"):
        menu.addAction(name).setCheckable(True)
    menu.popup(QPoint(10, 10))
    assert stained(menu.grab()) == 0
    label = QLabel("x")
    qtbot.addWidget(label)
    label.show()
    QToolTip.showText(label.mapToGlobal(QPoint(2, 2)), "a tip", label)
    tips = [w for w in QApplication.topLevelWidgets() if w.metaObject().className() == "QTipLabel"]
    assert tips
    assert all(stained(tip.grab()) == 0 for tip in tips)
    QToolTip.hideText()


def test_a_modal_dialog_is_pure_red(qtbot: QtBot) -> None:
    box = QMessageBox(QMessageBox.Icon.Question, "title", "text")
    qtbot.addWidget(box)
    counts: list[int] = []

    def look() -> None:
        counts.append(stained(box.grab()))
        box.reject()

    QTimer.singleShot(0, look)
    box.exec()
    assert counts == [0]


def test_a_fault_in_painting_is_logged(qtbot: QtBot, caplog: pytest.LogCaptureFixture) -> None:
    class Odd(QWidget):
        def rect(self) -> None:  # type: ignore[override] # what goes wrong here
            raise ValueError("planted")

    widget = Odd()
    qtbot.addWidget(widget)
    with caplog.at_level(logging.ERROR):
        widget.grab()
    assert "could not be painted" in caplog.text


def test_the_guard_comes_before_the_first_widget(qtbot: QtBot, qapp: QApplication) -> None:
    qtbot.addWidget(QWidget())
    with pytest.raises(RuntimeError, match="before the first widget"):
        install_guard(qapp)


def test_repainting_loses_no_reference(qtbot: QtBot) -> None:
    label = QLabel("0")
    qtbot.addWidget(label)
    label.show()
    before = sys.getrefcount(None)
    for count in range(2000):
        label.setText(str(count))
        label.repaint()
    assert abs(sys.getrefcount(None) - before) < 200
