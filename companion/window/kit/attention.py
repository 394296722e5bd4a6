"""What needs attention, in words, in the place under the numbers: never a dialog."""

from PySide6.QtCore import QRect, QRectF, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from companion.window.aim.words import NOTHING, Notice
from companion.window.kit.lettering import Size, letter
from companion.window.kit.palette import Role, ink
from companion.window.kit.symbols import draw_caution
from companion.window.kit.type_scale import Scaled

_WRAP = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap


class Attention(Scaled, QWidget):
    """A head line and an explanation beside a bar; a caution has its triangle."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._notice = NOTHING
        self._compact = self._level = False

    @property
    def notice(self) -> Notice:
        """What it says."""
        return self._notice

    def say(self, notice: Notice) -> bool:
        """Say something else; give whether that changed anything."""
        if notice == self._notice:
            return False
        self._notice = notice
        self.setAccessibleName(f"{notice.head} {notice.text}")
        self.update()
        return True

    def set_compact(self, *, compact: bool) -> None:
        """Take smaller type, where the window is too low for the usual one."""
        if compact != self._compact:
            self._compact = compact
            self.update()

    def set_level(self, *, level: bool) -> None:
        """Take the type of the words beside it for head and text alike."""
        if level != self._level:
            self._level = level
            self.update()

    def _sizes(self) -> tuple[Size, Size]:
        if self._level:
            return (Size.BODY, Size.BODY)
        return (Size.BODY, Size.SMALL) if self._compact else (Size.TITLE, Size.BODY)

    def _left(self) -> int:
        return self.scale.grid(9.0 if self._notice.caution else 0.0)

    def _boxes(self, width: int) -> tuple[QRect, QRect]:
        left = self._left()
        room = QRect(left, 0, max(1, width - left), 100_000)
        size, small = self._sizes()
        head = QFontMetrics(size.font(self.scale))
        first = head.boundingRect(room, int(_WRAP), self._notice.head)
        body = QFontMetrics(small.font(self.scale))
        below = room.translated(0, first.height() + self.scale.grid())
        second = body.boundingRect(below, int(_WRAP), self._notice.text)
        return (
            QRect(left, 0, room.width(), first.height()),
            QRect(left, below.top(), room.width(), second.height() if self._notice.text else 0),
        )

    def height_for(self, width: int) -> int:
        """Give the height that it takes at a width."""
        if not self._notice.head:
            return 0
        head, text = self._boxes(width)
        return (text if self._notice.text else head).bottom() + 1

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Write the notice, with the triangle of a caution before it."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        head, text = self._boxes(self.width())
        if self._notice.caution:
            side = self.scale.grid(7)
            draw_caution(painter, QRectF(0, 0, side, side), ink(self, Role.EMPHASIS))
        letter(painter, self, self._sizes()[0], Role.EMPHASIS)
        painter.drawText(QRectF(head), int(_WRAP), self._notice.head)
        letter(painter, self, self._sizes()[1], Role.TEXT)
        painter.setPen(QPen(ink(self, Role.TEXT)))
        painter.drawText(QRectF(text), int(_WRAP), self._notice.text)
