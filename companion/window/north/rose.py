"""The rose: the horizon by true north outside, and turned inside it the card of a compass."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QFontMetricsF, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from companion.instant import Light
from companion.window.kit.dial_face import PLAIN_RING, DialScale, graduations
from companion.window.kit.gauge import Gauge
from companion.window.kit.lettering import Size
from companion.window.kit.motion import Glide, Motion
from companion.window.kit.palette import Role
from companion.window.kit.symbols import Heading, draw_index, draw_moon, draw_sun, polar

_CARDINALS = {0: "N", 90: "E", 180: "S", 270: "W"}
_CARD_SHARE = 0.70  # radius of the card in that of the ring


@dataclass(frozen=True, slots=True)
class RoseFacts:
    """What the rose shows; azimuths in degrees from true north through east."""

    compass_north_deg: float | None = None  # where the compass, as it stands here, says north is
    polaris_deg: float | None = None
    target_deg: float | None = None
    target_name: str = ""
    lights: tuple[Light, ...] = ()


class Rose(Gauge):
    """True north up; the card turned by what the compass is off."""

    def __init__(self, motion: Motion, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._facts = RoseFacts()
        self._target = Glide(motion, self.update, period=360.0)
        self.setAccessibleName("Compass rose")

    def show_facts(self, facts: RoseFacts) -> None:
        """Take new facts."""
        old, self._facts = self._facts, facts
        half_pixel = 0.5 * 57.3 / self._radius()
        if _moved(old.compass_north_deg, facts.compass_north_deg, half_pixel) or _moved(
            old.polaris_deg, facts.polaris_deg, half_pixel
        ):
            self.renew()
        if old.lights != facts.lights or old.target_name != facts.target_name:
            self.update()
        self._target.tolerance = half_pixel
        self._target.follow(facts.target_deg)

    # Geometry.

    def _radius(self) -> float:
        label = QFontMetricsF(Size.BODY.font(self.scale)).height()
        return max(30.0, min(self.width(), self.height()) / 2 - label * 1.25)

    def _at(self, radius: float, azimuth_deg: float) -> QPointF:
        return polar(QPointF(self.width() / 2, self.height() / 2), radius, azimuth_deg)

    # The still layer.

    def paint_still(self, painter: QPainter) -> None:
        """Paint the ring, the card within and the fixed marks."""
        self._paint_ring(painter)
        if self._facts.compass_north_deg is not None:
            self._paint_card(painter, self._facts.compass_north_deg)
        self._paint_true_north(painter)
        if self._facts.polaris_deg is not None:
            self._paint_polaris(painter, self._facts.polaris_deg)

    def _circle(self, painter: QPainter, radius: float, role: Role) -> None:
        painter.setPen(QPen(self.tone(role), self.scale.hair))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(self._at(0, 0), radius, radius)

    def _paint_ring(self, painter: QPainter) -> None:
        radius = self._radius()
        self._circle(painter, radius, Role.TEXT)
        self._paint_graduation(painter, PLAIN_RING, radius, outside=True)
        painter.setFont(Size.BODY.font(self.scale))
        metrics = QFontMetricsF(painter.font())
        for azimuth, name in _CARDINALS.items():
            role = Role.EMPHASIS if name == "N" else Role.TEXT
            self._letter(painter, radius + metrics.height() * 0.62, azimuth, name, role)

    def _paint_graduation(
        self, painter: QPainter, scale: DialScale, radius: float, *, outside: bool
    ) -> None:
        grid, hair = self.scale.grid(), self.scale.hair
        font = Size.CAPTION.font(self.scale)
        metrics = QFontMetricsF(font)
        gap = metrics.horizontalAdvance("888") * (1.5 if outside else 1.8)
        for tick in graduations(scale, 0.0, 359.999, radius / 57.3, gap):
            role = Role.LINE if tick.rank == 0 else Role.TEXT
            painter.setPen(QPen(self.tone(role), hair * (1.0, 1.0, 1.6)[tick.rank]))
            length = grid * (0.9, 1.4, 2.0)[tick.rank]
            painter.drawLine(
                self._at(radius, tick.angle_deg), self._at(radius - length, tick.angle_deg)
            )
            cardinal = outside and round(tick.angle_deg) % 360 in _CARDINALS
            if tick.label and not cardinal and tick.angle_deg < 359.5:
                painter.setFont(font)
                away = metrics.height() * (0.75 if outside else -0.85) - (0 if outside else length)
                self._letter(painter, radius + away, tick.angle_deg, tick.label, Role.TEXT)

    def _letter(
        self, painter: QPainter, radius: float, azimuth_deg: float, text: str, role: Role
    ) -> None:
        metrics = QFontMetricsF(painter.font())
        box = QRectF(0, 0, metrics.horizontalAdvance(text) + 4, metrics.height())
        box.moveCenter(self._at(radius, azimuth_deg))
        painter.setPen(self.tone(role))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)

    def _paint_card(self, painter: QPainter, north_deg: float) -> None:
        """Draw the card as the compass lies: its own graduation, its needle, its star."""
        radius = self._radius() * _CARD_SHARE
        self._circle(painter, radius, Role.TEXT)
        scale = DialScale(offset_deg=-north_deg, period_deg=360.0)
        self._paint_graduation(painter, scale, radius, outside=False)
        self._paint_star(painter, north_deg, radius * 0.66)
        self._paint_needle(painter, north_deg, radius * 0.70)

    def _paint_star(self, painter: QPainter, north_deg: float, radius: float) -> None:
        """Draw the eight points of the card, each with its darker half."""
        for at in range(8):
            angle = north_deg + 45.0 * ((2 * at) % 8 + (1 if at >= 4 else 0))
            reach = radius * (0.94 if at < 4 else 0.56)
            waist = radius * 0.17
            painter.setPen(QPen(self.tone(Role.LINE), self.scale.hair))
            for side, brush in ((-22.5, Role.LINE), (22.5, Role.GROUND)):
                painter.setBrush(QBrush(self.tone(brush)))
                painter.drawPolygon(
                    QPolygonF(
                        [self._at(0, 0), self._at(waist, angle + side), self._at(reach, angle)]
                    )
                )

    def _paint_needle(self, painter: QPainter, north_deg: float, reach: float) -> None:
        """Draw the magnetic needle, its north half full."""
        half = reach * 0.075
        painter.save()
        painter.translate(self._at(0, 0))
        painter.rotate(north_deg)
        painter.setPen(QPen(self.tone(Role.TEXT), self.scale.hair * 1.4))
        painter.setBrush(QBrush(self.tone(Role.TEXT)))
        painter.drawPolygon(QPolygonF([QPointF(-half, 0), QPointF(0, -reach), QPointF(half, 0)]))
        painter.setBrush(QBrush(self.tone(Role.GROUND)))
        painter.drawPolygon(QPolygonF([QPointF(-half, 0), QPointF(0, reach), QPointF(half, 0)]))
        painter.drawEllipse(QPointF(0, 0), half * 0.8, half * 0.8)
        painter.restore()

    def _paint_true_north(self, painter: QPainter) -> None:
        radius, grid = self._radius(), self.scale.grid()
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(self.tone(Role.EMPHASIS)))
        draw_index(painter, self._at(radius - grid * 2.4, 0), Heading.UP, grid * 2.2)

    def _paint_polaris(self, painter: QPainter, azimuth_deg: float) -> None:
        """Draw a star with four rays between card and ring."""
        centre = self._at(self._radius() * 0.79, azimuth_deg)
        reach, waist = self.scale.grid(1.5), self.scale.grid(0.35)
        points = [polar(centre, waist if at % 2 else reach, 45.0 * at) for at in range(8)]
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(self.tone(Role.EMPHASIS)))
        painter.drawPolygon(QPolygonF(points))

    # The moving layer.

    def paint_moving(self, painter: QPainter) -> None:
        """Paint Sun, Moon and the mark of the target."""
        radius, grid = self._radius(), self.scale.grid()
        for light in self._facts.lights:
            if light.altitude_deg <= 0.0:
                continue
            centre, size = self._at(radius * 0.82, light.azimuth_deg), grid * 1.4
            if light.body == "sun":
                draw_sun(painter, centre, size, self.tone(Role.TEXT), up=True)
            elif light.body == "moon":
                draw_moon(painter, centre, size, self.tone(Role.TEXT), light.lit_fraction or 0.0)
        azimuth = self._target.shown
        if azimuth is not None:
            self._paint_target(painter, azimuth)

    def _paint_target(self, painter: QPainter, azimuth_deg: float) -> None:
        """Draw a pointer across ring and card, so that both can be read under it."""
        radius, grid = self._radius(), self.scale.grid()
        painter.setPen(QPen(self.tone(Role.EMPHASIS), self.scale.hair * 1.8))
        inner = radius * (_CARD_SHARE - 0.03)
        painter.drawLine(self._at(inner, azimuth_deg), self._at(radius - grid, azimuth_deg))
        painter.save()
        painter.translate(self._at(radius - grid * 0.2, azimuth_deg))
        painter.rotate(azimuth_deg)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(self.tone(Role.EMPHASIS)))
        draw_index(painter, QPointF(0, 0), Heading.UP, grid * 1.9)
        painter.restore()


def _moved(old: float | None, new: float | None, least: float) -> bool:
    if old is None or new is None:
        return old is not new
    return abs(old - new) > least
