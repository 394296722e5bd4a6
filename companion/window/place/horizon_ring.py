"""The horizon of the place from above: what hides the sky, and where Sun, Moon and target stand."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QBrush,
    QFontMetricsF,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QWidget

from companion.instant import Light, Snapshot
from companion.window.kit.dial_face import PLAIN_RING, graduations
from companion.window.kit.gauge import Gauge
from companion.window.kit.lettering import Size, letter, write, write_if_it_fits
from companion.window.kit.palette import Role
from companion.window.kit.symbols import draw_moon, draw_sun, polar, stroke

_LETTERS = {0: "N", 90: "E", 180: "S", 270: "W"}
_RINGS_DEG = (30, 60)
_TICK_STEPS = (0.5, 0.9, 1.4)  # lengths by rank, in steps of the grid
_CENTRE = Qt.AlignmentFlag.AlignCenter


class HorizonRing(Gauge):
    """North up and east at the right, as on a map; the zenith in the middle, altitude inwards."""

    hit = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._line: tuple[tuple[float, float], ...] = ()
        self._lights: tuple[Light, ...] = ()
        self._target: tuple[str, float, float] | None = None  # name, azimuth, altitude
        self.setAccessibleName("The horizon from above")

    def show_line(self, points: Sequence[tuple[float, float]]) -> None:
        """Show a horizon of (azimuth, altitude) points all round; none: it is open."""
        if tuple(points) != self._line:
            self._line = tuple(points)
            self.renew()

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Show where Sun, Moon and target stand."""
        aim = snapshot.aim
        self._lights = snapshot.lights
        self._target = (
            (aim.target.name, aim.azimuth_deg, aim.altitude_deg)
            if aim is not None and aim.altitude_deg > 0.0
            else None
        )
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Tell that it was hit: whoever clicks on it wants to draw the horizon."""
        self.hit.emit()
        event.accept()

    # Geometry.

    def radius(self) -> float:
        """Give the radius of altitude 0."""
        label = QFontMetricsF(Size.SMALL.font(self.scale)).height()
        return max(20.0, min(self.width(), self.height()) / 2 - label * 1.3)

    def point_of(self, azimuth_deg: float, altitude_deg: float) -> QPointF:
        """Give where a direction is drawn."""
        middle = QPointF(self.width() / 2, self.height() / 2)
        high = min(max(altitude_deg, 0.0), 90.0)
        return polar(middle, self.radius() * (1.0 - high / 90.0), azimuth_deg)

    # The still layer.

    def paint_still(self, painter: QPainter) -> None:
        """Paint the ground, the line on it, the rings and the ticks all round."""
        middle, radius = self.point_of(0.0, 90.0), self.radius()
        if self._line:
            self._paint_ground(painter)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        dotted = QPen(self.tone(Role.LINE), self.scale.hair)
        dotted.setDashPattern([1.0, 5.0])
        painter.setPen(dotted)
        for altitude_deg in _RINGS_DEG:
            side = radius * (1.0 - altitude_deg / 90.0)
            painter.drawEllipse(middle, side, side)
        painter.setPen(QPen(self.tone(Role.TEXT), self.scale.hair))
        painter.drawEllipse(middle, radius, radius)
        self._paint_ticks(painter)
        self._paint_words(painter)

    def _paint_ground(self, painter: QPainter) -> None:
        line = QPolygonF([self.point_of(*point) for point in (*self._line, self._line[0])])
        ground = QPainterPath()
        ground.addEllipse(self.point_of(0.0, 90.0), self.radius(), self.radius())
        open_sky = QPainterPath()
        open_sky.addPolygon(line)
        painter.save()
        painter.setClipPath(ground.subtracted(open_sky))
        painter.setPen(QPen(self.tone(Role.LINE), self.scale.hair))
        x, high = 0.0, float(self.height())
        while x < self.width() + high:
            painter.drawLine(QPointF(x, 0.0), QPointF(x - high, high))
            x += self.scale.grid(1.25)
        painter.restore()
        painter.setPen(stroke(self.tone(Role.TEXT), self.scale.hair * 1.8))
        painter.drawPolyline(line)

    def _paint_ticks(self, painter: QPainter) -> None:
        radius, middle = self.radius(), self.point_of(0.0, 90.0)
        for tick in graduations(PLAIN_RING, 0.0, 359.999, radius / 57.3, 1e9):
            role = Role.LINE if tick.rank == 0 else Role.TEXT
            painter.setPen(QPen(self.tone(role), self.scale.hair))
            length = self.scale.grid(_TICK_STEPS[tick.rank])
            painter.drawLine(
                polar(middle, radius, tick.angle_deg),
                polar(middle, radius + length, tick.angle_deg),
            )

    def _paint_words(self, painter: QPainter) -> None:
        middle, radius = self.point_of(0.0, 90.0), self.radius()
        for azimuth_deg, name in _LETTERS.items():
            role = Role.EMPHASIS if name == "N" else Role.TEXT
            metrics = letter(painter, self, Size.SMALL, role)
            box = QRectF(0, 0, metrics.height() * 2, metrics.height())
            box.moveCenter(polar(middle, radius + metrics.height() * 0.8, azimuth_deg))
            write(painter, box, name, _CENTRE)
        metrics = letter(painter, self, Size.CAPTION, Role.TEXT)
        corner = QRectF(0, 0, self.width() / 2 - metrics.height() * 1.5, metrics.height())
        write_if_it_fits(painter, corner, "HORIZON FROM ABOVE")
        for altitude_deg in _RINGS_DEG:
            box = QRectF(0, 0, metrics.height() * 3, metrics.height())
            box.moveCenter(self.point_of(180.0, altitude_deg))
            painter.fillRect(
                box.adjusted(metrics.height(), 0, -metrics.height(), 0), self.tone(Role.GROUND)
            )
            write(painter, box, f"{altitude_deg}°", _CENTRE)

    # The moving layer.

    def paint_moving(self, painter: QPainter) -> None:
        """Paint Sun, Moon and target, those that are up."""
        size = self.scale.grid(1.3)
        for light in self._lights:
            if light.altitude_deg <= 0.0:
                continue
            at = self.point_of(light.azimuth_deg, light.altitude_deg)
            if light.body == "sun":
                draw_sun(painter, at, size, self.tone(Role.TEXT), True)
            elif light.body == "moon":
                draw_moon(painter, at, size, self.tone(Role.TEXT), light.lit_fraction or 0.0)
        if self._target is not None:
            self._paint_target(painter, *self._target)

    def _paint_target(
        self, painter: QPainter, name: str, azimuth_deg: float, altitude_deg: float
    ) -> None:
        """Draw a ring where the target stands, with its name towards the wider side."""
        at, grid = self.point_of(azimuth_deg, altitude_deg), self.scale.grid
        painter.setPen(stroke(self.tone(Role.EMPHASIS), self.scale.hair * 1.6))
        painter.setBrush(QBrush(self.tone(Role.GROUND)))
        painter.drawEllipse(at, grid(0.8), grid(0.8))
        metrics = letter(painter, self, Size.SMALL, Role.EMPHASIS)
        wide = metrics.horizontalAdvance(name) + 1.0
        leftwards = at.x() > self.width() / 2
        left = at.x() - grid(1.5) - wide if leftwards else at.x() + grid(1.5)
        box = QRectF(left, at.y() - metrics.height() / 2, wide, metrics.height())
        painter.fillRect(box, self.tone(Role.GROUND))
        write(painter, box, name)
