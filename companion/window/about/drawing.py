"""The target as the instrument shows it: only paints the shapes that were computed."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QBrush, QFontMetricsF, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from companion.window.kit.gauge import Gauge
from companion.window.kit.lettering import Size, letter, write
from companion.window.kit.palette import Role

if TYPE_CHECKING:
    from companion.about import Label, Picture, Shape

_ROLES = {
    "dark": Role.GROUND, "quiet": Role.LINE, "light": Role.TEXT, "bright": Role.EMPHASIS,
}  # fmt: skip
_RIM = 3.0  # grid steps around the picture
_PLACE = 0.9  # grid steps around a named place that stay free of other names


class Drawing(Gauge):
    """Draws a picture in the largest circle that has room."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._picture: Picture | None = None
        self.setAccessibleName("What the instrument shows")

    def show_picture(self, picture: "Picture | None") -> None:
        """Take a new picture."""
        if picture != self._picture:
            self._picture = picture
            self.renew()

    def paint_still(self, painter: QPainter) -> None:
        """Paint shapes, points, names, and which way north is."""
        picture = self._picture
        if picture is None:
            return
        side = min(self.width(), self.height()) / 2.0 - self.scale.grid(_RIM)
        per = max(side, 1.0) / picture.radius_arcsec
        middle = QPointF(self.width() / 2.0, self.height() / 2.0)
        for shape in picture.shapes:
            self._paint_shape(painter, shape, middle, per)
        if picture.field_arcsec is not None:
            self._paint_field(painter, middle, picture.field_arcsec * per)
        for dot in picture.dots:
            self._paint_dot(painter, _at(middle, per, dot.x, dot.y), dot.size, dot.name)
        self._paint_labels(painter, picture.labels, middle, per)
        if picture.north_deg is not None:
            self._paint_north(painter, middle, side, picture.north_deg)

    def _paint_shape(self, painter: QPainter, shape: "Shape", middle: QPointF, per: float) -> None:
        polygon = QPolygonF([_at(middle, per, x, y) for x, y in shape.points])
        tone = self.tone(_ROLES[shape.tone])
        if shape.filled:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QBrush(tone))
        else:
            painter.setPen(QPen(tone, self.scale.hair))
            painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolygon(polygon)

    def _paint_field(self, painter: QPainter, middle: QPointF, radius: float) -> None:
        painter.setPen(QPen(self.tone(Role.LINE), self.scale.hair * 1.2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(middle, radius, radius)

    def _paint_dot(self, painter: QPainter, at: QPointF, size: float, name: str) -> None:
        half = size * self.scale.factor
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(self.tone(Role.EMPHASIS)))
        painter.drawEllipse(at, half, half)
        if name:
            self._write(painter, at + QPointF(half + self.scale.grid(0.5), 0.0), name)

    def _paint_labels(
        self, painter: QPainter, labels: "tuple[Label, ...]", middle: QPointF, per: float
    ) -> None:
        """Write names beside their places; one that has no room beside the others is left out."""
        places = [_at(middle, per, label.x, label.y) for label in labels]
        reach = self.scale.grid(_PLACE)
        taken = [QRectF(at.x() - reach, at.y() - reach, 2 * reach, 2 * reach) for at in places]
        metrics = letter(painter, self, Size.SMALL, Role.EMPHASIS)
        for label, at in zip(labels, places, strict=True):
            size = QSizeF(metrics.horizontalAdvance(label.text), metrics.height())
            free = [
                box
                for box in self._beside(at, size)
                if not any(box.intersects(other) for other in taken)
            ]
            if not free:
                continue
            box = free[0]
            taken.append(box)
            painter.fillRect(box.adjusted(-3, 0, 3, 0), self.tone(Role.GROUND))
            self._write(painter, QPointF(box.left(), box.center().y()), label.text)

    def _beside(self, at: QPointF, size: QSizeF) -> list[QRectF]:
        """Give where the name of a place may stand: at its right, left, below, above."""
        gap = self.scale.grid()
        down, away = size.height() / 2.0, size.width() / 2.0
        corners = (
            QPointF(gap, -down),
            QPointF(-gap - size.width(), -down),
            QPointF(-away, gap),
            QPointF(-away, -gap - size.height()),
        )
        boxes = [QRectF(at + corner, size) for corner in corners]
        return [box for box in boxes if box.left() >= 0.0 and box.right() <= self.width()]

    def _write(self, painter: QPainter, at: QPointF, text: str) -> None:
        metrics = letter(painter, self, Size.SMALL, Role.EMPHASIS)
        wide = metrics.horizontalAdvance(text) + 2.0
        write(
            painter, QRectF(at.x(), at.y() - metrics.height() / 2.0, wide, metrics.height()), text
        )

    def _paint_north(
        self, painter: QPainter, middle: QPointF, side: float, north_deg: float
    ) -> None:
        """Letter the direction of north at the rim."""
        from math import cos, radians, sin

        metrics = QFontMetricsF(Size.CAPTION.font(self.scale))
        away, angle = side + metrics.height() * 0.7, radians(north_deg)
        at = middle + QPointF(away * sin(angle), -away * cos(angle))
        letter(painter, self, Size.CAPTION, Role.TEXT)
        box = QRectF(0, 0, metrics.horizontalAdvance("N") + 4.0, metrics.height())
        box.moveCenter(at)
        box.moveTop(min(max(box.top(), 0.0), self.height() - box.height()))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, "N")


def _at(middle: QPointF, per: float, x: float, y: float) -> QPointF:
    return QPointF(middle.x() + x * per, middle.y() - y * per)
