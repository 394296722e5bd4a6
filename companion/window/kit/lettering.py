"""Lettering: one function that every panel writes with, and a label made of it."""

from enum import Enum
from functools import cache

from PySide6.QtCore import QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from companion.window.kit.palette import Role, ink
from companion.window.kit.type_scale import Scaled, TypeScale

_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


_ONE_LINE = Qt.TextFlag.TextSingleLine | Qt.TextFlag.TextDontClip
_PART = " · "


class Size(Enum):
    """Steps of the type scale; the value is the attribute of ``TypeScale``."""

    CAPTION = "caption"
    SMALL = "small"
    BODY = "body"
    VALUE = "value"
    TITLE = "title"
    TURN = "turn"

    def font(self, scale: TypeScale) -> QFont:
        """Give the font; captions are set wide, as engraved on a dial."""
        return QFont(_font(self, scale))


@cache
def _font(size: Size, scale: TypeScale) -> QFont:
    made: QFont = getattr(scale, size.value)
    if size is Size.CAPTION:
        made.setLetterSpacing(QFont.SpacingType.PercentageSpacing, 104.0)
    return made


def write(
    painter: QPainter,
    box: QRectF,
    text: str,
    align: Qt.AlignmentFlag = _LEFT,
) -> float:
    """Write one line into a box with the painter's font and pen; give the width it took.

    What does not fit loses its last parts (they are parted by " · "), then ends in an ellipsis,
    so that nothing ever runs into its neighbour.
    """
    metrics = QFontMetricsF(painter.font())
    shown, wide = text, metrics.horizontalAdvance(text)
    while wide > box.width() + 0.5 and _PART in shown:
        shown = shown.rpartition(_PART)[0]
        wide = metrics.horizontalAdvance(shown)
    if wide > box.width() + 0.5:
        shown = metrics.elidedText(shown, Qt.TextElideMode.ElideRight, box.width())
        wide = metrics.horizontalAdvance(shown)
    painter.drawText(box, align | _ONE_LINE, shown)
    return wide


def write_if_it_fits(painter: QPainter, box: QRectF, text: str) -> None:
    """Write one line whole, or not at all: for what may be missing."""
    if QFontMetricsF(painter.font()).horizontalAdvance(text) <= box.width():
        write(painter, box, text)


def letter(painter: QPainter, widget: Scaled, size: Size, role: Role) -> QFontMetricsF:
    """Set the painter to a step of the scale and a tone; give its metrics."""
    made = size.font(widget.scale)
    painter.setFont(made)
    if isinstance(widget, QWidget):
        painter.setPen(ink(widget, role))
    return QFontMetricsF(made)


class Words(Scaled, QWidget):
    """A line of text, or several; repaints only when its text changes."""

    def __init__(
        self,
        size: Size = Size.BODY,
        role: Role = Role.TEXT,
        *,
        wrap: bool = False,
        align: Qt.AlignmentFlag = _LEFT,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._size, self._role, self._wrap, self._align = size, role, wrap, align
        self._text = ""
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    @property
    def text(self) -> str:
        """What it says."""
        return self._text

    def say(self, text: str, role: Role | None = None) -> None:
        """Say something else."""
        role = role or self._role
        if (text, role) == (self._text, self._role):
            return
        self._text, self._role = text, role
        self.setAccessibleName(text)
        self.updateGeometry()
        self.update()

    def set_size(self, size: Size) -> None:
        """Take another step of the scale."""
        if size is not self._size:
            self._size = size
            self.updateGeometry()
            self.update()

    def height_for(self, width: int) -> int:
        """Give the height that the text takes at a width."""
        metrics = QFontMetrics(self._size.font(self.scale))
        if not self._wrap or not self._text:
            return metrics.height()
        box = QRect(0, 0, max(1, width), 100_000)
        return metrics.boundingRect(box, self._flags(), self._text).height()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Be as wide as the text."""
        metrics = QFontMetrics(self._size.font(self.scale))
        return QSize(metrics.horizontalAdvance(self._text) + 2, metrics.height())

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Write the text."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), ink(self, Role.GROUND))
        letter(painter, self, self._size, self._role)
        if self._wrap:
            painter.drawText(QRectF(self.rect()), self._flags(), self._text)
        else:
            write(painter, QRectF(self.rect()), self._text, self._align)

    def _flags(self) -> int:
        return int((Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop).value) | int(
            Qt.TextFlag.TextWordWrap.value
        )
