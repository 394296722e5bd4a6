"""The ways on a chart: pointer lines by eye, and steps through the finder."""

from itertools import pairwise

import numpy as np
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QBrush, QPainter

from companion.arrays import FloatArray
from companion.charts import ChartView, SkyHop, SkyWay
from companion.window.kit.lettering import Size
from companion.window.kit.palette import Role
from companion.window.sky.chart_ink import ChartInk
from companion.window.sky.chart_lines import point, polyline
from companion.window.sky.chart_names import Clear
from companion.window.sky.chart_signs import draw_arrow_head

_ROOMY = 8.0  # radii of a number's disc that a line is long at least to bear it


def draw_way(painter: QPainter, ink: ChartInk, way: SkyWay, view: ChartView) -> Clear:
    """Draw a way by eye: rings around its stars, the line, and a head at its end."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(ink.pen(Role.EMPHASIS, 1.6))
    ring, clear = ink.scale.grid(1.3), Clear()
    for star in way.stars:
        if view.near(star[None, :])[0]:
            at = point(view.places(star))
            painter.drawEllipse(at, ring, ring)
            clear.append((at, ring))
    for trace in way.traces:
        places = view.places(np.where(view.near(trace, 10.0)[:, None], trace, np.nan))
        painter.setPen(ink.pen(Role.EMPHASIS, 1.5, (4.0, 4.0)))
        polyline(painter, view, places)
        if len(places) > 1:
            _head(painter, ink, places[-2], places[-1])
        clear += _along(places, ink)
    return clear


def draw_numbers(
    painter: QPainter,
    ink: ChartInk,
    lines: tuple[FloatArray, ...],
    way: SkyWay,
    view: ChartView,
) -> Clear:
    """Write a number onto each line of a way; beside a short one, where its stars are not."""
    radius, clear = float(ink.scale.grid(2.5)), Clear()
    stars = view.places(np.stack(way.stars))
    for number, line in enumerate(lines, 1):
        places = view.places(line)
        if not np.isfinite(places).all():
            continue
        middle, course = places[len(places) * 2 // 3], places[-1] - places[0]
        long = max(float(np.hypot(*course)), 1.0)
        if long < _ROOMY * radius:
            aside = np.array([-course[1], course[0]]) / long * 1.7 * radius
            middle = max(
                (middle + aside, middle - aside),
                key=lambda side: float(np.hypot(*(stars - side).T).min()),
            )
        at = point(middle)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(ink.tone(Role.EMPHASIS)))
        painter.drawEllipse(at, radius, radius)
        painter.setFont(ink.font(Size.BODY))
        painter.setPen(ink.tone(Role.GROUND))
        box = QRectF(at.x() - radius, at.y() - radius, 2 * radius, 2 * radius)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, f"{number}")
        clear.append((at, radius))
    return clear


def draw_hops(
    painter: QPainter,
    ink: ChartInk,
    hops: tuple[SkyHop, ...],
    at: int,
    view: ChartView,
) -> Clear:
    """Draw a route of hops; the present one stands out."""
    clear = Clear()
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
        polyline(painter, view, ends)
        if now:
            _head(painter, ink, ends[0], ends[1])
            painter.setPen(ink.pen(Role.EMPHASIS, 1.3))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(point(places[1]), gap, gap)
            clear.append((point(places[1]), gap))
        clear += _along(ends, ink)
    return clear


def _head(painter: QPainter, ink: ChartInk, before: FloatArray, tip: FloatArray) -> None:
    if not (np.isfinite(before).all() and np.isfinite(tip).all()):
        return
    way = tip - before
    angle = float(np.degrees(np.arctan2(way[0], -way[1])))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(ink.tone(Role.EMPHASIS)))
    draw_arrow_head(painter, point(tip), angle, ink.scale.grid(1.8))


def _along(places: FloatArray, ink: ChartInk) -> Clear:
    """Give points along a line that keep names away from it."""
    step, found = ink.scale.grid(1.5), Clear()
    for start, end in pairwise(places):
        if not (np.isfinite(start).all() and np.isfinite(end).all()):
            continue
        count = min(max(1, int(np.hypot(*(end - start)) // step)), 200)
        parts = (np.arange(count) / count)[:, None]
        found += [(point(at), 2.0) for at in start + parts * (end - start)]
    return found
