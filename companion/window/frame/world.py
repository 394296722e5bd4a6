"""What the system does to a window: it has no display, or asks the program to end."""

import os
import signal
import socket
import sys
from collections.abc import Callable

from PySide6.QtCore import (
    QMessageLogContext,
    QObject,
    QSocketNotifier,
    QtMsgType,
    qInstallMessageHandler,
)
from PySide6.QtGui import QGuiApplication

_NO_DISPLAY = (
    "companion: The window cannot be shown here: {why}. Start it from a desktop, or set DISPLAY; "
    "the text commands need none, such as companion aim saturn (companion --help lists them).\n"
)
_FAULT = (
    "companion: The program had to end, for a fault that Qt met: {why}. Whatever was written is "
    "safe; start it again, and tell what you did before.\n"
)
_ENDS = tuple(
    getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name)
)


def say_why_no_window() -> None:
    """Have Qt's own end said in one line instead of an abort: that it finds no display, above all.

    To be called before the application is made; Qt gives no other way to hear of it.
    """
    qInstallMessageHandler(_Ear())


class _Ear:
    """Hears what Qt has to say; the first thing said of the display is the reason for the end."""

    def __init__(self) -> None:
        self._why = ""

    def __call__(self, kind: QtMsgType, _context: QMessageLogContext, text: str) -> None:
        """Take one message."""
        if kind is QtMsgType.QtFatalMsg:
            shown = QGuiApplication.primaryScreen() is not None
            said = text if shown else self._why or text
            why = (said.strip().splitlines() or ["Qt does not say why"])[0].strip(". ")[:200]
            sys.stderr.write((_FAULT if shown else _NO_DISPLAY).format(why=why))
            sys.stderr.flush()
            os._exit(1)  # Qt would abort
        if "display" in text or "platform plugin" in text:
            self._why = self._why or text
        else:
            sys.stderr.write(f"companion: {text}\n")


class EndOnSignal(QObject):
    """Calls ``end`` in the window's thread when the system asks the program to end.

    Python's own handlers run only between two of its instructions, and Qt's loop has none: the
    number of the signal wakes the loop through a socket.
    """

    def __init__(self, end: Callable[[], None], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._end = end
        self._woken, self._wakes = socket.socketpair()
        for one in (self._woken, self._wakes):
            one.setblocking(False)
        self._before = signal.set_wakeup_fd(self._wakes.fileno(), warn_on_full_buffer=False)
        self._handlers = {number: signal.signal(number, _heard) for number in _ENDS}
        self._notifier = QSocketNotifier(self._woken.fileno(), QSocketNotifier.Type.Read, self)
        self._notifier.activated.connect(self._take)

    def close(self) -> None:
        """Give the signals back; the sockets go."""
        self._notifier.setEnabled(False)
        signal.set_wakeup_fd(self._before)
        for number, handler in self._handlers.items():
            signal.signal(number, handler)
        self._woken.close()
        self._wakes.close()

    def _take(self) -> None:
        self._woken.recv(64)
        self._end()


def _heard(_number: int, _frame: object) -> None:
    """Leave the rest to the loop."""
