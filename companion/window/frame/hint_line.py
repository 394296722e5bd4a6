"""What the keys do now: caps and words drawn from the one table, to be hit with a glove, too."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QMouseEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from companion.window.kit.lettering import Size, letter, write
from companion.window.kit.palette import Role, ink
from companion.window.kit.type_scale import Scaled

_ONE_LINE_FROM = 1000  # pixels of width, under which keys and screens have a line each
_TWO_LINES_FROM = 450  # pixels of height, under which the numbers need them more
_WORDS_FROM = 1500  # under which the words of the other screens make room for keys
_CENTRE = Qt.AlignmentFlag.AlignCenter


@dataclass(frozen=True, slots=True)
class Hint:
    """One key on the line."""

    cap: str
    word: str
    action: str
    marked: bool = False  # the screen that is up


def cap_width(widget: Scaled, cap: str) -> float:
    """Give the width of a key cap."""
    metrics = QFontMetricsF(Size.CAPTION.font(widget.scale))
    return max(metrics.height() * 1.25, metrics.horizontalAdvance(cap) + widget.scale.grid(1.5))


def paint_cap(painter: QPainter, widget: Scaled, box: QRectF, cap: str, role: Role) -> None:
    """Draw a key cap."""
    metrics = letter(painter, widget, Size.CAPTION, role)
    high = min(metrics.height() * 1.2, box.height() * 0.94)
    face = QRectF(box.left(), 0, box.width(), high)
    face.moveCenter(QPointF(face.center().x(), box.center().y()))
    colour = painter.pen().color()
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(colour, widget.scale.hair))
    if box.height() > metrics.height():  # in a tight list the letter stands alone
        painter.drawRoundedRect(face, widget.scale.grid(0.5), widget.scale.grid(0.5))
    write(painter, face, cap, _CENTRE)


class HintLine(Scaled, QWidget):
    """Keys of the context from the left, the screens from the right."""

    wanted = Signal(str)  # the action of the key that was hit

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._keys: tuple[Hint, ...] = ()
        self._screens: tuple[Hint, ...] = ()
        self._boxes: list[tuple[QRectF, str]] = []
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    @property
    def hints(self) -> tuple[Hint, ...]:
        """The keys that it shows, as far as there is room."""
        return self._keys

    def say(self, keys: Sequence[Hint], screens: Sequence[Hint]) -> None:
        """Show other keys."""
        if (tuple(keys), tuple(screens)) != (self._keys, self._screens):
            self._keys, self._screens = tuple(keys), tuple(screens)
            self.updateGeometry()  # with screens it may be two lines, without it is one
            self.setAccessibleName(", ".join(f"{h.cap} {h.word}" for h in (*keys, *screens)))
            self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Give a line that a glove hits, or two where one has no room for keys and screens."""
        return QSize(0, self._line_height() * (2 if self._in_two() else 1))

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Take one line or two."""
        super().resizeEvent(event)
        if self.sizeHint().height() != self.height():
            self.updateGeometry()

    def _line_height(self) -> int:
        return self.scale.target(6)

    def _in_two(self) -> bool:
        room = self.window().size()
        narrow, low = room.width() < _ONE_LINE_FROM, room.height() < _TWO_LINES_FROM
        return bool(self._screens) and narrow and not low

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the hints; those that find no room are left out from the end."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), ink(self, Role.GROUND))
        self._boxes = []
        margin = float(self.scale.grid(6))
        end = self.width() - margin + self.scale.grid(3)
        room = end - margin
        screens = self._fitting(self._screens, room if self._in_two() else 0.55 * room)
        high = float(self._line_height())
        start = margin if self._in_two() else end - sum(map(self._width, screens))
        x, top = start, self.height() - high
        for hint in screens:
            x = self._paint_hint(painter, hint, QPointF(x, top), end)
        end = end if self._in_two() else start
        x = margin
        for hint in self._keys:
            if x + self._width(hint) <= end or x == margin:
                x = self._paint_hint(painter, hint, QPointF(x, 0.0), end)

    def _fitting(self, screens: tuple[Hint, ...], room: float) -> tuple[Hint, ...]:
        """Leave the words of the other screens out where there is no room for them."""
        if sum(map(self._width, screens)) <= room and self.width() >= _WORDS_FROM:
            return screens
        return tuple(hint if hint.marked else replace(hint, word="") for hint in screens)

    def _width(self, hint: Hint) -> float:
        word = QFontMetricsF(Size.SMALL.font(self.scale)).horizontalAdvance(hint.word)
        gap = self.scale.grid(1) if hint.word else 0
        return cap_width(self, hint.cap) + gap + word + self.scale.grid(3 if hint.word else 1.5)

    def _paint_hint(self, painter: QPainter, hint: Hint, at: QPointF, end: float) -> float:
        """Draw a hint as far as there is room; give where the next one begins."""
        x, top = at.x(), at.y()
        high = float(self._line_height())
        wide = min(self._width(hint), end - x)
        cap = QRectF(x, top, cap_width(self, hint.cap), high)
        role = Role.EMPHASIS if hint.marked else Role.TEXT
        paint_cap(painter, self, cap, hint.cap, role)
        letter(painter, self, Size.SMALL, role)
        word = QRectF(cap.right() + self.scale.grid(1), top, x + wide - cap.right(), high)
        write(painter, word, hint.word)
        self._boxes.append((QRectF(x, top, wide, high), hint.action))
        return x + wide

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Do what the hit key does."""
        for box, action in self._boxes:
            if box.contains(event.position()):
                self.wanted.emit(action)
                return
        event.ignore()  # the window is moved from here
