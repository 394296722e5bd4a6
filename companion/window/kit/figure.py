"""One of the two numbers that rule the screen."""

from PySide6.QtCore import QPointF
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from companion.window.kit.palette import Role, ink
from companion.window.kit.type_scale import Scaled, font

FULL_POINTS = 113.0  # read from two metres, dim: see ``type_scale``
_SIGN = 0.62  # size of the degree sign: it should not shout
_DIGITS = str.maketrans("0123456789", "8888888888")


def width_of(text: str, pixels: float) -> float:
    """Give the width of a number with its degree sign, whatever its digits are."""
    digits = QFontMetricsF(font(pixels)).horizontalAdvance(text.translate(_DIGITS))
    return digits + QFontMetricsF(font(pixels * _SIGN)).horizontalAdvance("°")


def height_of(pixels: float) -> int:
    """Give the height of the digits, with a little air above and below."""
    return round(QFontMetricsF(font(pixels)).capHeight() * 1.16)


class Figure(Scaled, QWidget):
    """A number in degrees, as large as it is given room; shrinks rather than being cut."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name = name
        self._text, self._role, self._pixels = "", Role.EMPHASIS, 100.0

    @property
    def text(self) -> str:
        """What it shows; empty when there is nothing to show or it is withheld."""
        return self._text

    @property
    def pixels(self) -> float:
        """The size of the type."""
        return self._pixels

    def say(self, text: str, role: Role = Role.EMPHASIS) -> None:
        """Show a number without its degree sign; empty withholds it."""
        if (text, role) != (self._text, self._role):
            self._text, self._role = text, role
            self.setAccessibleName(f"{self._name} {text or 'withheld'}")
            self.update()

    def set_pixels(self, pixels: float) -> None:
        """Take a size of type."""
        if pixels != self._pixels:
            self._pixels = pixels
            self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Write the digits bright and their degree sign dimmer."""
        if not self._text:
            return
        painter, shown = QPainter(self), self._text
        room = max(1.0, float(self.width()))
        pixels = self._pixels * min(1.0, room / max(1.0, width_of(shown, self._pixels)))
        type_ = font(pixels)
        metrics = QFontMetricsF(type_)
        bearing = metrics.leftBearing(shown[0])
        at = QPointF(-bearing, self.height() - metrics.capHeight() * 0.08)
        painter.setFont(type_)
        painter.setPen(ink(self, self._role))
        painter.drawText(at, shown)
        sign = font(pixels * _SIGN)
        top = metrics.capHeight() - QFontMetricsF(sign).capHeight()
        painter.setFont(sign)
        painter.setPen(ink(self, Role.TEXT))
        painter.drawText(at + QPointF(metrics.horizontalAdvance(shown), -top), "°")
