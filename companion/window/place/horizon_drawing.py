"""The horizon all round, unrolled from north to north, drawn by hand."""

from collections.abc import Sequence
from itertools import pairwise

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QBrush, QFontMetricsF, QMouseEvent, QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QWidget

from companion.night import HorizonLine
from companion.window.kit.dial_face import PLAIN_RING, PLAIN_SCALE, Graduation, graduations
from companion.window.kit.gauge import Gauge
from companion.window.kit.lettering import Size, letter, write
from companion.window.kit.palette import Role
from companion.window.kit.symbols import stroke

_ROUND_DEG = 360.0
_STEP_DEG, _TOP_DEG = HorizonLine.STEP_DEG, HorizonLine.TOP_DEG
_LETTERS = {0: "N", 90: "E", 180: "S", 270: "W"}
_TICK_STEPS = (0.6, 1.0, 1.6)  # lengths by rank, in steps of the grid
_TICK_HAIRS = (1.0, 1.0, 1.6)
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


class HorizonDrawing(Gauge):
    """Azimuth from left to right, altitude upwards, the ground hatched, a cursor."""

    stroked = Signal(object, object)  # from, to: (azimuth_deg, altitude_deg) on the grid

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._line = HorizonLine.through(())
        self._cursor_deg = 0
        self._paths: tuple[tuple[str, Sequence[tuple[float, float]]], ...] = ()
        self._last: tuple[int, float] | None = None  # where the hand was, while it draws
        self.setAccessibleName("Horizon")

    def show_paths(self, paths: Sequence[tuple[str, Sequence[tuple[float, float]]]]) -> None:
        """Show how targets pass tonight: names, and places (azimuth_deg, altitude_deg)."""
        self._paths = tuple(paths)
        self.update()

    def show_line(self, line: HorizonLine, cursor_deg: int) -> None:
        """Show a line, and the cursor at an azimuth."""
        self._line, self._cursor_deg = line, cursor_deg
        self.update()

    # Geometry.

    def room(self) -> QRectF:
        """Give where the line lies, without the scales."""
        metrics = QFontMetricsF(self.scale.small)
        grid = self.scale.grid
        left = metrics.horizontalAdvance("88°") + grid(3)
        top = metrics.height() / 2
        right = self.width() - metrics.horizontalAdvance("888") / 2 - grid(1)
        low = self.height() - metrics.height() - grid(2.5)
        return QRectF(left, top, max(1.0, right - left), max(1.0, low - top))

    def point_of(self, azimuth_deg: float, altitude_deg: float) -> QPointF:
        """Give where a direction is drawn; what is higher than the scale lies at its top."""
        room, high = self.room(), min(max(altitude_deg, 0.0), _TOP_DEG)
        return QPointF(
            room.left() + room.width() * azimuth_deg / _ROUND_DEG,
            room.bottom() - room.height() * high / _TOP_DEG,
        )

    def _drawn_at(self, place: QPointF) -> tuple[int, float]:
        """Give the nearest (azimuth, altitude) that can be drawn."""
        room = self.room()
        along = min(max((place.x() - room.left()) / room.width(), 0.0), 1.0)
        up = min(max((room.bottom() - place.y()) / room.height(), 0.0), 1.0)
        return round(along * _ROUND_DEG / _STEP_DEG) * _STEP_DEG, float(round(up * _TOP_DEG))

    # The hand.

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Begin to draw."""
        self._last = self._drawn_at(event.position())
        self.stroked.emit(self._last, self._last)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Draw on; a quick hand leaves no gap."""
        here = self._drawn_at(event.position())
        if self._last is not None and here != self._last:
            self.stroked.emit(self._last, here)
            self._last = here

    def mouseReleaseEvent(self, _event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Stop drawing."""
        self._last = None

    # The still layer.

    def paint_still(self, painter: QPainter) -> None:
        """Paint both scales."""
        room = self.room()
        metrics = letter(painter, self, Size.SMALL, Role.TEXT)
        per_degree = room.width() / _ROUND_DEG
        for tick in graduations(
            PLAIN_RING, 0.0, 360.0, per_degree, metrics.horizontalAdvance("8888")
        ):
            self._paint_azimuth(painter, tick, metrics)
        per_degree = room.height() / _TOP_DEG
        for tick in graduations(PLAIN_SCALE, 0.0, _TOP_DEG, per_degree, metrics.height() * 1.3):
            self._paint_altitude(painter, tick, metrics)

    def _paint_azimuth(self, painter: QPainter, tick: Graduation, metrics: QFontMetricsF) -> None:
        start = self.point_of(tick.angle_deg, 0.0)
        self._paint_tick(painter, tick, start, QPointF(0, 1))
        if not tick.label:
            return
        name = _LETTERS.get(round(tick.angle_deg) % 360, tick.label)
        letter(painter, self, Size.SMALL, Role.EMPHASIS if name.isalpha() else Role.TEXT)
        box = QRectF(0, start.y() + self.scale.grid(2), metrics.height() * 3, metrics.height())
        box.moveCenter(QPointF(start.x(), box.center().y()))
        write(painter, box, name, Qt.AlignmentFlag.AlignCenter)

    def _paint_altitude(self, painter: QPainter, tick: Graduation, metrics: QFontMetricsF) -> None:
        start = self.point_of(0.0, tick.angle_deg)
        self._paint_tick(painter, tick, start, QPointF(-1, 0))
        if tick.label:
            letter(painter, self, Size.SMALL, Role.TEXT)
            box = QRectF(0, 0, start.x() - self.scale.grid(2.2), metrics.height())
            box.moveCenter(QPointF(box.center().x(), start.y()))
            write(painter, box, f"{tick.label}°", _RIGHT)

    def _paint_tick(
        self, painter: QPainter, tick: Graduation, start: QPointF, way: QPointF
    ) -> None:
        role = Role.LINE if tick.rank == 0 else Role.TEXT
        painter.setPen(QPen(self.tone(role), self.scale.hair * _TICK_HAIRS[tick.rank]))
        painter.drawLine(start, start + way * self.scale.grid(_TICK_STEPS[tick.rank]))

    # The moving layer.

    def paint_moving(self, painter: QPainter) -> None:
        """Paint the ground, the line on it and the cursor."""
        room, points = self.room(), self._line.points
        line = [self.point_of(azimuth, altitude) for azimuth, altitude in points]
        line.append(self.point_of(360.0, points[0][1]))  # north again
        self._paint_paths(painter)
        self._paint_ground(painter, line)
        painter.setPen(QPen(self.tone(Role.LINE), self.scale.hair))
        painter.drawLine(room.bottomLeft(), room.bottomRight())
        painter.drawLine(room.bottomLeft(), room.topLeft())
        painter.setPen(stroke(self.tone(Role.TEXT), self.scale.hair * 1.8))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolyline(line)
        self._paint_cursor(painter)

    def _paint_paths(self, painter: QPainter) -> None:
        """Draw the paths of the queue behind the line, each named where it stands highest."""
        room, taken = self.room(), list[QRectF]()
        metrics = letter(painter, self, Size.SMALL, Role.TEXT)
        painter.save()
        painter.setClipRect(room)
        for name, places in self._paths:
            painter.setPen(QPen(self.tone(Role.QUIET), self.scale.hair))
            for (first, low), (second, high) in pairwise(places):
                seen = max(low, high) > 0.0 and min(low, high) < _TOP_DEG
                if seen and abs(second - first) < _ROUND_DEG / 2:
                    ends = (self._free_point(first, low), self._free_point(second, high))
                    painter.drawLine(*ends)
            box = self._name_box(metrics, name, places)
            if room.contains(box) and not any(box.intersects(other) for other in taken):
                taken.append(box)
                painter.setPen(self.tone(Role.TEXT))
                write(painter, box, name)
        painter.restore()

    def _free_point(self, azimuth_deg: float, altitude_deg: float) -> QPointF:
        """Give where a direction lies, also above or below the scale."""
        room = self.room()
        low = self.point_of(azimuth_deg, 0.0)
        return QPointF(low.x(), low.y() - room.height() * altitude_deg / _TOP_DEG)

    def _name_box(
        self, metrics: QFontMetricsF, name: str, places: Sequence[tuple[float, float]]
    ) -> QRectF:
        """Give the box of a name beside the highest place that the scale still holds."""
        inside = [one for one in places if one[1] < _TOP_DEG - 4.0]
        azimuth, altitude = max(inside, key=lambda one: one[1], default=(0.0, -90.0))
        box = QRectF(0, 0, metrics.horizontalAdvance(name) + 2, metrics.height())
        box.moveBottomLeft(self._free_point(azimuth, altitude) + QPointF(self.scale.grid(0.8), 0))
        return box

    def _paint_ground(self, painter: QPainter, line: list[QPointF]) -> None:
        room, grid = self.room(), self.scale.grid
        ground = QPainterPath(room.bottomLeft())
        for point in (*line, room.bottomRight()):
            ground.lineTo(point)
        ground.closeSubpath()
        painter.fillPath(ground, self.tone(Role.GROUND))  # what is behind it is not seen
        painter.save()
        painter.setClipPath(ground)
        painter.setPen(QPen(self.tone(Role.LINE), self.scale.hair))
        x, high = room.left(), room.height()
        while x < room.right() + high:
            painter.drawLine(QPointF(x, room.top()), QPointF(x - high, room.bottom()))
            x += grid(1.25)
        painter.restore()

    def _paint_cursor(self, painter: QPainter) -> None:
        """Draw a fine upright line with a knob where it meets the horizon."""
        room, at = self.room(), self._cursor_deg
        knob = self.point_of(at, self._line.altitude_deg(at))
        painter.setPen(QPen(self.tone(Role.EMPHASIS), self.scale.hair))
        painter.drawLine(QPointF(knob.x(), room.top()), QPointF(knob.x(), room.bottom()))
        painter.setPen(stroke(self.tone(Role.EMPHASIS), self.scale.hair * 1.8))
        painter.setBrush(QBrush(self.tone(Role.GROUND)))
        painter.drawEllipse(knob, self.scale.grid(0.8), self.scale.grid(0.8))
