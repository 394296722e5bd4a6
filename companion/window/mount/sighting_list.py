"""The sightings one below the other: what was read, and how far off it lies."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QBrush,
    QFontMetricsF,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from companion.window.kit.lettering import Size, letter, write, write_if_it_fits
from companion.window.kit.palette import Role, ink
from companion.window.kit.scrolling import Scrolling, paint_position
from companion.window.kit.symbols import Heading, draw_index, draw_rule, stroke
from companion.window.kit.type_scale import Scaled
from companion.window.mount.words import SightingWords

_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_HEADS = ("TIME", "ALTITUDE", "AZIMUTH", "OFF BY")


class SightingList(Scaled, QWidget):
    """Rows with a numbered dot, a name and four figures; one of them is chosen."""

    hit = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._scroll = Scrolling()
        self.rows: tuple[SightingWords, ...] = ()
        self.chosen = 0
        self.setAccessibleName("Sightings")
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def say(self, rows: Sequence[SightingWords], chosen: int) -> None:
        """Show other rows, or choose another one."""
        if (tuple(rows), chosen) != (self.rows, self.chosen):
            if chosen != self.chosen:
                self._scroll.follow()
            self.rows, self.chosen = tuple(rows), chosen
            self.setAccessibleName("; ".join(f"{x.name} {x.figures[3]} {x.more}" for x in rows))
            self.update()

    def height_for_rows(self, count: int) -> int:
        """Give the height in which so many rows have room."""
        return self._head_height() + count * self._row_height()

    def _row_height(self) -> int:
        return self.scale.target(7.5)

    def _head_height(self) -> int:
        return round(QFontMetricsF(Size.CAPTION.font(self.scale)).height()) + self.scale.grid(1)

    def _room(self) -> int:
        return max(1, (self.height() - self._head_height()) // self._row_height())

    def _first(self) -> int:
        return self._scroll.first(len(self.rows), self._room(), self.chosen)

    def _columns(self) -> tuple[QRectF, list[QRectF]]:
        """Give the boxes of the name and of the four figures."""
        metrics = QFontMetricsF(Size.SMALL.font(self.scale))
        caption = QFontMetricsF(Size.CAPTION.font(self.scale))
        gap = self.scale.grid(2)
        wide = [
            gap + max(caption.horizontalAdvance(head) * 1.04, metrics.horizontalAdvance("888.8°"))
            for head in _HEADS
        ]
        high, right = float(self._row_height()), float(self.width())
        boxes: list[QRectF] = []
        for width in reversed(wide):
            boxes.insert(0, QRectF(right - width, 0, width, high))
            right -= width
        left = float(self.scale.grid(9.5))
        return QRectF(left, 0, max(1.0, right - left), high), boxes

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Write the heads and the rows that have room."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), ink(self, Role.GROUND))
        if not self.rows:
            return
        name, columns = self._columns()
        metrics = letter(painter, self, Size.CAPTION, Role.TEXT)
        for box, head in zip(columns, _HEADS, strict=True):
            line = QRectF(box.left(), 0, box.width(), metrics.height())
            write(painter, line, head, _RIGHT)
        first = self._first()
        for at, row in enumerate(self.rows[first : first + self._room()], first):
            top = self._head_height() + (at - first) * self._row_height()
            self._paint_row(painter, at, row, name.translated(0, top))
            self._paint_figures(painter, row, [box.translated(0, top) for box in columns])
        seen = (first, self._room(), len(self.rows))
        paint_position(painter, self, seen, top=self._head_height(), steps=0.3)

    def _paint_row(self, painter: QPainter, at: int, row: SightingWords, name: QRectF) -> None:
        grid, middle = self.scale.grid, name.center().y()
        ends = (QPointF(grid(3), name.top()), QPointF(self.width(), name.top()))
        draw_rule(painter, self, *ends, self.scale.rule)
        if at == self.chosen:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(ink(self, Role.EMPHASIS))
            draw_index(painter, QPointF(grid(1.6), middle), Heading.RIGHT, grid(1.6))
        dot = QFontMetricsF(Size.CAPTION.font(self.scale)).height() * 0.6
        centre = QPointF(grid(4.0), middle)
        draw_dot(painter, self, centre, dot, at + 1, aside=row.aside, weak=row.weak)
        role = Role.TEXT if row.aside or at != self.chosen else Role.EMPHASIS
        metrics = letter(painter, self, Size.BODY, role)
        used = write(painter, name, row.name)
        if row.aside:
            painter.drawLine(
                QPointF(name.left(), middle + metrics.descent() * 0.3),
                QPointF(name.left() + used, middle + metrics.descent() * 0.3),
            )
        letter(painter, self, Size.SMALL, Role.EMPHASIS if row.questioned else Role.TEXT)
        write_if_it_fits(painter, name.adjusted(used + grid(1.5), 0, 0, 0), row.more)

    def _paint_figures(
        self, painter: QPainter, row: SightingWords, columns: Sequence[QRectF]
    ) -> None:
        letter(painter, self, Size.SMALL, Role.TEXT)
        for box, text in zip(columns, row.figures, strict=True):
            if box is columns[-1] and not row.aside:
                painter.setPen(ink(self, Role.EMPHASIS))
            write(painter, box, text, _RIGHT)

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802 - Qt's name
        """Look at other rows without choosing one."""
        self._scroll.wheel(event, len(self.rows), self._room())
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Choose the row that was hit."""
        at = self._first() + int(event.position().y() - self._head_height()) // self._row_height()
        if event.position().y() >= self._head_height() and at < len(self.rows):
            self.hit.emit(at)


_RING = 0.55  # of the room that a mark has


def draw_dot(
    painter: QPainter,
    widget: Scaled,
    centre: QPointF,
    radius: float,
    at: int,
    *,
    aside: bool,
    weak: bool,
) -> None:
    """Draw a ring with its number beside it: dim if weak, dim and struck if set aside."""
    if not isinstance(widget, QWidget):
        return
    quiet = aside or weak
    tone = ink(widget, Role.TEXT if quiet else Role.EMPHASIS)
    ring = radius * _RING
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(ink(widget, Role.GROUND)))
    painter.drawEllipse(centre, ring + widget.scale.hair * 2, ring + widget.scale.hair * 2)
    painter.setPen(QPen(tone, widget.scale.hair * (1.2 if quiet else 2.4)))
    painter.drawEllipse(centre, ring, ring)
    painter.setFont(Size.CAPTION.font(widget.scale))
    painter.setPen(tone)
    metrics = QFontMetricsF(painter.font())
    low = centre.y() + metrics.capHeight() / 2
    painter.drawText(QPointF(centre.x() + ring + widget.scale.grid(0.6), low), str(at))
    if aside:
        painter.setPen(stroke(tone, widget.scale.hair * 1.6))
        reach = ring * 1.5
        painter.drawLine(centre + QPointF(-reach, reach), centre + QPointF(reach, -reach))
