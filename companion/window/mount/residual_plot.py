"""The residuals of the sightings as a target: how far each lies from where the fit has it."""

from dataclasses import dataclass
from math import hypot

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QWidget

from companion.sky import angle_text
from companion.window.kit.gauge import Gauge
from companion.window.kit.lettering import Size, letter
from companion.window.kit.palette import Role
from companion.window.kit.symbols import stroke
from companion.window.mount.sighting_list import draw_dot
from companion.window.mount.words import PlotPoint

_RINGS_ARCMIN = (1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 1200, 2700)
_LEAST_DEG = 0.08  # half the width of the plot: finer than dials show
_MOST_RINGS = 4
_BESIDE = 1.08  # air beyond what must be seen
_FIELD_SHARE = 2.0  # a field up to so much wider than the rest still shapes the plot


@dataclass(frozen=True, slots=True)
class PlotFacts:
    """What the plot shows: points, the 95% radius, and fields as (name, diameter in degrees)."""

    points: tuple[PlotPoint, ...] = ()
    radius95_deg: float | None = None
    fields: tuple[tuple[str, float], ...] = ()
    chosen: int | None = None  # number of the chosen sighting


def reach_deg(facts: PlotFacts) -> float:
    """Give half the width of the plot: sightings in use, the 95% radius, and a field near it."""
    used = [hypot(one.right_deg, one.up_deg) for one in facts.points if counts(one)]
    reach = max([_LEAST_DEG, facts.radius95_deg or 0.0, *used])
    fields = [width / 2.0 for _name, width in facts.fields]
    return _BESIDE * max([reach, *(one for one in fields if one <= reach * _FIELD_SHARE)])


def counts(point: PlotPoint) -> bool:
    """Tell whether a sighting shapes the plot; the others lie at its edge if they are far off."""
    return not (point.aside or point.weak)


def ring_step_deg(reach: float) -> float:
    """Give the distance between the rings."""
    steps = [step / 60.0 for step in _RINGS_ARCMIN]
    return next((step for step in steps if reach / step <= _MOST_RINGS + 0.5), steps[-1])


class TargetPlot(Gauge):
    """Rings, a fine cross, numbered dots, the 95% circle, and fields of view."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._facts = PlotFacts()
        self.setAccessibleName("Residuals of the sightings")

    @property
    def facts(self) -> PlotFacts:
        """What it shows."""
        return self._facts

    def show_facts(self, facts: PlotFacts) -> None:
        """Take new facts."""
        if facts != self._facts:
            self._facts = facts
            self.renew()

    # Geometry.

    def _centre(self) -> QPointF:
        return QPointF(self.width() / 2, self.height() / 2)

    def _radius(self) -> float:
        label = QFontMetricsF(Size.CAPTION.font(self.scale)).height()
        return max(20.0, min(self.width(), self.height()) / 2 - label * 1.3)

    def _pixels(self) -> float:
        return self._radius() / reach_deg(self._facts)

    def _dot(self) -> float:
        return QFontMetricsF(Size.CAPTION.font(self.scale)).height() * 0.54

    # Painting.

    def paint_still(self, painter: QPainter) -> None:
        """Paint all of it: nothing here moves by itself."""
        self._paint_rings(painter)
        self._paint_cross(painter)
        self._paint_fields(painter)
        if self._facts.radius95_deg is not None:
            self._paint_radius(painter, self._facts.radius95_deg)
        self._paint_labels(painter)
        order = sorted(
            enumerate(self._facts.points, 1), key=lambda one: (not one[1].aside, one[1].questioned)
        )
        for at, point in order:
            if point.read:
                self._paint_point(painter, at, point)

    def _paint_rings(self, painter: QPainter) -> None:
        reach, pixels = reach_deg(self._facts), self._pixels()
        step = ring_step_deg(reach)
        painter.setPen(QPen(self.tone(Role.LINE), self.scale.hair))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for count in range(1, int(reach / step + 1e-6) + 1):
            painter.drawEllipse(self._centre(), count * step * pixels, count * step * pixels)

    def _paint_labels(self, painter: QPainter) -> None:
        """Write the size of every ring where it crosses the open lower arm of the cross."""
        reach, pixels = reach_deg(self._facts), self._pixels()
        step = ring_step_deg(reach)
        metrics = letter(painter, self, Size.CAPTION, Role.TEXT)
        for count in range(1, int(reach / step + 1e-6) + 1):
            radius = count * step * pixels
            label = angle_text(count * step)
            box = QRectF(0, 0, metrics.horizontalAdvance(label) + 4, metrics.height())
            box.moveCenter(self._centre() + QPointF(0, radius))
            painter.fillRect(box.adjusted(0, 2, 0, -2), self.tone(Role.GROUND))
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, label)

    def _paint_cross(self, painter: QPainter) -> None:
        """Draw a fine cross that leaves its middle open, with ticks at the rings."""
        centre, radius, gap = self._centre(), self._radius(), self.scale.grid(0.8)
        painter.setPen(QPen(self.tone(Role.TEXT), self.scale.hair))
        for side in (QPointF(1, 0), QPointF(-1, 0), QPointF(0, -1), QPointF(0, 1)):
            end = radius if side.y() <= 0 else gap * 3
            painter.drawLine(centre + side * gap, centre + side * end)

    def _paint_fields(self, painter: QPainter) -> None:
        """Draw the fields that have room, each named at its upper right."""
        reach, pixels = reach_deg(self._facts), self._pixels()
        metrics = QFontMetricsF(Size.CAPTION.font(self.scale))
        painter.setFont(Size.CAPTION.font(self.scale))
        last = 1e9
        for name, width in self._facts.fields:
            radius = width / 2.0 * pixels
            if (
                width / 2.0 > reach
                or last - radius < metrics.height() * 1.4
                or radius < metrics.height() * 1.6
            ):
                continue
            last = radius
            painter.setPen(QPen(self.tone(Role.TEXT), self.scale.hair * 1.4))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(self._centre(), radius, radius)
            box = QRectF(0, 0, metrics.horizontalAdvance(name) + 6, metrics.height())
            box.moveCenter(self._centre() + QPointF(0.0, -radius))
            painter.fillRect(box.adjusted(0, 2, 0, -2), self.tone(Role.GROUND))
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, name)

    def _paint_radius(self, painter: QPainter, radius_deg: float) -> None:
        radius = radius_deg * self._pixels()
        pen = stroke(self.tone(Role.EMPHASIS), self.scale.hair * 1.8)
        pen.setDashPattern([4.0, 4.0])
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(self._centre(), radius, radius)

    def _paint_point(self, painter: QPainter, at: int, point: PlotPoint) -> None:
        """Draw a numbered dot: full in use, open if weak, dim and struck through if set aside."""
        away = hypot(point.right_deg, point.up_deg)
        share = min(1.0, reach_deg(self._facts) / away) if away > 0.0 else 1.0
        offset = QPointF(point.right_deg, -point.up_deg) * (share * self._pixels())
        centre, size = self._centre() + offset, self._dot()
        painter.setPen(QPen(self.tone(Role.TEXT), self.scale.hair))
        painter.drawLine(self._centre() + offset * 0.06, centre)
        draw_dot(painter, self, centre, size, at, aside=point.aside, weak=point.weak)
        if point.number == self._facts.chosen or point.questioned:
            painter.setPen(QPen(self.tone(Role.EMPHASIS), self.scale.hair * 1.4))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(centre, size * 1.45, size * 1.45)
