"""Marks on a chart: the target, the field with its directions, the ways, and the names."""

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QBrush, QFontMetricsF, QPainter

from companion.finding import circle_around, place_labels
from companion.live import ChartKind, ChartView, Label, Lens, Scene, SkyFrame, SkyHop, SkyWay
from companion.window.chart_ink import ChartInk
from companion.window.chart_lines import point, polyline
from companion.window.chart_signs import draw_arrow_head, draw_reticle
from companion.window.palette import Role
from companion.window.symbols import polar
from companion.window.words import Size, write

FloatArray = NDArray[np.float64]
_CENTRE = Qt.AlignmentFlag.AlignCenter
_KEPT_CLEAR = 90  # stars whose discs no name covers
_SIZES = {
    "target": (Size.BODY, Role.EMPHASIS),
    "body": (Size.SMALL, Role.EMPHASIS),
    "queue": (Size.CAPTION, Role.EMPHASIS),
    "star": (Size.CAPTION, Role.TEXT),
    "deep": (Size.CAPTION, Role.TEXT),
    "group": (Size.CAPTION, Role.LINE),
}


def draw_target(painter: QPainter, ink: ChartInk, sky: SkyFrame, view: ChartView) -> None:
    """Draw the target's mark, or an arrow at the edge that points to it."""
    target = sky.target
    if target is None:
        return
    place = view.places(target.vector)
    if np.isfinite(place).all() and view.holds(place):
        draw_reticle(painter, ink, point(place), ink.scale.grid(1.5))
        return
    at, angle = view.edge(target.vector, ink.scale.grid(4))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(ink.tone(Role.EMPHASIS)))
    draw_arrow_head(painter, point(at), angle, ink.scale.grid(2.6))
    painter.setFont(ink.font(Size.SMALL))
    painter.setPen(ink.tone(Role.EMPHASIS))
    box = _text_box(painter, target.name)
    box.moveCenter(polar(point(at), -ink.scale.grid(2.6) - box.height(), angle))
    side = ink.scale.grid(1)
    box.moveLeft(min(max(box.left(), side), view.width - box.width() - side))
    write(painter, box, target.name, _CENTRE)


def _text_box(painter: QPainter, text: str) -> QRectF:
    metrics = QFontMetricsF(painter.font())
    return QRectF(QPointF(0, 0), QSizeF(metrics.horizontalAdvance(text) + 4, metrics.height()))


def draw_error(painter: QPainter, ink: ChartInk, sky: SkyFrame, view: ChartView) -> None:
    """Draw the circle in which the target lies 95 times of 100 once the dials are set."""
    if sky.radius95_deg is not None and sky.target is not None:
        painter.setPen(ink.pen(Role.TEXT, 1.0, (1.5, 4.0)))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        polyline(painter, view.places(circle_around(sky.target.vector, sky.radius95_deg)))


def draw_pointed(painter: QPainter, ink: ChartInk, sky: SkyFrame, view: ChartView) -> None:
    """Draw where the typed readings point: a cross in its circle of doubt."""
    if sky.pointed is None or not view.near(sky.pointed[None, :])[0]:
        return
    at, reach = point(view.places(sky.pointed)), ink.scale.grid(1.4)
    painter.setPen(ink.pen(Role.EMPHASIS, 1.4))
    for angle in (45.0, 135.0, 225.0, 315.0):
        painter.drawLine(polar(at, reach * 0.4, angle), polar(at, reach, angle))
    if sky.pointed_radius_deg > 0.0:
        painter.setPen(ink.pen(Role.TEXT, 1.0, (1.5, 4.0)))
        polyline(painter, view.places(circle_around(sky.pointed, sky.pointed_radius_deg)))


def draw_fields(
    painter: QPainter, ink: ChartInk, sky: SkyFrame, view: ChartView, lens: Lens
) -> None:
    """Draw the field: as a bezel with its directions, or small around the target."""
    if lens.kind is ChartKind.WIDE and sky.target is not None:
        painter.setPen(ink.pen(Role.TEXT))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        circle = circle_around(sky.target.vector, sky.finder.field_deg / 2.0)
        polyline(painter, view.places(circle))
    elif lens.field_deg:
        _draw_bezel(painter, ink, sky, view, lens)


def _draw_bezel(
    painter: QPainter, ink: ChartInk, sky: SkyFrame, view: ChartView, lens: Lens
) -> None:
    """Draw the field's rim with position angles, north, east, the drift and the zenith."""
    radius = view.frame.radius(min(lens.field_deg / 2.0, 89.0)) * view.scale
    middle, grid = point(view.middle), ink.scale.grid()
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(ink.pen(Role.TEXT, 1.2))
    painter.drawEllipse(middle, radius, radius)
    for tens in range(36):
        shown = view.frame.angle_of(10.0 * tens, sky.north)
        major = tens % 3 == 0
        painter.setPen(ink.pen(Role.TEXT if major else Role.LINE, 1.0))
        length = grid * (1.2 if major else 0.7)
        painter.drawLine(polar(middle, radius, shown), polar(middle, radius + length, shown))
    painter.setFont(ink.font(Size.SMALL))
    for angle, letter in ((0.0, "N"), (90.0, "E")):
        shown = view.frame.angle_of(angle, sky.north)
        _outside(painter, ink, (middle, radius + grid * 2.6, shown), letter, Role.EMPHASIS)
    drift = view.frame.drift_angle(sky.pole)
    _outward(painter, ink, (middle, radius, drift), "drift", Role.EMPHASIS)
    zenith = view.frame.angle_towards(np.array([0.0, 0.0, 1.0]))
    _outward(painter, ink, (middle, radius, zenith), "zenith", Role.TEXT)


def _outward(
    painter: QPainter,
    ink: ChartInk,
    place: tuple[QPointF, float, float],
    word: str,
    role: Role,
) -> None:
    """Draw an arrow that leaves the rim, with its word beyond."""
    (middle, radius, angle), grid = place, ink.scale.grid()
    painter.setPen(ink.pen(role, 1.3))
    painter.drawLine(
        polar(middle, radius + grid * 0.8, angle), polar(middle, radius + grid * 2.6, angle)
    )
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(ink.tone(role)))
    draw_arrow_head(painter, polar(middle, radius + grid * 3.8, angle), angle, grid * 1.6)
    painter.setFont(ink.font(Size.CAPTION))
    _outside(painter, ink, (middle, radius + grid * 4.4, angle), word, role)


def _outside(
    painter: QPainter,
    ink: ChartInk,
    place: tuple[QPointF, float, float],
    word: str,
    role: Role,
) -> None:
    """Write a word beyond a point of a circle, so that it does not reach back into it."""
    middle, radius, angle = place
    box = _text_box(painter, word)
    way = polar(QPointF(0, 0), 1.0, angle)
    half = abs(way.x()) * box.width() / 2 + abs(way.y()) * box.height() / 2
    box.moveCenter(polar(middle, radius + half * 0.9, angle))
    painter.setPen(ink.tone(role))
    write(painter, box, word, _CENTRE)


def draw_way(painter: QPainter, ink: ChartInk, way: SkyWay, view: ChartView) -> None:
    """Draw a way by eye: rings around its stars, the line, and a head at its end."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(ink.pen(Role.EMPHASIS, 1.6))
    ring = ink.scale.grid(1.3)
    for star in way.stars:
        if view.near(star[None, :])[0]:
            painter.drawEllipse(point(view.places(star)), ring, ring)
    for trace in way.traces:
        places = view.places(np.where(view.near(trace, 10.0)[:, None], trace, np.nan))
        painter.setPen(ink.pen(Role.EMPHASIS, 1.5, (4.0, 4.0)))
        polyline(painter, places)
        if len(places) > 1:
            _head(painter, ink, places[-2], places[-1])


def draw_hops(
    painter: QPainter,
    ink: ChartInk,
    hops: tuple[SkyHop, ...],
    at: int,
    view: ChartView,
) -> None:
    """Draw a route of hops; the present one stands out."""
    for number, hop in enumerate(hops):
        places = view.places(np.stack([hop.start, hop.end]))
        if not np.isfinite(places).all():
            continue
        now = number == at
        way = places[1] - places[0]
        length = float(np.hypot(*way))
        gap = ink.scale.grid(1.2)
        if length < 3 * gap:
            continue
        ends = places + np.stack([way, -way]) * (gap / length)
        dashes = () if now else (2.0, 5.0)
        painter.setPen(ink.pen(Role.EMPHASIS if now else Role.TEXT, 1.8 if now else 1.0, dashes))
        polyline(painter, ends)
        if now:
            _head(painter, ink, ends[0], ends[1])
            painter.setPen(ink.pen(Role.EMPHASIS, 1.3))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(point(places[1]), gap, gap)


def _head(painter: QPainter, ink: ChartInk, before: FloatArray, tip: FloatArray) -> None:
    if not (np.isfinite(before).all() and np.isfinite(tip).all()):
        return
    way = tip - before
    angle = float(np.degrees(np.arctan2(way[0], -way[1])))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(ink.tone(Role.EMPHASIS)))
    draw_arrow_head(painter, point(tip), angle, ink.scale.grid(1.8))


class Names:
    """Writes the names where they collide with nothing; knows how wide each is."""

    def __init__(self) -> None:
        self._sizes: dict[tuple[str, str, float], tuple[float, float]] = {}

    def draw(self, painter: QPainter, ink: ChartInk, scene: Scene, view: ChartView) -> None:
        """Write what finds room."""
        labels = scene.labels
        if not labels:
            return
        sizes = [self._size(ink, label) for label in labels]
        clear = scene.stars.places[:_KEPT_CLEAR]
        corners = place_labels(
            np.vstack([np.array([label.place for label in labels]), clear]),
            sizes,
            np.concatenate([[label.radius for label in labels], scene.stars.radii[:_KEPT_CLEAR]]),
            (view.width, view.height),
            ink.scale.grid(0.5),
        )
        for label, corner, size in zip(labels, corners, sizes, strict=True):
            if np.isfinite(corner[0]):
                step, role = _SIZES[label.rank]
                painter.setFont(ink.font(step))
                painter.setPen(ink.tone(role))
                write(painter, QRectF(point(corner), QSizeF(*size)), label.text, _CENTRE)

    def _size(self, ink: ChartInk, label: Label) -> tuple[float, float]:
        step, _role = _SIZES[label.rank]
        key = (label.text, step.value, ink.scale.factor)
        if key not in self._sizes:
            if len(self._sizes) > 5000:
                self._sizes.clear()
            metrics = QFontMetricsF(ink.font(step))
            self._sizes[key] = (metrics.horizontalAdvance(label.text) + 2.0, metrics.height() * 0.9)
        return self._sizes[key]
