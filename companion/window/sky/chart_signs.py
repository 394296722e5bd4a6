"""Our own signs for the deep sky, double and variable stars, and the wanderers.

The shape tells what a thing looks like in an eyepiece: grains, haze, a ring, a spindle. From a
certain size on every sign is drawn to scale, along its own axes.
"""

from collections.abc import Callable
from math import cos, pi, sin

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPen, QPolygonF

from companion.sky import Kind
from companion.window.kit.palette import Role
from companion.window.kit.symbols import draw_sun, polar, stroke
from companion.window.sky.chart_ink import ChartInk

# Grains of a cluster, in parts of its half axes.
_GRAINS = (
    *((-0.55, -0.2), (-0.1, -0.62), (0.4, -0.34), (0.66, 0.22), (0.12, 0.08)),
    *((-0.34, 0.4), (0.24, 0.62), (-0.74, 0.24)),
)
_FEW = 9.0  # pixels: in a smaller cluster only some of the grains have room

Draw = Callable[[QPainter, ChartInk, float, float], None]


def draw_sign(
    painter: QPainter, ink: ChartInk, kind: Kind, place: QPointF, axes: tuple[float, float, float]
) -> None:
    """Draw a deep-sky object with its half axes and the angle of the major one, from up."""
    major, minor, angle = axes
    painter.save()
    painter.translate(place)
    painter.rotate(angle)
    painter.setPen(ink.pen(Role.TEXT))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    _SIGNS.get(kind, _other)(painter, ink, minor, major)
    painter.restore()


def _galaxy(painter: QPainter, ink: ChartInk, x: float, y: float) -> None:
    """Draw a spindle: pointed at both ends of its long axis, with a core."""
    path = QPainterPath(QPointF(0, -y))
    path.cubicTo(QPointF(x * 1.35, -y * 0.35), QPointF(x * 1.35, y * 0.35), QPointF(0, y))
    path.cubicTo(QPointF(-x * 1.35, y * 0.35), QPointF(-x * 1.35, -y * 0.35), QPointF(0, -y))
    painter.drawPath(path)
    core = min(max(0.16 * x, ink.scale.hair), 5.0 * ink.scale.hair)
    painter.setBrush(QBrush(ink.tone(Role.TEXT)))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.drawEllipse(QPointF(0, 0), core, core)


def _open_cluster(painter: QPainter, ink: ChartInk, x: float, y: float) -> None:
    """Draw loose grains, and corners that tell how far they reach."""
    _grains(painter, ink, x, y)
    _corners(painter, x, y)


def _grains(painter: QPainter, ink: ChartInk, x: float, y: float) -> None:
    painter.save()
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(ink.tone(Role.TEXT)))
    size = min(max(1.0, 0.10 * y), 2.0) * ink.scale.hair
    for at_x, at_y in _GRAINS[: 4 if y < _FEW else 8]:
        painter.drawEllipse(QPointF(at_x * x, at_y * y), size, size)
    painter.restore()


def _corners(painter: QPainter, x: float, y: float) -> None:
    box = QRectF(-x, -y, 2 * x, 2 * y)
    for start in (30, 120, 210, 300):
        painter.drawArc(box, start * 16, 30 * 16)


def _globular(painter: QPainter, ink: ChartInk, x: float, y: float) -> None:
    """Draw a dense core in a rim of grains."""
    painter.save()
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(ink.tone(Role.TEXT)))
    painter.drawEllipse(QPointF(0, 0), x * 0.42, y * 0.42)
    size = min(max(0.8, 0.07 * y), 1.6) * ink.scale.hair
    for at in range(8):
        angle = (at + 0.5) * pi / 4
        painter.drawEllipse(QPointF(x * 0.86 * sin(angle), y * 0.86 * cos(angle)), size, size)
    painter.restore()


def _nebula(painter: QPainter, ink: ChartInk, x: float, y: float) -> None:
    """Draw haze: strokes across that end without an outline."""
    gap = max(2.6 * ink.scale.hair, y / 6.0)
    count = int(y // gap)
    for at in range(-count, count + 1):
        level = at * gap
        half = x * max(0.0, 1.0 - (level / y) ** 2) ** 0.5
        sway = 0.18 * x if at % 2 else -0.1 * x
        painter.drawLine(QLineF(-half + max(sway, 0.0), level, half + min(sway, 0.0), level))


def _cluster_nebula(painter: QPainter, ink: ChartInk, x: float, y: float) -> None:
    """Draw grains within haze."""
    _nebula(painter, ink, x, y)
    _grains(painter, ink, x * 0.8, y * 0.8)


def _planetary(painter: QPainter, ink: ChartInk, x: float, y: float) -> None:
    """Draw a thick ring, as of smoke, with a point in it."""
    wide = min(max(1.6 * ink.scale.hair, 0.34 * y), 7.0 * ink.scale.hair)
    painter.setPen(QPen(ink.tone(Role.TEXT), wide))
    painter.drawEllipse(QPointF(0, 0), max(x - wide / 2, 1.0), max(y - wide / 2, 1.0))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(ink.tone(Role.TEXT)))
    painter.drawEllipse(QPointF(0, 0), ink.scale.hair * 0.7, ink.scale.hair * 0.7)


def _remnant(painter: QPainter, _ink: ChartInk, x: float, y: float) -> None:
    """Draw a shell that has burst open on two sides."""
    for part, (start, span) in ((1.0, (20, 110)), (0.72, (40, 70)), (1.0, (200, 110))):
        box = QRectF(-x * part, -y * part, 2 * x * part, 2 * y * part)
        painter.drawArc(box, start * 16, span * 16)


def _dark(painter: QPainter, ink: ChartInk, x: float, y: float) -> None:
    """Draw an empty frame of dashes: there is nothing to be seen in it."""
    painter.setPen(ink.pen(Role.TEXT, 1.0, (3.0, 3.0)))
    painter.drawRect(QRectF(-0.9 * x, -0.9 * y, 1.8 * x, 1.8 * y))


def _other(painter: QPainter, _ink: ChartInk, x: float, y: float) -> None:
    """Draw plain corners."""
    _corners(painter, x, y)


_SIGNS: dict[Kind, Draw] = {
    Kind.GALAXY: _galaxy,
    Kind.OPEN_CLUSTER: _open_cluster,
    Kind.GLOBULAR: _globular,
    Kind.NEBULA: _nebula,
    Kind.CLUSTER_NEBULA: _cluster_nebula,
    Kind.PLANETARY: _planetary,
    Kind.REMNANT: _remnant,
    Kind.DARK_NEBULA: _dark,
}


def draw_double(
    painter: QPainter,
    ink: ChartInk,
    place: QPointF,
    radii: tuple[float, float],
    companion: tuple[float, float],
) -> None:
    """Draw the companion where it stands if there is room, else a stroke that tells its side.

    ``radii`` are those of both stars, ``companion`` is distance and angle clockwise from up.
    """
    (first, second), (apart, angle) = radii, companion
    if apart > first + second and second > 0.8:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(ink.tone(Role.EMPHASIS)))
        painter.drawEllipse(polar(place, apart, angle), second, second)
        return
    painter.setPen(ink.pen(Role.TEXT, 1.3))
    gap = first + 1.6 * ink.scale.hair
    painter.drawLine(polar(place, gap, angle), polar(place, gap + ink.scale.grid(0.6), angle))


def draw_variable(painter: QPainter, ink: ChartInk, place: QPointF, radius: float) -> None:
    """Draw two arcs over and under a star: it swells and shrinks."""
    painter.setPen(ink.pen(Role.TEXT))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    reach = radius + 2.6 * ink.scale.hair
    box = QRectF(place.x() - reach, place.y() - reach, 2 * reach, 2 * reach)
    painter.drawArc(box, 50 * 16, 80 * 16)
    painter.drawArc(box, 230 * 16, 80 * 16)


def draw_planet(
    painter: QPainter, ink: ChartInk, place: QPointF, radius: float, *, strokes: bool = True
) -> None:
    """Draw a disc within two slanting strokes: a star that wanders."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(ink.tone(Role.EMPHASIS)))
    painter.drawEllipse(place, radius, radius)
    if not strokes:
        return
    painter.setPen(ink.pen(Role.EMPHASIS, 1.1))
    reach = radius + 3.4 * ink.scale.hair
    for angle in (45.0, 225.0):
        middle = polar(place, reach, angle)
        along = polar(QPointF(0, 0), reach * 0.55, angle + 90.0)
        painter.drawLine(middle - along, middle + along)


def draw_phase(
    painter: QPainter,
    colour: QColor,
    place: QPointF,
    radius: float,
    phase: tuple[float, float],
) -> None:
    """Draw the Moon: its lit part, and which side of it is lit, clockwise from up."""
    lit, angle = phase
    painter.save()
    painter.translate(place)
    painter.rotate(angle)  # the lit side is up now
    painter.setPen(QPen(colour, max(1.0, radius * 0.06)))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(QPointF(0, 0), radius, radius)
    disc = QRectF(-radius, -radius, 2 * radius, 2 * radius)
    half = QPainterPath(QPointF(radius, 0))
    half.arcTo(disc, 0, 180)
    middle = QPainterPath()
    middle.addEllipse(QPointF(0, 0), radius, radius * abs(2 * lit - 1))
    painter.fillPath(half.united(middle) if lit >= 0.5 else half.subtracted(middle), colour)
    painter.restore()


def draw_daylight(painter: QPainter, ink: ChartInk, place: QPointF, radius: float) -> None:
    """Draw the Sun."""
    draw_sun(painter, place, radius, ink.tone(Role.EMPHASIS), up=True)


def draw_reticle(painter: QPainter, ink: ChartInk, place: QPointF, inner: float) -> None:
    """Draw four strokes that leave the target itself free."""
    painter.setPen(stroke(ink.tone(Role.EMPHASIS), ink.scale.hair * 1.8))
    for angle in (0.0, 90.0, 180.0, 270.0):
        painter.drawLine(
            polar(place, inner, angle), polar(place, inner + ink.scale.grid(1.2), angle)
        )


def draw_pointing(painter: QPainter, ink: ChartInk, place: QPointF) -> None:
    """Draw a slanting open cross: where the readings point."""
    reach = ink.scale.grid(1.4)
    painter.setPen(ink.pen(Role.EMPHASIS, 1.4))
    for angle in (45.0, 135.0, 225.0, 315.0):
        painter.drawLine(polar(place, reach * 0.4, angle), polar(place, reach, angle))


def draw_arrow_head(painter: QPainter, tip: QPointF, angle_deg: float, size: float) -> None:
    """Draw a slender solid head whose tip points to an angle clockwise from up."""
    painter.save()
    painter.translate(tip)
    painter.rotate(angle_deg)
    painter.drawPolygon(
        QPolygonF([QPointF(0, 0), QPointF(size * 0.34, size), QPointF(-size * 0.34, size)])
    )
    painter.restore()
