"""Everything on a chart that is a line: ground, horizon, groups, borders, grid, ways."""

from functools import lru_cache

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFontMetricsF,
    QImage,
    QPainter,
    QPainterPath,
    QPen,
    QPolygonF,
)

from companion.arrays import FloatArray
from companion.charts import ChartView, Scene, SkyFrame, dots_along
from companion.window.kit.lettering import Size, write
from companion.window.kit.palette import Role
from companion.window.kit.symbols import stroke
from companion.window.kit.type_scale import TypeScale
from companion.window.sky.chart_ink import ChartInk

_CENTRE = Qt.AlignmentFlag.AlignCenter
_FAR = 30_000.0  # pixels
_FRINGE_STEPS = 2.0  # of the grid: of the ground no more is needed to tell it from the sky
_DOT_HAIRS = 6.0  # from one dot of a border to the next


def point(place: FloatArray) -> QPointF:
    """Give a place as Qt's point."""
    return QPointF(float(place[0]), float(place[1]))


def polyline(painter: QPainter, view: ChartView, places: FloatArray) -> None:
    """Draw what a view shows of a line through places; it is parted where there is none."""
    usable = np.abs(np.nan_to_num(places, nan=_FAR)).max(axis=1) < _FAR
    shown = view.crossed(places[:-1], places[1:]) & usable[:-1] & usable[1:]
    ends = np.flatnonzero(np.diff(np.concatenate([[0], shown.astype(np.int8), [0]])))
    for start, end in zip(ends[::2].tolist(), ends[1::2].tolist(), strict=True):
        part = places[start : end + 1].tolist()
        painter.drawPolyline(QPolygonF([QPointF(x, y) for x, y in part]))


def draw_lines(painter: QPainter, ink: ChartInk, scene: Scene) -> None:
    """Draw the groups' lines."""
    painter.setPen(ink.pen(Role.LINE))
    painter.drawLines([QLineF(*ends) for ends in scene.lines.tolist()])


def draw_borders(painter: QPainter, ink: ChartInk, sky: SkyFrame, view: ChartView) -> None:
    """Draw the constellations' borders as dotted lines; ``border_dots`` gives them for a screen."""
    if sky.borders is not None:
        painter.setPen(ink.pen(Role.LINE, 1.0, (1.0, _DOT_HAIRS - 1.0)))
        polyline(painter, view, _border_places(sky.borders, view))


def border_dots(ink: ChartInk, sky: SkyFrame, view: ChartView) -> FloatArray:
    """Give the dots of the constellations' borders (k, 2), which a pen would take too long for."""
    if sky.borders is None:
        return np.empty((0, 2))
    hair = ink.scale.hair
    return dots_along(view, _border_places(sky.borders, view), _DOT_HAIRS * hair, (hair,))


def _border_places(borders: FloatArray, view: ChartView) -> FloatArray:
    with np.errstate(invalid="ignore"):
        near = view.near(borders, 4.0)
    return view.places(np.where(near[:, None], borders, np.nan))


def draw_ecliptic(painter: QPainter, ink: ChartInk, sky: SkyFrame, view: ChartView) -> None:
    """Draw the path of Sun, Moon and planets as a dashed line."""
    if sky.ecliptic is not None:
        painter.setPen(ink.pen(Role.LINE, 1.0, (6.0, 6.0)))
        polyline(painter, view, _border_places(sky.ecliptic, view))


def draw_track(painter: QPainter, ink: ChartInk, sky: SkyFrame, view: ChartView) -> list[QRectF]:
    """Draw where a target that moves is going, a tick at each time; give where the times stand."""
    if sky.track is None:
        return []
    places = _border_places(sky.track.points, view)
    painter.setPen(ink.pen(Role.TEXT, 1.0))
    polyline(painter, view, places)
    painter.setFont(ink.font(Size.CAPTION))
    metrics, grid = QFontMetricsF(painter.font()), ink.scale.grid()
    target = view.places(sky.track.points[0] if sky.target is None else sky.target.vector)
    last, boxes = target, [_square(target, 3.0 * grid)]
    for text, vector in sky.track.marks:
        place = view.places(vector)
        if vector[2] < 0.0 or not view.near(vector[None], 1.0)[0] or not view.holds(place):
            continue
        if np.hypot(*(place - last)) < grid:  # so slow, or so wide a view, that dots would run
            continue
        last = place
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(ink.tone(Role.TEXT)))
        painter.drawEllipse(point(place), 2.0 * ink.scale.hair, 2.0 * ink.scale.hair)
        box = QRectF(0, 0, metrics.horizontalAdvance(text) + 4, metrics.height())
        box.moveCenter(point(place) + QPointF(box.width() / 2.0 + 0.75 * grid, 0))
        if any(box.intersects(other) for other in boxes):
            continue
        painter.setPen(ink.tone(Role.TEXT))
        write(painter, box, text, _CENTRE)
        boxes.append(box)
    return boxes[1:]


def _square(middle: FloatArray, half: float) -> QRectF:
    return QRectF(float(middle[0]) - half, float(middle[1]) - half, 2.0 * half, 2.0 * half)


def draw_grid(painter: QPainter, ink: ChartInk, sky: SkyFrame, view: ChartView) -> list[QRectF]:
    """Draw the round readings of the mount's own dials; give where their figures stand."""
    painter.setFont(ink.font(Size.CAPTION))
    metrics = QFontMetricsF(painter.font())
    boxes: list[QRectF] = []
    for line in sky.grid:
        near = view.near(line.points, 6.0) & (line.points[:, 2] > -0.02)
        if not near.any():
            continue
        places = view.places(np.where(near[:, None], line.points, np.nan))
        painter.setPen(ink.pen(Role.LINE, 0.7))
        polyline(painter, view, places)
        shown = [at for at in places if view.holds(at, ink.scale.grid(3))]
        if shown:
            box = QRectF(0, 0, metrics.horizontalAdvance(line.text) + 4, metrics.height())
            box.moveCenter(point(shown[len(shown) // 2]))
            if any(box.intersects(other) for other in boxes):
                continue
            painter.setPen(ink.tone(Role.TEXT))
            write(painter, box, line.text, _CENTRE)
            boxes.append(box)
    return boxes


def draw_ground(painter: QPainter, ink: ChartInk, scene: Scene, view: ChartView) -> list[QRectF]:
    """Hatch a fringe below the horizon, draw it with its letters, and give where these stand."""
    if not scene.ground:
        return []
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.OddEvenFill)
    if scene.ground != "inside":
        path.addRect(QRectF(0, 0, view.width, view.height))
    if scene.horizon is not None:
        path.addPolygon(QPolygonF([QPointF(x, y) for x, y in scene.horizon.tolist()]))
        path.closeSubpath()
    painter.save()
    # The horizon is drawn over the edge, which need not be soft; half of a chart may be ground.
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    painter.fillPath(path, ink.ground)
    if scene.horizon is None:
        painter.restore()
        return []
    painter.setClipPath(path)
    hatched = _hatching(ink.line.rgb(), ink.ground.rgb(), ink.scale)
    pen = QPen(hatched, 2.0 * ink.scale.grid(_FRINGE_STEPS))
    painter.setPen(pen)
    polyline(painter, view, scene.horizon)
    painter.restore()
    painter.setPen(ink.pen(Role.TEXT, 1.3))
    polyline(painter, view, scene.horizon)
    painter.setFont(ink.font(Size.BODY))
    metrics, boxes = QFontMetricsF(painter.font()), []
    for name, place in scene.points:
        box = QRectF(0, 0, metrics.horizontalAdvance(name) + 4, metrics.height())
        box.moveCenter(point(place) + QPointF(0, metrics.height() * 0.6))
        painter.setPen(ink.tone(Role.EMPHASIS if name == "N" else Role.TEXT))
        write(painter, box, name, _CENTRE)
        boxes.append(box)
    return boxes


@lru_cache(maxsize=8)
def _hatching(line: int, ground: int, scale: TypeScale) -> QBrush:
    """Give a brush of slanting hair lines."""
    side = max(6, scale.grid(1.75))
    # An image, not a pixmap: pages are printed in another thread.
    tile = QImage(side, side, QImage.Format.Format_RGB32)
    tile.fill(QColor(ground))
    painter = QPainter(tile)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(stroke(QColor(line), 0.7 * scale.hair))
    for shift in (-side, 0, side):  # three, so that the strokes meet at the tile's edges
        painter.drawLine(QLineF(shift, side, shift + side, 0))
    painter.end()
    return QBrush(tile)
