"""What is known of the mount: each effect as a bar within what was held before any sighting."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from companion.window.kit.lettering import Size, letter, write
from companion.window.kit.palette import Role, ink
from companion.window.kit.type_scale import Scaled
from companion.window.mount.words import ParameterWords

_BAR_SHARE = 0.17  # of the width
_NAME_SHARE = 0.5


class ParameterBars(Scaled, QWidget):
    """Rows of name, bar and value; those that find no room are left out from the end."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows: tuple[ParameterWords, ...] = ()
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def say(self, rows: Sequence[ParameterWords]) -> None:
        """Show other rows."""
        if tuple(rows) != self.rows:
            self.rows = tuple(rows)
            self.setAccessibleName("; ".join(f"{row.name} {row.value}" for row in rows))
            self.update()

    def pitch(self) -> float:
        """Give the height of a row."""
        return QFontMetricsF(Size.SMALL.font(self.scale)).height() * 1.12

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Write the rows that have room."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), ink(self, Role.GROUND))
        pitch = self.pitch()
        for at, row in enumerate(self.rows[: int(self.height() / pitch)]):
            self._paint_row(painter, row, at * pitch)

    def _paint_row(self, painter: QPainter, row: ParameterWords, top: float) -> None:
        width, gap = float(self.width()), self.scale.grid(1.5)
        name = QRectF(0, top, width * _NAME_SHARE - gap, self.pitch())
        bar = QRectF(name.right() + gap, top, width * _BAR_SHARE - gap, self.pitch())
        value = QRectF(bar.right() + gap, top, width - bar.right() - gap, self.pitch())
        letter(painter, self, Size.SMALL, Role.TEXT)
        write(painter, name, row.name)
        letter(painter, self, Size.SMALL, Role.EMPHASIS if row.known else Role.TEXT)
        write(painter, value, row.value)
        self._paint_bar(painter, row, bar)

    def _paint_bar(self, painter: QPainter, row: ParameterWords, bar: QRectF) -> None:
        """Draw what was held before as a fine line, what is known now as a heavy one on it."""
        middle, half = bar.center(), bar.width() / 2
        tick = self.scale.grid(0.6)
        painter.setPen(QPen(ink(self, Role.TEXT), self.scale.hair))
        painter.drawLine(QPointF(bar.left(), middle.y()), QPointF(bar.right(), middle.y()))
        for x in (bar.left(), middle.x(), bar.right()):
            painter.drawLine(QPointF(x, middle.y() - tick), QPointF(x, middle.y() + tick))
        pen = QPen(ink(self, Role.EMPHASIS if row.known else Role.TEXT), self.scale.grid(0.6))
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        painter.setPen(pen)
        ends = [min(max(row.at + side * row.half, -1.0), 1.0) * half for side in (-1, 1)]
        short = max(0.0, self.scale.grid(0.6) - (ends[1] - ends[0])) / 2
        painter.drawLine(
            QPointF(middle.x() + ends[0] - short, middle.y()),
            QPointF(middle.x() + ends[1] + short, middle.y()),
        )
