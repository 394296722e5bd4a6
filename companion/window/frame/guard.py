"""Keeps every pixel of every widget pure red, also of widgets nobody has written yet.

The palette makes things look right; this makes them safe. After a widget has painted itself,
the bits of green and blue are cleared while the paint event still runs. Clearing twice changes
nothing, so nested and repeated paints are harmless.
"""

import logging

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QApplication, QWidget

from companion.window.kit.palette import ONLY_RED

_log = logging.getLogger(__name__)


class RedGuard(QObject):
    """Application event filter that masks each widget's paint."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._painting: set[int] = set()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Let the widget paint, then clear green and blue."""
        if event.type() != QEvent.Type.Paint or not isinstance(watched, QWidget):
            return False
        identity = id(watched)
        if identity in self._painting:
            return False  # the paint that we sent ourselves
        self._painting.add(identity)
        try:
            # Sent again rather than called: a scroll area paints through its viewport's filters.
            QCoreApplication.sendEvent(watched, event)
            _clear_green_and_blue(watched)
        except Exception:  # noqa: BLE001 - the last line of defence, whatever a paint raised
            # An exception that leaves an event filter would end the process.
            _log.exception("A widget could not be painted: %s", type(watched).__name__)
        finally:
            self._painting.discard(identity)
        return True


def _clear_green_and_blue(widget: QWidget) -> None:
    painter = QPainter(widget)
    try:
        painter.setCompositionMode(QPainter.CompositionMode.RasterOp_SourceAndDestination)
        painter.fillRect(widget.rect(), ONLY_RED)
    finally:
        painter.end()  # a painter left open would end the process


def install_guard(app: QApplication) -> RedGuard:
    """Install the guard; to be called once, before any widget exists.

    Raises
    ------
    RuntimeError
        If a widget exists already: its first frame may have been seen.
    """
    if QApplication.allWidgets():
        raise RuntimeError("The guard must be installed before the first widget.")
    app.setAttribute(Qt.ApplicationAttribute.AA_DontUseNativeDialogs)
    guard = RedGuard(app)
    app.installEventFilter(guard)
    return guard
