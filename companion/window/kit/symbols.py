"""Small drawn signs. Outcomes, lights and directions are told by shape, never by a hue."""

from collections.abc import Callable, Mapping
from enum import Enum
from math import cos, pi, sin

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from companion.journal import Outcome
from companion.window.kit.palette import Role, ink


class Heading(Enum):
    """Which way an arrow points; the value is the turn from upwards, clockwise, in degrees."""

    UP = 0.0
    RIGHT = 90.0
    DOWN = 180.0
    LEFT = 270.0


def stroke(colour: QColor, width: float) -> QPen:
    """Give a pen with round ends."""
    pen = QPen(colour, width)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    return pen


def draw_rule(
    painter: QPainter, widget: QWidget, start: QPointF, end: QPointF, thick: int = 1
) -> None:
    """Draw a level or upright rule that begins and ends with whole pixels."""
    left, top = round(start.x()), round(start.y())
    wide, high = round(end.x()) - left, round(end.y()) - top
    level = wide > high
    box = QRect(left, top, wide if level else thick, thick if level else high)
    painter.fillRect(box, ink(widget, Role.LINE))


def polar(centre: QPointF, radius: float, angle_deg: float) -> QPointF:
    """Give the point at an angle counted clockwise from the top."""
    angle = angle_deg * pi / 180
    return QPointF(centre.x() + radius * sin(angle), centre.y() - radius * cos(angle))


def draw_arrow(painter: QPainter, box: QRectF, heading: Heading, colour: QColor) -> None:
    """Draw a heavy arrow with a shaft that fills a square box."""
    side = min(box.width(), box.height())
    painter.save()
    painter.translate(box.center())
    painter.rotate(heading.value)
    painter.setPen(stroke(colour, side * 0.11))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    reach, wing = side * 0.42, side * 0.30
    painter.drawLine(QPointF(0, reach), QPointF(0, -reach))
    painter.drawPolyline(
        QPolygonF([QPointF(-wing, wing - reach), QPointF(0, -reach), QPointF(wing, wing - reach)])
    )
    painter.restore()


def draw_index(painter: QPainter, tip: QPointF, heading: Heading, size: float) -> None:
    """Draw a solid index mark whose tip is at ``tip``, with the painter's brush."""
    painter.save()
    painter.translate(tip)
    painter.rotate(heading.value)
    painter.drawPolygon(
        QPolygonF([QPointF(0, 0), QPointF(size * 0.5, size), QPointF(-size * 0.5, size)])
    )
    painter.restore()


def draw_sun(painter: QPainter, centre: QPointF, radius: float, colour: QColor, up: bool) -> None:
    """Draw the Sun: a disc within a fine ring; only the rings while it is down."""
    painter.setPen(QPen(colour, max(1.0, radius * 0.14)))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(centre, radius, radius)
    if up:
        painter.setBrush(QBrush(colour))
    painter.drawEllipse(centre, radius * 0.52, radius * 0.52)


def draw_moon(
    painter: QPainter, centre: QPointF, radius: float, colour: QColor, lit: float | None
) -> None:
    """Draw the Moon with its lit part (from 0 to 1); only the outline while it is down (None)."""
    painter.setPen(QPen(colour, max(1.0, radius * 0.12)))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(centre, radius, radius)
    if lit is None:
        return
    disc = QRectF(centre.x() - radius, centre.y() - radius, 2 * radius, 2 * radius)
    half = QPainterPath(QPointF(centre.x(), disc.top()))
    half.arcTo(disc, 90, -180)
    bulge = radius * abs(2 * lit - 1)
    middle = QPainterPath()
    middle.addEllipse(centre, bulge, radius)
    shape = half.united(middle) if lit >= 0.5 else half.subtracted(middle)
    painter.fillPath(shape, colour)


def draw_waiting(painter: QPainter, centre: QPointF, radius: float, colour: QColor) -> None:
    """Draw a small dot: nothing has been said about this target yet."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(colour))
    painter.drawEllipse(centre, radius * 0.26, radius * 0.26)


def draw_found(painter: QPainter, centre: QPointF, radius: float, colour: QColor) -> None:
    """Draw a field of view with the target in it."""
    painter.setPen(QPen(colour, radius * 0.22))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(centre, radius * 0.88, radius * 0.88)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(colour))
    painter.drawEllipse(centre, radius * 0.46, radius * 0.46)


def draw_not_seen(painter: QPainter, centre: QPointF, radius: float, colour: QColor) -> None:
    """Draw an empty field of view, struck through."""
    painter.setPen(stroke(colour, radius * 0.22))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(centre, radius * 0.88, radius * 0.88)
    reach = radius * 0.62
    painter.drawLine(centre + QPointF(-reach, reach), centre + QPointF(reach, -reach))


def draw_skipped(painter: QPainter, centre: QPointF, radius: float, colour: QColor) -> None:
    """Draw a hop over a bar."""
    painter.setPen(stroke(colour, radius * 0.22))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    box = QRectF(centre.x() - radius * 0.8, centre.y() - radius * 0.7, radius * 1.6, radius * 1.6)
    painter.drawArc(box, 0, 180 * 16)
    low = centre.y() + radius * 0.55
    painter.drawLine(QPointF(centre.x(), low), QPointF(centre.x(), centre.y() + radius * 0.1))


def draw_caution(painter: QPainter, box: QRectF, colour: QColor) -> None:
    """Draw the triangle of a caution with its stroke and dot (the shape of ISO 7010 W001)."""
    side = min(box.width(), box.height())
    centre = box.center()
    painter.setPen(stroke(colour, side * 0.08))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    top, low = centre.y() - side * 0.42, centre.y() + side * 0.36
    painter.drawPolygon(
        QPolygonF(
            [
                QPointF(centre.x(), top),
                QPointF(centre.x() + side * 0.46, low),
                QPointF(centre.x() - side * 0.46, low),
            ]
        )
    )
    painter.drawLine(
        QPointF(centre.x(), centre.y() - side * 0.12), QPointF(centre.x(), centre.y() + side * 0.1)
    )
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(colour))
    painter.drawEllipse(QPointF(centre.x(), centre.y() + side * 0.23), side * 0.05, side * 0.05)


OUTCOME_SIGNS: Mapping[Outcome, Callable[[QPainter, QPointF, float, QColor], None]] = {
    Outcome.WAITING: draw_waiting,
    Outcome.FOUND: draw_found,
    Outcome.NOT_SEEN: draw_not_seen,
    Outcome.SKIPPED: draw_skipped,
}
