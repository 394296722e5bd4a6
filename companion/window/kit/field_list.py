"""Lines with a caption and a value, one of them chosen: big enough for a glove."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent, QWheelEvent
from PySide6.QtWidgets import QWidget

from companion.window.kit.facts import Fact
from companion.window.kit.lettering import Size, letter, write, write_if_it_fits
from companion.window.kit.palette import Role, ink
from companion.window.kit.scrolling import Scrolling, paint_position
from companion.window.kit.symbols import Heading, draw_index, draw_rule
from companion.window.kit.type_scale import Scaled

_CAPTION_STEPS = 37.0  # of the grid, from the left edge to the values


class FieldList(Scaled, QWidget):
    """Captions at the left, values beside them, a fine line under each."""

    hit = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._scroll = Scrolling()
        self.lines: tuple[Fact, ...] = ()
        self.chosen: int | None = None

    def say(self, lines: Sequence[Fact], chosen: int | None) -> None:
        """Show other lines, or choose another one; None chooses none."""
        if (tuple(lines), chosen) != (self.lines, self.chosen):
            if chosen != self.chosen:
                self._scroll.follow()
            self.lines, self.chosen = tuple(lines), chosen
            self.setAccessibleName("; ".join(f"{x.caption} {x.value} {x.more}" for x in lines))
            self.update()

    def pitch(self) -> int:
        """Give the height of a line."""
        return self.scale.target(7.0)

    def _room(self) -> int:
        return max(1, self.height() // self.pitch())

    def _first(self) -> int:
        return self._scroll.first(len(self.lines), self._room(), self.chosen or 0)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Write the lines that have room, the chosen one among them."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        first = self._first()
        for at, line in enumerate(self.lines[first : first + self._room()]):
            self._paint_line(painter, line, at * self.pitch(), chosen=first + at == self.chosen)
        paint_position(painter, self, (first, self._room(), len(self.lines)), steps=0.5)

    def _paint_line(self, painter: QPainter, line: Fact, top: float, *, chosen: bool) -> None:
        grid, high = self.scale.grid, float(self.pitch())
        left, right = float(grid(4)), float(self.width() - grid(1.5))
        low = top + high - self.scale.rule
        draw_rule(painter, self, QPointF(left, low), QPointF(right, low), self.scale.rule)
        if chosen:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(ink(self, Role.EMPHASIS))
            draw_index(painter, QPointF(grid(2.4), top + high / 2), Heading.RIGHT, grid(1.8))
        captioned = any(line.caption for line in self.lines)
        start = left + (min(grid(_CAPTION_STEPS), (right - left) * 0.42) if captioned else 0.0)
        letter(painter, self, Size.CAPTION, Role.TEXT)
        write(painter, QRectF(left, top, start - left - grid(1), high), line.caption)
        letter(painter, self, Size.BODY, Role.EMPHASIS if chosen else Role.TEXT)
        value = QRectF(start, top, right - start, high)
        used = write(painter, value, line.value)
        letter(painter, self, Size.SMALL, Role.TEXT)
        write_if_it_fits(painter, value.adjusted(used + grid(2), 0, 0, 0), line.more)

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802 - Qt's name
        """Look at other rows without choosing one."""
        self._scroll.wheel(event, len(self.lines), self._room())
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Take the line that was hit."""
        at = self._first() + int(event.position().y()) // self.pitch()
        if 0 <= at < len(self.lines):
            self.hit.emit(at)
