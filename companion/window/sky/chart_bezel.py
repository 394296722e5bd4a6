"""The field of view on a chart: its rim with position angles, the drift and the zenith."""

from dataclasses import dataclass, field

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QPainter

from companion.charts import ChartKind, ChartView, Lens, SkyFrame
from companion.finding import circle_around
from companion.window.kit.lettering import Size, write
from companion.window.kit.palette import Role
from companion.window.kit.symbols import polar
from companion.window.sky.chart_ink import ChartInk
from companion.window.sky.chart_lines import point, polyline
from companion.window.sky.chart_names import Clear, clear_of, text_box
from companion.window.sky.chart_signs import draw_arrow_head

_CENTRE = Qt.AlignmentFlag.AlignCenter


def draw_fields(
    painter: QPainter, ink: ChartInk, sky: SkyFrame, view: ChartView, lens: Lens
) -> Clear:
    """Draw the field: as a bezel with its directions, or small around the target."""
    if lens.kind is ChartKind.WIDE and sky.target is not None:
        painter.setPen(ink.pen(Role.TEXT))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        circle = circle_around(sky.target.vector, sky.finder.field_deg / 2.0)
        polyline(painter, view, view.places(circle))
        return _small_north(painter, ink, sky, view)
    if not lens.field_deg:
        return []
    radius = view.frame.radius(min(lens.field_deg / 2.0, 89.0)) * view.scale
    area = QRectF(0, 0, view.width, view.height)
    bezel = _Bezel(painter, ink, point(view.middle), radius, -1, area)
    bezel.draw_rim(sky, view)
    bezel.draw_directions(sky, view)
    return [clear for box in bezel.boxes for clear in clear_of(box)]


def _small_north(painter: QPainter, ink: ChartInk, sky: SkyFrame, view: ChartView) -> Clear:
    """Mark north on the small circle around the target."""
    if sky.target is None or not view.near(sky.target.vector[None, :])[0]:
        return []
    radius = sky.finder.field_deg / 2.0 * view.scale
    area = QRectF(0, 0, view.width, view.height)
    small = _Bezel(painter, ink, point(view.places(sky.target.vector)), radius, 1, area)
    (north,) = view.angles(sky.target.vector[None, :], np.zeros(1), sky.north).tolist()
    small.draw_north(north)
    return [clear for box in small.boxes for clear in clear_of(box)]


@dataclass
class _Bezel:
    painter: QPainter
    ink: ChartInk
    middle: QPointF
    radius: float
    side: int  # 1: words and ticks stand outside the rim, -1: inside
    area: QRectF  # of the chart: a word that finds no room in it is left out
    boxes: list[QRectF] = field(default_factory=list)  # of the words around it

    def draw_rim(self, sky: SkyFrame, view: ChartView) -> None:
        """Draw the rim, with a tick each ten degrees of position angle."""
        painter, ink, grid = self.painter, self.ink, self.ink.scale.grid()
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(ink.pen(Role.TEXT, 1.2))
        painter.drawEllipse(self.middle, self.radius, self.radius)
        for tens in range(36):
            shown = view.frame.angle_of(10.0 * tens, sky.north)
            major = tens % 3 == 0
            painter.setPen(ink.pen(Role.TEXT if major else Role.LINE, 1.0))
            length = grid * (1.2 if major else 0.7)
            painter.drawLine(self._at(0.0, shown), self._at(length, shown))

    def draw_directions(self, sky: SkyFrame, view: ChartView) -> None:
        """Write north and east; draw where the sky carries the view, and where the zenith is."""
        frame, grid = view.frame, self.ink.scale.grid()
        self.painter.setFont(self.ink.font(Size.SMALL))
        for angle, letter in ((0.0, "N"), (90.0, "E")):
            self._word(letter, grid * 2.2, frame.angle_of(angle, sky.north), Role.EMPHASIS)
        self._arrow("drift", frame.drift_angle(sky.pole), Role.EMPHASIS)
        self._arrow("zenith", frame.angle_towards(np.array([0.0, 0.0, 1.0])), Role.TEXT)

    def draw_north(self, angle: float) -> None:
        """Draw a tick to the north."""
        grid = self.ink.scale.grid()
        self.painter.setPen(self.ink.pen(Role.EMPHASIS, 1.2))
        self.painter.drawLine(self._at(0.0, angle), self._at(grid, angle))
        self.painter.setFont(self.ink.font(Size.CAPTION))
        self._word("N", grid * 1.4, angle, Role.EMPHASIS)

    def _at(self, out: float, angle: float) -> QPointF:
        return polar(self.middle, self.radius + self.side * out, angle)

    def _arrow(self, word: str, angle: float, role: Role) -> None:
        """Draw an arrow towards a point of the rim, with its word at its root."""
        painter, grid = self.painter, self.ink.scale.grid()
        painter.setPen(self.ink.pen(role, 1.3))
        painter.drawLine(self._at(grid * 2.4, angle), self._at(grid * 4.2, angle))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(self.ink.tone(role)))
        draw_arrow_head(painter, self._at(grid * 1.6, angle), angle, grid * 1.6)
        painter.setFont(self.ink.font(Size.CAPTION))
        self._word(word, grid * 4.8, angle, role)

    def _word(self, word: str, out: float, angle: float, role: Role) -> None:
        """Write a word beside a point of the rim, clear of the words that stand there."""
        box, step = text_box(self.painter, word), self.ink.scale.grid()
        way = polar(QPointF(0, 0), 1.0, angle)
        half = abs(way.x()) * box.width() / 2 + abs(way.y()) * box.height() / 2
        box.moveCenter(self._at(out + half, angle))
        while any(box.intersects(other) for other in self.boxes):
            out += step
            box.moveCenter(self._at(out + half, angle))
        if not self.area.contains(box):
            return
        self.boxes.append(box)
        self.painter.fillRect(box, self.ink.ground)
        self.painter.setPen(self.ink.tone(role))
        write(self.painter, box, word, _CENTRE)
