"""Marks on a chart: the target, the circle of its doubt, and where readings point."""

import numpy as np
from PySide6.QtCore import Qt
from PySide6.QtGui import QBrush, QPainter

from companion.charts import ChartView, SkyFrame
from companion.finding import circle_around
from companion.window.kit.lettering import Size, write
from companion.window.kit.palette import Role
from companion.window.kit.symbols import polar
from companion.window.sky.chart_ink import ChartInk
from companion.window.sky.chart_lines import point, polyline
from companion.window.sky.chart_names import Clear, clear_of, text_box
from companion.window.sky.chart_signs import draw_arrow_head, draw_pointing, draw_reticle

_CENTRE = Qt.AlignmentFlag.AlignCenter


def draw_target(
    painter: QPainter, ink: ChartInk, sky: SkyFrame, view: ChartView, *, pointed_to: bool = True
) -> Clear:
    """Draw the target's mark, or an arrow at the edge that points to it."""
    target = sky.target
    if target is None:
        return []
    place = view.places(target.vector)
    if np.isfinite(place).all() and view.holds(place):
        draw_reticle(painter, ink, point(place), ink.scale.grid(1.9))
        return [(point(place), ink.scale.grid(3.1))]
    if not pointed_to:
        return []
    at, angle = view.edge(target.vector, ink.scale.grid(4))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(ink.tone(Role.EMPHASIS)))
    draw_arrow_head(painter, point(at), angle, ink.scale.grid(2.6))
    painter.setFont(ink.font(Size.SMALL))
    painter.setPen(ink.tone(Role.EMPHASIS))
    box = text_box(painter, target.name)
    box.moveCenter(polar(point(at), -ink.scale.grid(2.6) - box.height(), angle))
    side = ink.scale.grid(1)
    box.moveLeft(min(max(box.left(), side), view.width - box.width() - side))
    write(painter, box, target.name, _CENTRE)
    return [(point(at), ink.scale.grid(2)), *clear_of(box)]


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
    draw_pointing(painter, ink, point(view.places(sky.pointed)))
    if sky.pointed_radius_deg > 0.0:
        painter.setPen(ink.pen(Role.TEXT, 1.0, (1.5, 4.0)))
        polyline(painter, view.places(circle_around(sky.pointed, sky.pointed_radius_deg)))
