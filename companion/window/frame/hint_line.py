"""What the keys do now: caps and words drawn from the one table, to be hit with a glove, too."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from companion.window.kit.lettering import Size, letter, write
from companion.window.kit.palette import Role, ink
from companion.window.kit.type_scale import Scaled

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
            self.setAccessibleName(", ".join(f"{h.cap} {h.word}" for h in (*keys, *screens)))
            self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Give one line that a glove hits."""
        return QSize(0, self.scale.target(6))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the hints; those that find no room are left out from the end."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), ink(self, Role.GROUND))
        self._boxes = []
        margin = float(self.scale.grid(6))
        end = self.width() - margin - sum(map(self._width, self._screens)) + self.scale.grid(3)
        first = margin + sum(map(self._width, self._keys[:1]))
        if end < max(first, self.width() * 0.4):
            end = self.width() - margin + self.scale.grid(3)  # narrow: the keys of now come first
        else:
            x = end
            for hint in self._screens:
                x = self._paint_hint(painter, hint, x)
        x = margin
        for hint in self._keys:
            if x + self._width(hint) <= end or x == margin:
                x = self._paint_hint(painter, hint, x)

    def _width(self, hint: Hint) -> float:
        word = QFontMetricsF(Size.SMALL.font(self.scale)).horizontalAdvance(hint.word)
        return cap_width(self, hint.cap) + self.scale.grid(1) + word + self.scale.grid(3)

    def _paint_hint(self, painter: QPainter, hint: Hint, x: float) -> float:
        high = float(self.height())
        wide = min(self._width(hint), self.width() - x)
        cap = QRectF(x, 0, cap_width(self, hint.cap), high)
        role = Role.EMPHASIS if hint.marked else Role.TEXT
        paint_cap(painter, self, cap, hint.cap, role)
        letter(painter, self, Size.SMALL, role)
        word = QRectF(cap.right() + self.scale.grid(1), 0, x + wide - cap.right(), high)
        write(painter, word, hint.word)
        self._boxes.append((QRectF(x, 0, wide, high), hint.action))
        return x + wide

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Do what the hit key does."""
        for box, action in self._boxes:
            if box.contains(event.position()):
                self.wanted.emit(action)
                return
