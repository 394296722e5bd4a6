"""The page that guests read from some steps away, in a window of its own for a second screen."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QRect, Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from companion.sky import zone_of
from companion.window.frame.borderless import begin_drag
from companion.window.frame.keys import name_of
from companion.window.host.words import GuestLines, guest_lines, not_now
from companion.window.kit.palette import Role, ink
from companion.window.kit.type_scale import font

if TYPE_CHECKING:
    from companion.live import Evening

_WRAP = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap)
# Of the smaller side of the window: name, direction, question, fact, what it is, and a note.
_NAME, _LOOK, _ASK, _FACT, _WHAT, _NOTE = 0.15, 0.085, 0.085, 0.066, 0.056, 0.04
_MARGIN, _GAP = 0.06, 0.045
_SMALLER, _LEAST = 0.94, 0.35
_KEYS = "f full screen · f9 or esc close · drag to move"

Line = tuple[str, float, Role]


class GuestPage(QWidget):
    """A top-level window; keys that are not its own go to the host's window."""

    pressed = Signal(QKeyEvent)

    def __init__(self, evening: "Evening") -> None:
        super().__init__(None, Qt.WindowType.Window | Qt.WindowType.FramelessWindowHint)
        self._evening = evening
        self.lines = GuestLines("")
        self.setAttribute(Qt.WidgetAttribute.WA_QuitOnClose, False)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setWindowTitle("Companion: for guests")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        evening.host.changed.connect(self.follow)
        evening.changed.connect(self.follow)
        self.follow()

    def follow(self) -> None:
        """Say what guests look at now."""
        choices, clock = self._evening.choices, self._evening.clock
        zone = zone_of(choices.site.time_zone)
        preview = choices.preview_utc is not None
        note = not_now(clock.now_utc.astimezone(zone) if preview else None)
        lines = guest_lines(self._evening.host.showing, note)
        if lines != self.lines:
            self.lines = lines
            said = (lines.name, lines.what, lines.look, lines.fact, lines.ask, lines.note)
            self.setAccessibleName(" ".join(filter(None, said)))
            self.update()

    def turn_full_screen(self) -> None:
        """Cover the screen, or be a window again."""
        if self.isFullScreen():
            self.showNormal()
        else:
            self.showFullScreen()

    # The hand.

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Take the keys of a window; all others are the host's."""
        own: dict[str, Callable[[], object]] = {
            "f": self.turn_full_screen,
            "F11": self.turn_full_screen,
            "Esc": self.showNormal if self.isFullScreen() else self.close,
        }
        action = own.get(name_of(event))
        if action is None:
            self.pressed.emit(event)
        else:
            action()

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Let the window be moved and resized."""
        begin_drag(self, event.position())

    def mouseDoubleClickEvent(self, _event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Cover the screen, or be a window again."""
        self.turn_full_screen()

    # Painting.

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Write everything as large as it fits."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), ink(self, Role.GROUND))
        factor = self._factor()
        for (text, size, role), box in zip(self.parts(), self._boxes(factor), strict=False):
            painter.setFont(font(size * self._side() * factor))
            painter.setPen(ink(self, role))
            painter.drawText(box.adjusted(0, 0, 2, 2), _WRAP, text)
        if not self.isFullScreen():
            painter.setFont(font(14.0))
            painter.setPen(ink(self, Role.LINE))
            left = round(self._side() * _MARGIN)
            painter.drawText(left, self.height() - 12, _KEYS)

    def parts(self) -> tuple[Line, ...]:
        """Give the lines from the top, each with its size and tone."""
        lines = self.lines
        made = (
            (lines.name, _NAME, Role.EMPHASIS),
            (lines.what, _WHAT, Role.TEXT),
            (lines.look, _LOOK, Role.EMPHASIS),
            (lines.fact, _FACT, Role.TEXT),
            (lines.ask, _ASK, Role.EMPHASIS),
            (lines.note, _NOTE, Role.TEXT),
        )
        return tuple(one for one in made if one[0])

    def places(self) -> list[QRect]:
        """Give where every line stands."""
        return self._boxes(self._factor())

    def _factor(self) -> float:
        """Give how large everything can be."""
        factor = 1.0
        while factor > _LEAST and self._end(factor) > self._low():
            factor *= _SMALLER
        return factor

    def _side(self) -> int:
        return min(self.width() * 9 // 16, self.height())

    def _low(self) -> int:
        below = 0 if self.isFullScreen() else 30
        return self.height() - round(self._side() * _MARGIN / 2) - below

    def _end(self, factor: float) -> int:
        boxes = self._boxes(factor)
        wide = any(box.width() > self._room().width() for box in boxes)
        return 1_000_000 if wide else boxes[-1].bottom()

    def _room(self) -> QRect:
        margin = round(self._side() * _MARGIN)
        return QRect(margin, margin, max(1, self.width() - 2 * margin), 1_000_000)

    def _boxes(self, factor: float) -> list[QRect]:
        """Give the place of every line at a size."""
        room, found = self._room(), []
        for text, size, _role in self.parts():
            metrics = QFontMetrics(font(size * self._side() * factor))
            box = metrics.boundingRect(room, _WRAP, text)
            found.append(box)
            room.setTop(box.bottom() + round(self._side() * _GAP * factor))
        return found or [QRect()]
