"""The azimuth ring: the mount seen from above, true north up."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QFontMetricsF, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from companion.instant import Light
from companion.window.kit.dial_face import PLAIN_RING, DialScale, graduations
from companion.window.kit.gauge import Gauge
from companion.window.kit.motion import Glide, Motion
from companion.window.kit.palette import Role
from companion.window.kit.symbols import Heading, draw_index, draw_moon, draw_sun, polar, stroke

_LETTERS = {0: "N", 90: "E", 180: "S", 270: "W"}


@dataclass(frozen=True, slots=True)
class RingFacts:
    """What the ring shows; azimuths in degrees from true north through east."""

    azimuth_deg: float | None = None  # None: nothing to aim at, or withheld
    turn_deg: float | None = None  # from where the tube was, right positive, as it must go
    magnetic_north_deg: float | None = None
    lights: tuple[Light, ...] = ()
    scale: DialScale = PLAIN_RING


class Ring(Gauge):
    """Ring, needle, where the tube was, Sun and Moon, true and magnetic north."""

    def __init__(self, motion: Motion, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._facts = RingFacts()
        self._needle = Glide(motion, self.update, period=360.0)
        self._turn = Glide(motion, self.update)
        self._lights: tuple[tuple[str, int, int, bool], ...] = ()
        self.setAccessibleName("Azimuth ring")

    def show_facts(self, facts: RingFacts) -> None:
        """Take new facts; the needle sweeps to its place."""
        old, self._facts = self._facts, facts
        if old.scale != facts.scale or old.magnetic_north_deg != facts.magnetic_north_deg:
            self.renew()
        half_pixel = 0.5 * 57.3 / self._radius()
        lights = tuple(
            (
                light.body,
                round(light.azimuth_deg / half_pixel / 2),
                round(20 * (light.lit_fraction or 0)),
                light.altitude_deg > 0,
            )
            for light in facts.lights
        )
        if lights != self._lights:
            self._lights = lights
            self.update()
        self._needle.tolerance = self._turn.tolerance = half_pixel
        self._needle.follow(facts.azimuth_deg)
        self._turn.follow(facts.turn_deg)

    def _radius(self) -> float:
        label = QFontMetricsF(self.scale.small).height()
        side = min(self.width(), self.height())
        return max(20.0, side / 2 - label * 1.55)

    def _centre(self) -> QPointF:
        return QPointF(self.width() / 2, self.height() / 2)

    def _at(self, radius: float, azimuth_deg: float) -> QPointF:
        return polar(self._centre(), radius, azimuth_deg)

    # The still layer.

    def paint_still(self, painter: QPainter) -> None:
        """Paint the graduated ring, its letters and the two norths."""
        radius, hair = self._radius(), self.scale.hair
        painter.setPen(QPen(self.tone(Role.TEXT), hair))
        painter.drawEllipse(self._centre(), radius, radius)
        self._paint_ticks(painter)
        self._paint_letters(painter)
        self._paint_norths(painter)

    def _paint_ticks(self, painter: QPainter) -> None:
        radius, grid, hair = self._radius(), self.scale.grid(), self.scale.hair
        metrics = QFontMetricsF(self.scale.small)
        painter.setFont(self.scale.small)
        gap = metrics.horizontalAdvance("888") * 1.7
        offset = self._facts.scale.offset_deg
        for tick in graduations(self._facts.scale, 0.0, 359.999, radius / 57.3, gap):
            role = Role.LINE if tick.rank == 0 else Role.TEXT
            painter.setPen(QPen(self.tone(role), hair * (1.0, 1.0, 1.6)[tick.rank]))
            length = grid * (0.9, 1.4, 2.0)[tick.rank]
            painter.drawLine(
                self._at(radius, tick.angle_deg), self._at(radius - length, tick.angle_deg)
            )
            if tick.label and not (offset == 0.0 and round(tick.angle_deg) % 360 in _LETTERS):
                box = QRectF(0, 0, metrics.horizontalAdvance("888") * 2, metrics.height())
                box.moveCenter(self._at(radius + metrics.height() * 0.8, tick.angle_deg))
                painter.setPen(self.tone(Role.TEXT))
                painter.drawText(box, Qt.AlignmentFlag.AlignCenter, tick.label)

    def _paint_letters(self, painter: QPainter) -> None:
        """Letters outside where the dial counts from north, inside where figures stand there."""
        radius, grid = self._radius(), self.scale.grid()
        inside = self._facts.scale.offset_deg != 0.0 or self._facts.scale.direction < 0
        painter.setFont(self.scale.body)
        metrics = QFontMetricsF(self.scale.body)
        at = radius - grid * 4 if inside else radius + metrics.height() * 0.55
        for azimuth, letter in _LETTERS.items():
            box = QRectF(0, 0, metrics.height() * 2, metrics.height())
            box.moveCenter(self._at(at, azimuth))
            painter.setPen(self.tone(Role.EMPHASIS if letter == "N" else Role.TEXT))
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, letter)

    def _paint_norths(self, painter: QPainter) -> None:
        """Draw a solid mark at true north, an open one at magnetic north."""
        radius, grid = self._radius(), self.scale.grid()
        painter.save()
        painter.translate(self._at(radius - grid * 0.4, 0.0))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(self.tone(Role.EMPHASIS)))
        draw_index(painter, QPointF(0, 0), Heading.UP, grid * 1.8)
        painter.restore()
        magnetic = self._facts.magnetic_north_deg
        if magnetic is None:
            return
        painter.save()
        painter.translate(self._at(radius - grid * 0.4, magnetic))
        painter.rotate(magnetic)
        painter.setPen(QPen(self.tone(Role.TEXT), self.scale.hair * 1.2))
        painter.setBrush(QBrush(self.tone(Role.GROUND)))
        draw_index(painter, QPointF(0, 0), Heading.UP, grid * 1.8)
        painter.restore()

    # The moving layer.

    def paint_moving(self, painter: QPainter) -> None:
        """Paint Sun and Moon, where the tube was, the way to go, and the needle."""
        self._paint_lights(painter)
        azimuth, turn = self._needle.shown, self._turn.shown
        if azimuth is None:
            self._paint_hub(painter)
            return
        if turn is not None and abs(turn) > 2.0:
            self._paint_way(painter, azimuth, turn)
        self._paint_needle(painter, azimuth)
        self._paint_hub(painter)

    def _paint_lights(self, painter: QPainter) -> None:
        radius, size = self._radius(), self.scale.grid(1.3)
        for light in self._facts.lights:
            up = light.altitude_deg > 0
            colour = self.tone(Role.TEXT if up else Role.LINE)
            centre = self._at(radius - self.scale.grid(4.6), light.azimuth_deg)
            if light.body == "sun":
                draw_sun(painter, centre, size, colour, up)
            elif light.body == "moon":
                draw_moon(painter, centre, size, colour, light.lit_fraction or 0.0 if up else None)

    def _paint_way(self, painter: QPainter, azimuth: float, turn: float) -> None:
        """Draw where the tube was and the arc along which it must be turned."""
        last, radius, grid = azimuth - turn, self._radius(), self.scale.grid()
        pen = QPen(self.tone(Role.TEXT), self.scale.hair)
        pen.setDashPattern([2.0, 5.0])
        painter.setPen(pen)
        painter.drawLine(self._at(grid * 2, last), self._at(radius - grid * 3, last))
        painter.setPen(QPen(self.tone(Role.TEXT), self.scale.hair))
        painter.setBrush(QBrush(self.tone(Role.GROUND)))
        painter.drawEllipse(self._at(radius - grid * 3, last), grid * 0.5, grid * 0.5)
        arc, sign = radius * 0.52, 1.0 if turn > 0 else -1.0
        head = min(abs(turn), 57.3 * grid / arc)
        box = QRectF(0, 0, 2 * arc, 2 * arc)
        box.moveCenter(self._centre())
        painter.setPen(stroke(self.tone(Role.TEXT), self.scale.hair * 1.6))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawArc(box, round((90 - last) * 16), round(-(turn - sign * head) * 16))
        painter.save()
        painter.translate(self._at(arc, azimuth - sign * 1.2))
        painter.rotate(azimuth + sign * 90.0)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(self.tone(Role.TEXT)))
        draw_index(painter, QPointF(0, 0), Heading.UP, grid * 1.3)
        painter.restore()

    def _paint_needle(self, painter: QPainter, azimuth: float) -> None:
        """Draw a needle with a fine point and a counterweight."""
        radius, grid = self._radius(), self.scale.grid()
        tip, half = radius - grid * 0.4, radius * 0.036
        painter.save()
        painter.translate(self._centre())
        painter.rotate(azimuth)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(self.tone(Role.EMPHASIS)))
        painter.drawPolygon(
            QPolygonF(
                [
                    QPointF(0, -tip),
                    QPointF(half, -tip * 0.62),
                    QPointF(half * 0.34, 0),
                    QPointF(half * 0.34, radius * 0.22),
                    QPointF(-half * 0.34, radius * 0.22),
                    QPointF(-half * 0.34, 0),
                    QPointF(-half, -tip * 0.62),
                ]
            )
        )
        painter.drawEllipse(QPointF(0, radius * 0.22), half * 1.2, half * 1.2)
        painter.restore()

    def _paint_hub(self, painter: QPainter) -> None:
        size = self._radius() * 0.05
        painter.setPen(QPen(self.tone(Role.EMPHASIS), self.scale.hair * 1.8))
        painter.setBrush(QBrush(self.tone(Role.GROUND)))
        painter.drawEllipse(self._centre(), size, size)
        painter.setBrush(QBrush(self.tone(Role.EMPHASIS)))
        painter.drawEllipse(self._centre(), size * 0.3, size * 0.3)
