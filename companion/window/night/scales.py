"""The two scales of the night chart: altitude at its left, the site's clock below it."""

from datetime import tzinfo

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QWidget

from companion.sky import clock_text
from companion.window.kit.lettering import Size, letter, write
from companion.window.kit.palette import Role, ink
from companion.window.kit.type_scale import Scaled
from companion.window.night.plot import TimeAxis, y_of

_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_CENTRE = Qt.AlignmentFlag.AlignCenter
_LONG, _MIDDLE, _SHORT = 1.4, 0.9, 0.5  # ticks, in steps of the grid
_LINED_DEG = (30, 60)
_APART = 1.35  # widths of a time from one to the next


class Layer(Scaled, QWidget):
    """A widget that is drawn and lettered on."""


def paint_altitudes(painter: QPainter, widget: Layer, room: QRectF, low_limit_deg: float) -> None:
    """Draw the scale of altitude: a tick for each 5°, lines at 30° and 60°, the low limit."""
    scale = widget.scale
    for altitude in range(0, 91, 5):
        y = y_of(room, altitude)
        role = Role.TEXT if altitude % 30 == 0 else Role.LINE
        steps = _LONG if altitude % 30 == 0 else _MIDDLE if altitude % 10 == 0 else _SHORT
        painter.setPen(QPen(ink(widget, role), scale.hair))
        painter.drawLine(QPointF(room.left() - scale.grid(steps), y), QPointF(room.left(), y))
    _letter_altitudes(painter, widget, room)
    painter.setPen(QPen(ink(widget, Role.LINE), scale.hair))
    painter.drawLine(room.topLeft(), room.bottomLeft())
    for altitude in _LINED_DEG:
        y = y_of(room, altitude)
        painter.drawLine(QPointF(room.left(), y), QPointF(room.right(), y))
    if low_limit_deg > 0.0:
        pen = QPen(ink(widget, Role.TEXT), scale.hair)
        pen.setDashPattern([2.0, 6.0])
        painter.setPen(pen)
        y = y_of(room, low_limit_deg)
        painter.drawLine(QPointF(room.left(), y), QPointF(room.right(), y))


def paint_hours(
    painter: QPainter, widget: Layer, room: QRectF, axis: TimeAxis, zone: tzinfo
) -> None:
    """Draw the clock: a tick for each ten minutes, longer at the half and the full hour."""
    scale = widget.scale
    painter.setPen(QPen(ink(widget, Role.LINE), scale.hair))
    painter.drawLine(room.bottomLeft(), room.bottomRight())
    for at in axis.ticks(zone, 10 if axis.hour_width > scale.grid(6) else 30):
        x = axis.x(at.timestamp())
        steps = _LONG if at.minute == 0 else _MIDDLE if at.minute == 30 else _SHORT
        role = Role.TEXT if at.minute == 0 else Role.LINE
        painter.setPen(QPen(ink(widget, role), scale.hair))
        painter.drawLine(QPointF(x, room.bottom()), QPointF(x, room.bottom() + scale.grid(steps)))
    _letter_hours(painter, widget, room, axis, zone)


def _letter_altitudes(painter: QPainter, widget: Layer, room: QRectF) -> None:
    metrics = letter(painter, widget, Size.SMALL, Role.TEXT)
    for altitude in (*_LINED_DEG, 90):
        box = QRectF(0, 0, metrics.horizontalAdvance("88°"), metrics.height())
        box.moveCenter(QPointF(0, y_of(room, altitude)))
        box.moveRight(room.left() - widget.scale.grid(2))
        write(painter, box, f"{altitude}°", _RIGHT)


def _letter_hours(
    painter: QPainter, widget: Layer, room: QRectF, axis: TimeAxis, zone: tzinfo
) -> None:
    """Name every full hour, or every second, third, …, as there is room."""
    metrics = letter(painter, widget, Size.SMALL, Role.TEXT)
    wide = metrics.horizontalAdvance("88:88")
    every = next((h for h in (1, 2, 3, 4, 6) if h * axis.hour_width > wide * _APART), 12)
    for at in axis.ticks(zone, 60):
        box = QRectF(0, room.bottom() + widget.scale.grid(1.5), wide, metrics.height())
        box.moveCenter(QPointF(axis.x(at.timestamp()), box.center().y()))
        if at.hour % every == 0 and box.right() < widget.width():
            write(painter, box, clock_text(at), _CENTRE)
