"""The band that no one can overlook, and the one quiet line under everything."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from companion.window.frame.status_words import Freshness, Status, fitted
from companion.window.kit.lettering import Size, letter, write
from companion.window.kit.palette import Role, ink
from companion.window.kit.symbols import stroke
from companion.window.kit.type_scale import Scaled

_BRIGHT = 2  # so many parts stand out: the time, and what begins within minutes
_LIVE = 3  # the place of the word that says how live


class Banner(Scaled, QWidget):
    """Words in a frame: the numbers are not for now. It gives little light of its own."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._text = ""
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.hide()

    @property
    def text(self) -> str:
        """What it says."""
        return self._text

    def say(self, text: str) -> None:
        """Say something else; empty takes the band away."""
        if text != self._text:
            self._text = text
            self.setAccessibleName(text)
            self.setVisible(bool(text))
            self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Give a line with air above and below."""
        return QSize(0, self.scale.grid(7))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the frame and write the words."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), ink(self, Role.GROUND))
        margin, air = self.scale.grid(6), self.scale.grid(0.6)
        thick = max(2, round(self.scale.hair * 1.6))
        metrics = letter(painter, self, Size.BODY, Role.EMPHASIS)
        room = QRectF(self.rect()).adjusted(margin, air, -margin, -air)
        high = min(room.height(), metrics.height() + 4 * thick)
        wide = min(room.width(), metrics.horizontalAdvance(self._text) + 1)
        top = round(room.center().y() - high / 2)
        words = QRectF(room.left(), top, wide, round(high))
        frame = words.adjusted(-3 * air, 0, 3 * air, 0)  # the words stand on the margin
        painter.setPen(stroke(ink(self, Role.EMPHASIS), thick))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(frame)
        painter.setPen(ink(self, Role.EMPHASIS))
        write(painter, words, self._text)


class StatusLine(Scaled, QWidget):
    """When, where, how live, how dark, how sure."""

    wanted = Signal(str)  # what a click asks for

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._status = Status()
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    @property
    def status(self) -> Status:
        """What it says."""
        return self._status

    def say(self, status: Status) -> None:
        """Say something else."""
        if status != self._status:
            self._status = status
            parts = _parts(status)
            self.setAccessibleName(", ".join(part for part in parts if part))
            self.update()

    @property
    def shown(self) -> Status:
        """What of it has room, whole."""
        return fitted(self._status, self._end() - self.scale.grid(6), self._width)

    def _end(self) -> float:
        """Give where the words end: before the signs that minimise and close."""
        return self.width() - self.scale.grid(6) - sum(box.width() for box, _a in self._buttons())

    def _width(self, status: Status) -> float:
        """Give the width of the parts with the gaps between them and the sign of how live."""
        metrics = QFontMetricsF(Size.SMALL.font(self.scale))
        parts = [part for part in _parts(status) if part]
        words = sum(metrics.horizontalAdvance(part) for part in parts)
        sign = 2 * self.scale.grid(0.7) + self.scale.grid(1)
        return words + (len(parts) - 1) * self.scale.grid(4) + sign

    def _buttons(self) -> tuple[tuple[QRectF, str], ...]:
        """Give what minimises and closes a window without a frame of the desktop's."""
        if self.window().isFullScreen():
            return ()
        side = float(self.scale.grid(6))
        right = self.width() - self.scale.grid(5)
        return (
            (QRectF(right - 2 * side, 0, side, self.height()), "minimise"),
            (QRectF(right - side, 0, side, self.height()), "leave"),
        )

    def _paint_buttons(self, painter: QPainter) -> None:
        """Draw a stroke and a cross."""
        painter.setPen(stroke(ink(self, Role.TEXT), self.scale.hair * 1.4))
        reach = float(self.scale.grid(0.8))
        for box, action in self._buttons():
            middle = box.center()
            if action == "minimise":
                low = middle + QPointF(0, reach)
                painter.drawLine(low - QPointF(reach, 0), low + QPointF(reach, 0))
                continue
            for side in (-1, 1):
                away = QPointF(reach, side * reach)
                painter.drawLine(middle - away, middle + away)

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Minimise or close the window; elsewhere the line moves it."""
        for box, action in self._buttons():
            if box.contains(event.position()):
                self.wanted.emit(action)
                return
        event.ignore()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Give one line."""
        return QSize(0, self.scale.grid(6))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Write the parts one after the other, as far as they have room."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), ink(self, Role.GROUND))
        self._paint_buttons(painter)
        x, end = float(self.scale.grid(6)), self._end()
        metrics = letter(painter, self, Size.SMALL, Role.TEXT)
        for at, part in enumerate(_parts(self.shown)):
            if not part or end - x < metrics.horizontalAdvance("mmmm"):
                continue
            if at == _LIVE:
                x = self._paint_light(painter, x)
            painter.setPen(ink(self, Role.EMPHASIS if at < _BRIGHT else Role.TEXT))
            x += write(painter, QRectF(x, 0, end - x, self.height()), part) + self.scale.grid(4)

    def _paint_light(self, painter: QPainter, x: float) -> float:
        """Draw a full disc while live, an open one otherwise; give where the word begins."""
        radius = self.scale.grid(0.7)
        painter.setPen(stroke(ink(self, Role.TEXT), self.scale.hair * 1.4))
        live = self._status.fresh is Freshness.LIVE
        painter.setBrush(ink(self, Role.TEXT) if live else ink(self, Role.GROUND))
        painter.drawEllipse(QPointF(x + radius, self.height() / 2), radius, radius)
        return x + radius * 2 + self.scale.grid(1)


def _parts(status: Status) -> tuple[str, ...]:
    one = status
    return (one.time, one.soon, one.site, one.live, one.dark, one.trust, one.eyes)
