"""The altitude quadrant: the tube at the height that it must be brought to."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QFontMetricsF, QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QWidget

from companion.window.kit.dial_face import PLAIN_SCALE, DialScale, graduations
from companion.window.kit.gauge import Gauge
from companion.window.kit.motion import Glide, Motion
from companion.window.kit.palette import Role
from companion.window.kit.symbols import Heading, draw_index, polar, stroke
from companion.window.kit.type_scale import TypeScale

_LOW_DEG, _HIGH_DEG = -8.0, 90.0


@dataclass(frozen=True, slots=True)
class QuadrantFacts:
    """What the quadrant shows; angles in degrees above the level horizon, refraction included."""

    altitude_deg: float | None = None  # None: nothing to aim at, or withheld
    last_deg: float | None = None  # where the tube was
    horizon_deg: float = 0.0  # of this site towards this azimuth
    scale: DialScale = PLAIN_SCALE


class Quadrant(Gauge):
    """Tube, dial, ground and the site's own horizon, seen from the side."""

    def __init__(self, motion: Motion, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._facts = QuadrantFacts()
        self._tube = Glide(motion, self.update)
        self._last = Glide(motion, self.update)
        self.setAccessibleName("Altitude quadrant")

    def show_facts(self, facts: QuadrantFacts) -> None:
        """Take new facts; the tube sweeps to its place."""
        old, self._facts = self._facts, facts
        if (
            old.scale != facts.scale
            or abs(old.horizon_deg - facts.horizon_deg) > self._half_pixel()
        ):
            self.renew()
        self._tube.tolerance = self._last.tolerance = self._half_pixel()
        self._tube.follow(facts.altitude_deg)
        self._last.follow(facts.last_deg)

    # Geometry: the pivot, and the radius of the dial.

    def _radius(self) -> float:
        label = QFontMetricsF(self.scale.small)
        across = self.width() - self.scale.grid(6) - label.horizontalAdvance("90") * 1.9
        up = (self.height() - label.height() * 1.5) / 1.17
        return max(20.0, min(across / 1.02, up))

    def reach(self) -> int:
        """Give how far it is drawn to the right, its figures included."""
        label = QFontMetricsF(self.scale.small)
        figures = max(label.height(), label.horizontalAdvance("90")) * 1.9
        return round(self._pivot().x() + self._radius() * 1.02 + figures) + 1

    def _pivot(self) -> QPointF:
        label = QFontMetricsF(self.scale.small)
        return QPointF(self.scale.grid(6), label.height() * 1.5 + self._radius())

    def _half_pixel(self) -> float:
        return 0.5 * 57.3 / self._radius()

    def _at(self, radius: float, altitude_deg: float) -> QPointF:
        return polar(self._pivot(), radius, 90.0 - altitude_deg)

    # The still layer.

    def paint_still(self, painter: QPainter) -> None:
        """Paint the dial, the ground and the site's horizon."""
        self._paint_ground(painter)
        self._paint_horizon(painter)
        self._paint_dial(painter)

    def _paint_dial(self, painter: QPainter) -> None:
        radius, grid, hair = self._radius(), self.scale.grid(), self.scale.hair
        metrics = QFontMetricsF(self.scale.small)
        painter.setFont(self.scale.small)
        for tick in graduations(
            self._facts.scale, _LOW_DEG, _HIGH_DEG, radius / 57.3, metrics.height() * 1.5
        ):
            role = Role.LINE if tick.rank == 0 else Role.TEXT
            painter.setPen(QPen(self.tone(role), hair * (1.0, 1.0, 1.6)[tick.rank]))
            length = grid * (0.9, 1.5, 2.2)[tick.rank]
            painter.drawLine(
                self._at(radius - length, tick.angle_deg), self._at(radius, tick.angle_deg)
            )
            if tick.label and tick.angle_deg >= -0.5:
                centre = self._at(radius + metrics.height() * 0.85, tick.angle_deg)
                box = QRectF(0, 0, metrics.height() * 3, metrics.height())
                box.moveCenter(centre)
                painter.setPen(self.tone(Role.TEXT))
                painter.drawText(box, Qt.AlignmentFlag.AlignCenter, tick.label)
        painter.setPen(QPen(self.tone(Role.TEXT), hair))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawArc(
            self._circle(radius), round(_LOW_DEG * 16), round((_HIGH_DEG - _LOW_DEG) * 16)
        )

    def _circle(self, radius: float) -> QRectF:
        pivot = self._pivot()
        return QRectF(pivot.x() - radius, pivot.y() - radius, 2 * radius, 2 * radius)

    def _paint_ground(self, painter: QPainter) -> None:
        """Draw the level horizon with the hatching of ground beneath it."""
        pivot, radius, grid = self._pivot(), self._radius(), self.scale.grid()
        left, right = 0.0, pivot.x() + radius - 2.4 * grid
        painter.setPen(QPen(self.tone(Role.LINE), self.scale.hair))
        x = left + grid
        while x < right:
            painter.drawLine(QPointF(x, pivot.y()), QPointF(x - grid * 0.8, pivot.y() + grid * 0.8))
            x += grid * 1.25
        painter.setPen(QPen(self.tone(Role.TEXT), self.scale.hair))
        painter.drawLine(QPointF(left, pivot.y()), QPointF(right, pivot.y()))

    def _paint_horizon(self, painter: QPainter) -> None:
        """Draw what stands in the way on this site towards this azimuth."""
        height = self._facts.horizon_deg
        if abs(height) < 0.05:
            return
        radius, grid = self._radius(), self.scale.grid()
        inner, outer = self._circle(radius * 0.72), self._circle(radius - 2.6 * grid)
        sector = QPainterPath()
        sector.arcMoveTo(outer, 0)
        sector.arcTo(outer, 0, height)
        sector.arcTo(inner, height, -height)
        sector.closeSubpath()
        painter.save()
        painter.setClipPath(sector)
        painter.setPen(QPen(self.tone(Role.LINE), self.scale.hair))
        box = sector.boundingRect()
        x = box.left() - box.height()
        while x < box.right():
            painter.drawLine(QPointF(x, box.bottom()), QPointF(x + box.height(), box.top()))
            x += grid
        painter.restore()
        painter.setPen(QPen(self.tone(Role.TEXT), self.scale.hair * 1.6))
        painter.drawLine(self._at(radius * 0.72, height), self._at(radius - 2.6 * grid, height))

    # The moving layer.

    def paint_moving(self, painter: QPainter) -> None:
        """Paint where the tube was, the way to go, and the tube."""
        altitude, last = self._tube.shown, self._last.shown
        if last is not None:
            self._paint_last(painter, last)
        if altitude is None:
            self._paint_pier(painter)
            return
        if last is not None and abs(altitude - last) > 2.0:
            self._paint_way(painter, last, altitude)
        self._paint_needle(painter, altitude)
        self._paint_pier(painter)
        self._paint_tube(painter, altitude)

    def _paint_last(self, painter: QPainter, last: float) -> None:
        radius, grid = self._radius(), self.scale.grid()
        pen = QPen(self.tone(Role.TEXT), self.scale.hair)
        pen.setDashPattern([2.0, 5.0])
        painter.setPen(pen)
        painter.drawLine(self._at(radius * 0.16, last), self._at(radius - 3 * grid, last))
        painter.setPen(QPen(self.tone(Role.TEXT), self.scale.hair))
        painter.setBrush(QBrush(self.tone(Role.GROUND)))
        painter.drawEllipse(self._at(radius - 3 * grid, last), grid * 0.5, grid * 0.5)

    def _paint_way(self, painter: QPainter, last: float, altitude: float) -> None:
        """Draw the arc along which the tube goes, with its arrowhead."""
        radius, grid = self._radius() * 0.84, self.scale.grid()
        up = altitude > last
        end = altitude - (1.0 if up else -1.0) * min(abs(altitude - last), 57.3 * grid / radius)
        painter.setPen(stroke(self.tone(Role.TEXT), self.scale.hair * 1.6))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawArc(self._circle(radius), round(last * 16), round((end - last) * 16))
        painter.save()
        painter.translate(self._at(radius, altitude - (0.6 if up else -0.6)))
        painter.rotate(-altitude if up else 180.0 - altitude)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(self.tone(Role.TEXT)))
        draw_index(painter, QPointF(0, 0), Heading.UP, grid * 1.3)
        painter.restore()

    def _paint_needle(self, painter: QPainter, altitude: float) -> None:
        radius, grid = self._radius(), self.scale.grid()
        painter.setPen(stroke(self.tone(Role.EMPHASIS), self.scale.hair * 2))
        painter.drawLine(self._at(radius * 0.6, altitude), self._at(radius + grid * 0.6, altitude))

    def _paint_tube(self, painter: QPainter, altitude: float) -> None:
        """Draw the telescope: tube, dew cap, finder, eyepiece."""
        radius = self._radius()
        painter.save()
        painter.translate(self._pivot())
        painter.rotate(-altitude)
        painter.setPen(stroke(self.tone(Role.EMPHASIS), self.scale.hair * 1.8))
        painter.setBrush(QBrush(self.tone(Role.GROUND)))
        half = radius * 0.052
        painter.drawRect(QRectF(-radius * 0.13, -half, radius * 0.58, 2 * half))
        painter.drawRect(QRectF(radius * 0.45, -half * 1.25, radius * 0.16, 2.5 * half))
        painter.drawRect(QRectF(-radius * 0.17, -half * 0.42, radius * 0.04, half * 0.84))
        painter.drawRect(QRectF(radius * 0.02, -half * 2.1, radius * 0.18, half * 0.66))
        painter.setBrush(QBrush(self.tone(Role.EMPHASIS)))
        painter.drawEllipse(QPointF(0, 0), half * 0.42, half * 0.42)
        painter.restore()

    def _paint_pier(self, painter: QPainter) -> None:
        """Draw the fork that carries the tube, down to the ground."""
        pivot, radius = self._pivot(), self._radius()
        foot = min(self.height() - 1.0, pivot.y() + radius * 0.16)
        painter.setPen(stroke(self.tone(Role.TEXT), self.scale.hair * 1.4))
        for side in (-1, 1):
            painter.drawLine(pivot, QPointF(pivot.x() + side * radius * 0.06, foot))
        painter.setBrush(QBrush(self.tone(Role.GROUND)))
        painter.drawEllipse(pivot, radius * 0.02, radius * 0.02)

    def set_scale(self, scale: TypeScale) -> None:
        """Take a new scale."""
        super().set_scale(scale)
        self._tube.tolerance = self._half_pixel()
