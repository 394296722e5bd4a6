"""The way from the last target: an arrow with its words, under the number that it changes."""

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from companion.window.kit.lettering import Size, letter, write
from companion.window.kit.palette import Role, ink
from companion.window.kit.symbols import Heading, draw_arrow
from companion.window.kit.type_scale import Scaled

_ARROW = 1.15  # of the height of capitals


class TurnArrow(Scaled, QWidget):
    """One turn, as the tube goes."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._heading, self._text, self._more = Heading.UP, "", ""
        self._size = Size.TURN

    @property
    def text(self) -> str:
        """What it says."""
        return f"{self._text} {self._more}".strip()

    def say(self, heading: Heading, text: str, more: str = "") -> None:
        """Point and say something else, ``more`` of it smaller; empty shows nothing."""
        if (heading, text, more) != (self._heading, self._text, self._more):
            self._heading, self._text, self._more = heading, text, more
            self.setAccessibleName(self.text)
            self.update()

    def fits(self, size: Size, width: int) -> bool:
        """Tell whether the words find room in a size of type."""
        metrics = QFontMetrics(size.font(self.scale))
        arrow = metrics.capHeight() * _ARROW + self.scale.grid(1.5)
        return arrow + metrics.horizontalAdvance(self._text) <= width

    def set_size(self, size: Size) -> None:
        """Take another size of type."""
        if size is not self._size:
            self._size = size
            self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Be as high as the line, and the smaller one whose top reaches into its foot."""
        turn, more = (QFontMetrics(size.font(self.scale)) for size in (self._size, Size.SMALL))
        return QSize(0, turn.ascent() + turn.descent() // 2 + more.height())

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the arrow, write the words."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), ink(self, Role.GROUND))
        if not self._text:
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        metrics = letter(painter, self, self._size, Role.EMPHASIS)
        side = metrics.capHeight() * _ARROW
        left = side + self.scale.grid(1.5)
        box = QRectF(0, metrics.ascent() - metrics.capHeight() * 1.08, side, side)
        draw_arrow(painter, box, self._heading, ink(self, Role.EMPHASIS))
        painter.setPen(ink(self, Role.EMPHASIS))
        line = QRectF(left, 0, self.width() - left, metrics.height())
        write(painter, line, self._text)
        more = letter(painter, self, Size.SMALL, Role.TEXT)
        low = QRectF(left, self.height() - more.height(), line.width(), more.height())
        write(painter, low, self._more)
