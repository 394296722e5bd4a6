"""A drawing for each step of the set-up: what the hand does, told before it is read."""

from collections.abc import Callable, Mapping

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from companion.mount import SetUpKind
from companion.window.kit.palette import Role, ink
from companion.window.kit.symbols import Heading, draw_index, polar, stroke
from companion.window.kit.type_scale import Scaled

_SPAN = 100.0  # a drawing is made in a square of so many units


class SetUpDrawing(Scaled, QWidget):
    """Draws the step that is up into the largest square that it has."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._kind: SetUpKind | None = None

    def show_step(self, kind: SetUpKind | None) -> None:
        """Show another step."""
        if kind is not self._kind:
            self._kind = kind
            self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw."""
        draw = None if self._kind is None else _DRAWINGS.get(self._kind)
        if draw is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        side = min(self.width(), self.height())
        painter.translate((self.width() - side) / 2, 0.0)  # its top beside that of the words
        painter.scale(side / _SPAN, side / _SPAN)
        draw(_Pencil(painter, self, 1.6 * self.scale.hair * _SPAN / max(side, 1)))


class _Pencil:
    """Strokes of two tones, for what stands there and for what is done with it."""

    def __init__(self, painter: QPainter, widget: QWidget, width: float) -> None:
        self.painter, self._widget, self._width = painter, widget, width
        self.calm()

    def calm(self) -> None:
        """Draw what stands there."""
        self._take(Role.TEXT, 1.0)

    def stress(self) -> None:
        """Draw what is done."""
        self._take(Role.EMPHASIS, 1.5)

    def _take(self, role: Role, widths: float) -> None:
        self.painter.setPen(stroke(ink(self._widget, role), self._width * widths))
        self.painter.setBrush(Qt.BrushStyle.NoBrush)

    def line(self, *places: tuple[float, float]) -> None:
        """Draw a line through places."""
        self.painter.drawPolyline([QPointF(*place) for place in places])

    def ring(self, x: float, y: float, radius: float) -> None:
        """Draw a circle."""
        self.painter.drawEllipse(QPointF(x, y), radius, radius)

    def box(self, left: float, top: float, wide: float, high: float) -> None:
        """Draw a rounded box."""
        self.painter.drawRoundedRect(QRectF(left, top, wide, high), high / 3, high / 3)

    def tip(self, x: float, y: float, heading: Heading) -> None:
        """Draw the solid tip of an arrow."""
        pen = self.painter.pen()
        self.painter.setPen(Qt.PenStyle.NoPen)
        self.painter.setBrush(pen.color())
        draw_index(self.painter, QPointF(x, y), heading, 5.0)
        self.painter.setPen(pen)
        self.painter.setBrush(Qt.BrushStyle.NoBrush)


def _tripod(pencil: _Pencil) -> None:
    pencil.calm()
    pencil.line((20, 62), (80, 62))
    for foot in (28, 50, 72):
        pencil.line((50 + (foot - 50) * 0.5, 62), (foot, 90))
    pencil.line((12, 90), (88, 90))


def _level(pencil: _Pencil) -> None:
    """Draw a spirit level on the base, its bubble between the marks."""
    _tripod(pencil)
    pencil.stress()
    pencil.box(28, 46, 44, 13)
    pencil.box(45, 49, 10, 7)
    for x in (42, 58):
        pencil.line((x, 46), (x, 59))


def _altitude(pencil: _Pencil) -> None:
    """Draw the tube laid level, the level on it, and the dial at its axis."""
    _tripod(pencil)
    pencil.box(12, 30, 76, 14)
    pencil.line((50, 44), (50, 62))
    pencil.ring(50, 37, 11)
    pencil.stress()
    pencil.box(30, 19, 30, 9)
    pencil.box(41, 21, 7, 5)
    pencil.line((50, 37), (61, 37))


def _compass(pencil: _Pencil) -> None:
    """Draw a compass away from the mount, the dial turned to what it shows."""
    pencil.calm()
    _dial(pencil)
    pencil.stress()
    pencil.line((50, 50), (50, 18))
    pencil.tip(50, 15, Heading.UP)
    pencil.calm()
    pencil.line((50, 50), (50, 78))


def _dial(pencil: _Pencil) -> None:
    pencil.ring(50, 50, 38)
    for tens in range(36):
        inner = 32 if tens % 9 == 0 else 35
        start, end = (polar(QPointF(50, 50), out, 10.0 * tens) for out in (inner, 38))
        pencil.painter.drawLine(start, end)


def _star(pencil: _Pencil) -> None:
    """Draw the tube at a star that stands in the middle of its field."""
    pencil.calm()
    pencil.ring(50, 50, 38)
    pencil.line((50, 12), (50, 40))
    pencil.line((50, 60), (50, 88))
    pencil.line((12, 50), (40, 50))
    pencil.line((60, 50), (88, 50))
    pencil.stress()
    pencil.ring(50, 50, 2.6)
    pencil.ring(50, 50, 1.0)


def _polaris(pencil: _Pencil) -> None:
    """Draw five bowl gaps from the Dipper's end to Polaris."""
    stars = [(16, 66), (30, 62), (40, 66), (52, 70), (54, 84), (76, 86), (80, 68)]
    pencil.calm()
    pencil.line(*stars[:4], *stars[4:], stars[3])
    for x, y in stars:
        pencil.ring(x, y, 1.6)
    pencil.stress()
    pencil.line((81, 62), (87, 24))
    pencil.tip(87.6, 20, Heading.UP)
    pencil.ring(88.5, 12, 3.2)


def _shadow(pencil: _Pencil) -> None:
    """Draw a rod's shadow on the ground, away from the Sun."""
    pencil.calm()
    pencil.ring(18, 20, 8)
    for way in range(8):
        start, end = (polar(QPointF(18, 20), out, 45.0 * way) for out in (11, 15))
        pencil.painter.drawLine(start, end)
    pencil.line((8, 82), (92, 82))
    pencil.line((46, 82), (46, 40))
    pencil.stress()
    pencil.line((46, 82), (80, 82))
    pencil.tip(84, 82, Heading.RIGHT)


def _azimuth_play(pencil: _Pencil) -> None:
    """Draw the ring of degrees, come to the star from the left and from the right."""
    pencil.calm()
    _dial(pencil)
    pencil.line((50, 50), (50, 18))
    pencil.stress()
    for heading, side in ((Heading.RIGHT, -1), (Heading.LEFT, 1)):
        pencil.line((50 + side * 24, 50), (50 + side * 9, 50))
        pencil.tip(50 + side * 5, 50, heading)


def _altitude_play(pencil: _Pencil) -> None:
    """Draw the tube, come to the star from below and from above."""
    pencil.calm()
    pencil.box(14, 43, 52, 14)
    pencil.ring(40, 50, 11)
    pencil.stress()
    for heading, side in ((Heading.DOWN, -1), (Heading.UP, 1)):
        pencil.line((80, 50 + side * 32), (80, 50 + side * 13))
        pencil.tip(80, 50 + side * 8, heading)


_DRAWINGS: Mapping[SetUpKind, Callable[[_Pencil], None]] = {
    SetUpKind.LEVEL: _level,
    SetUpKind.ALTITUDE: _altitude,
    SetUpKind.COMPASS: _compass,
    SetUpKind.POLARIS: _polaris,
    SetUpKind.SHADOW: _shadow,
    SetUpKind.STAR: _star,
    SetUpKind.AZIMUTH_PLAY: _azimuth_play,
    SetUpKind.ALTITUDE_PLAY: _altitude_play,
}
