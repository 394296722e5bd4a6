"""Messages over the status line: severity told by shape and word, gone when dismissed."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QMouseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from companion.live import Message, Severity
from companion.window.kit.lettering import Size, letter
from companion.window.kit.palette import Role, ink
from companion.window.kit.symbols import draw_caution, stroke
from companion.window.kit.type_scale import Scaled, TypeScale

_WRAP = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap)
_MOST_LINES = 3


class MessageStrip(Scaled, QWidget):
    """The newest message in full, and how many wait behind it; a click puts it away."""

    put_away = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._messages: tuple[Message, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.hide()

    @property
    def text(self) -> str:
        """What it says."""
        if not self._messages:
            return ""
        newest = self._messages[-1]
        more = len(self._messages) - 1
        behind = f" ({more} more: esc)" if more else ""
        return f"{newest.severity.value.capitalize()}: {newest.text}{behind}"

    def say(self, messages: Sequence[Message]) -> None:
        """Show the newest of other messages."""
        if tuple(messages) != self._messages:
            self._messages = tuple(messages)
            self.setAccessibleName(self.text)
            self._fit()
            self.setVisible(bool(self._messages))
            self.update()

    def set_scale(self, scale: TypeScale) -> None:
        """Take a new scale: the same text is higher or lower then."""
        super().set_scale(scale)
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Wrap again."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        self.setFixedHeight(self.sizeHint().height())

    def _box(self) -> QRect:
        left, margin = self.scale.grid(10), self.scale.grid(12)
        return QRect(left, self.scale.grid(1), max(1, self.width() - left - margin), 100_000)

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Be as high as the text, up to three lines."""
        metrics = QFontMetrics(Size.BODY.font(self.scale))
        high = metrics.boundingRect(self._box(), _WRAP, self.text).height()
        return QSize(0, min(high, _MOST_LINES * metrics.lineSpacing()) + self.scale.grid(2))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the sign of the severity and write the text."""
        if not self._messages:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        severity = self._messages[-1].severity
        side = float(self.scale.grid(3))
        sign = QRectF(self.scale.grid(6), self.scale.grid(1.6), side, side)
        self._paint_sign(painter, severity, sign)
        letter(painter, self, Size.BODY, Role.TEXT if severity is Severity.NOTE else Role.EMPHASIS)
        painter.drawText(QRectF(self._box()), _WRAP, self.text)
        self._paint_cross(painter)

    def _paint_cross(self, painter: QPainter) -> None:
        """Draw what a click puts the message away with."""
        centre = QPointF(self.width() - self.scale.grid(7.5), self.scale.grid(3))
        reach = float(self.scale.grid(0.8))
        painter.setPen(stroke(ink(self, Role.TEXT), self.scale.hair * 1.4))
        for side in (-1, 1):
            away = QPointF(reach, side * reach)
            painter.drawLine(centre - away, centre + away)

    def mousePressEvent(self, _event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Put the message away."""
        self.put_away.emit()

    def _paint_sign(self, painter: QPainter, severity: Severity, box: QRectF) -> None:
        colour = ink(self, Role.EMPHASIS)
        if severity is Severity.WARNING:
            draw_caution(painter, box, colour)
            return
        painter.setPen(stroke(colour, self.scale.hair * 2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if severity is Severity.NOTE:
            painter.drawEllipse(box.center(), box.width() * 0.3, box.width() * 0.3)
            return
        painter.drawRect(box.adjusted(2, 2, -2, -2))
        reach = box.width() * 0.22
        centre = box.center()
        for side in (-1, 1):
            away = QPointF(reach, side * reach)
            painter.drawLine(centre - away, centre + away)
