"""What a person does to the window in tests, and what the evening was told."""

from typing import Any

from PySide6.QtCore import QEventLoop, Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from companion.window import MainWindow
from companion.window.aim.panel import AimPanel
from window.fakes import FakeEvening


def press(window: QWidget, *keys: str) -> None:
    """Press keys as a person does: they go to whatever has the focus."""
    special = {"Enter": Qt.Key.Key_Return, "Esc": Qt.Key.Key_Escape, "Up": Qt.Key.Key_Up}
    special |= {"Down": Qt.Key.Key_Down, "Right": Qt.Key.Key_Right, "Left": Qt.Key.Key_Left}
    special |= {"Delete": Qt.Key.Key_Delete, "End": Qt.Key.Key_End, "PageDown": Qt.Key.Key_PageDown}
    special |= {f"F{number}": Qt.Key(Qt.Key.Key_F1 + number - 1) for number in range(1, 12)}
    special |= {"Home": Qt.Key.Key_Home, "Backspace": Qt.Key.Key_Backspace}
    special |= {"PageUp": Qt.Key.Key_PageUp}
    for key in keys:
        receiver = window.focusWidget() or window
        name = key.rpartition("+")[2] or key
        held = Qt.KeyboardModifier.NoModifier
        if key.startswith("Alt+"):
            held = Qt.KeyboardModifier.AltModifier
        if key.startswith("Shift+"):
            held = Qt.KeyboardModifier.ShiftModifier
        if name in special:
            QTest.keyClick(receiver, special[name], held)
        else:
            QTest.keyClicks(receiver, key)


def pause(ms: int) -> None:
    """Let time pass for the window and its threads.

    Not with ``QTest.qWait``: that sleeps without letting go of Python, and every thread of the
    program stands still meanwhile.
    """
    loop = QEventLoop()
    QTimer.singleShot(ms, loop.quit)
    loop.exec()


def aim_of(window: MainWindow) -> AimPanel:
    panel = window.stage.shown
    assert isinstance(panel, AimPanel)
    return panel


def told(evening: FakeEvening, *names: str) -> list[tuple[Any, ...]]:
    return [call for call in evening.told if call[0] in names]
