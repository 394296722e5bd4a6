"""Keys with the values that they change, in as many lines as they need."""

from collections.abc import Iterator, Sequence

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from companion.window.frame.hint_line import Hint, cap_width, paint_cap
from companion.window.kit.lettering import Size, letter, write
from companion.window.kit.palette import Role, ink
from companion.window.kit.type_scale import Scaled


class Chips(Scaled, QWidget):
    """A cap and a value each; those that are set stand out."""

    wanted = Signal(str)  # the action of the key that was hit

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.chips: tuple[Hint, ...] = ()
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def say(self, chips: Sequence[Hint]) -> None:
        """Show other values."""
        if tuple(chips) != self.chips:
            self.chips = tuple(chips)
            self.setAccessibleName(", ".join(f"{one.cap} {one.word}" for one in chips))
            self.update()

    def _high(self) -> float:
        return QFontMetricsF(Size.BODY.font(self.scale)).height() + self.scale.grid(1)

    def height_for(self, width: int) -> int:
        """Give the height that the chips take at a width."""
        boxes = [box for _chip, box in self._places(width)]
        return round(max((box.bottom() for box in boxes), default=0.0))

    def _places(self, width: int) -> Iterator[tuple[Hint, QRectF]]:
        metrics, high = QFontMetricsF(Size.BODY.font(self.scale)), self._high()
        x, y = 0.0, 0.0
        for chip in self.chips:
            word = metrics.horizontalAdvance(chip.word)
            wide = cap_width(self, chip.cap) + self.scale.grid(1) + word + 1
            if x and x + wide > width:
                x, y = 0.0, y + high
            yield chip, QRectF(x, y, min(wide, width), high)
            x += wide + self.scale.grid(3.5)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw caps and values."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), ink(self, Role.GROUND))
        for chip, box in self._places(self.width()):
            cap = cap_width(self, chip.cap)
            role = Role.EMPHASIS if chip.marked else Role.TEXT
            paint_cap(painter, self, QRectF(box.topLeft(), QPointF(box.left() + cap, box.bottom())),
                      chip.cap, role)  # fmt: skip
            letter(painter, self, Size.BODY, role)
            write(painter, box.adjusted(cap + self.scale.grid(1), 0, 1, 0), chip.word)

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Do what the hit key does."""
        for chip, box in self._places(self.width()):
            if box.contains(event.position()):
                self.wanted.emit(chip.action)
                return
