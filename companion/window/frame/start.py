"""The application in its right order: style, palette, guard, cursor, and only then a widget."""

import logging
from collections.abc import Sequence

from PySide6.QtCore import QCoreApplication, QEvent, QObject, QPointF, QSize, Qt
from PySide6.QtGui import QCursor, QIcon, QPainter, QPen, QPixmap, QPolygonF
from PySide6.QtWidgets import QApplication, QWidget

from companion.sky import resource
from companion.window.kit.palette import ONLY_RED, WindowBrightness, red
from companion.window.kit.type_scale import font, load_fonts

_log = logging.getLogger(__name__)


class RedGuard(QObject):
    """Keeps every pixel of every widget pure red, also of widgets nobody has written yet.

    The palette makes things look right; this makes them safe. After a widget has painted itself,
    the bits of green and blue are cleared while the paint event still runs. Clearing twice changes
    nothing, so nested and repeated paints are harmless.
    """

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


PROGRAM = "companion"  # what desktops call it: class of its windows, name of its desktop entry
_ICON_SIZES_PX = (16, 32, 48, 128)
_CURSOR_SIDE = 32
_CURSOR_CODE = 200


class RedApplication(QApplication):
    """An application that shows nothing but red from its first frame on."""

    def __init__(self, argv: Sequence[str]) -> None:
        super().__init__([PROGRAM, *argv[1:]])  # else windows are of the class "__main__.py"
        self.setApplicationName(PROGRAM)
        self.setApplicationDisplayName("Companion")
        self.setDesktopFileName(PROGRAM)
        self.setWindowIcon(window_icon())
        self.setStyle("Fusion")
        load_fonts()
        self.setFont(font(18))
        self.brightness = WindowBrightness(parent=self)
        self.guard = install_guard(self)
        self.setOverrideCursor(red_cursor())


def window_icon() -> QIcon:
    """Give the program's sign; nothing of it is read before a desktop asks for it."""
    icon = QIcon()
    for size_px in _ICON_SIZES_PX:
        icon.addFile(str(resource(f"icons/companion-{size_px}.png")), QSize(size_px, size_px))
    return icon


def red_cursor() -> QCursor:
    """Draw the pointer: a plain arrow in red with a black edge."""
    pixmap = QPixmap(_CURSOR_SIDE, _CURSOR_SIDE)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    painter.setPen(QPen(red(0), 1.5))
    painter.setBrush(red(_CURSOR_CODE))
    corners = ((2, 2), (2, 24), (8, 18), (12, 27), (16, 25), (12, 17), (20, 17))
    painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in corners]))
    painter.end()
    return QCursor(pixmap, 2, 2)
