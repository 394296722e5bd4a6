"""The application in its right order: style, palette, guard, cursor, and only then a widget."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QSize, Qt
from PySide6.QtGui import QCursor, QIcon, QPainter, QPen, QPixmap, QPolygonF
from PySide6.QtWidgets import QApplication

from companion.sky import resource
from companion.window.frame.guard import install_guard
from companion.window.kit.palette import WindowBrightness, red
from companion.window.kit.type_scale import font, load_fonts

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
