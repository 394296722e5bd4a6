"""Type, and the finds come live: for targets and for towns alike."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent, QWheelEvent
from PySide6.QtWidgets import QWidget

from companion.window.frame.screen import Action
from companion.window.frame.sheet import Sheet
from companion.window.kit.lettering import Size, letter, write
from companion.window.kit.palette import Role, ink
from companion.window.kit.scrolling import Scrolling
from companion.window.kit.symbols import Heading, draw_index
from companion.window.kit.type_scale import Scaled

Find = TypeVar("Find")
_CHOOSE = "Choose one with ↓, then enter takes it."


@dataclass(frozen=True, slots=True)
class FindWords:
    """What a find says: its name, what it is, how it was found; a guess says that first."""

    name: str
    about: str
    why: str = ""
    guess: bool = False

    @property
    def below(self) -> str:
        """The line under the name."""
        parts = (self.why, self.about) if self.guess else (self.about, self.why)
        return " · ".join(filter(None, parts))


@dataclass(frozen=True, slots=True)
class Finding(Generic[Find]):
    """What is searched, how a find is said, and what taking it does."""

    context: str
    head: str
    empty: str  # what to type
    ask: Callable[[str, Callable[[Sequence[Find]], None]], None]
    say: Callable[[Find], FindWords]
    take: Callable[[Find, bool], None]  # True: for later
    doubt: Callable[[str, Sequence[Find]], str]  # why the first must be chosen first; else empty
    offered: tuple[Find, ...] = ()  # while nothing is typed
    wide: bool = False  # whether the sheet covers the whole screen


class FindList(Scaled, QWidget):
    """Painted finds, two lines each, one of them chosen, or none."""

    hit = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._scroll = Scrolling()
        self.words: tuple[FindWords, ...] = ()
        self.chosen = -1

    def say(self, words: Sequence[FindWords], chosen: int) -> None:
        """Show other finds, or choose another one."""
        if chosen != self.chosen:
            self._scroll.follow()
        self.words, self.chosen = tuple(words), chosen
        self.setAccessibleName("; ".join(f"{w.name}, {w.about}" for w in words))
        self.update()

    def _pitch(self) -> int:
        return self.scale.target(9.5)

    def _first(self) -> int:
        return self._scroll.first(len(self.words), self._room(), self.chosen)

    def _room(self) -> int:
        return max(1, self.height() // self._pitch())

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Write the finds that have room, the chosen one among them."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        first = self._first()
        room = self.height() // self._pitch()
        for at, words in enumerate(self.words[first : first + room]):
            self._paint_find(painter, words, at * self._pitch(), chosen=first + at == self.chosen)

    def _paint_find(self, painter: QPainter, words: FindWords, top: float, *, chosen: bool) -> None:
        left = float(self.scale.grid(3))
        width = self.width() - left
        metrics = letter(painter, self, Size.BODY, Role.EMPHASIS if chosen else Role.TEXT)
        line = QRectF(left, top, width, metrics.height())
        if chosen:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(ink(self, Role.EMPHASIS))
            draw_index(
                painter,
                QPointF(self.scale.grid(1.6), line.center().y()),
                Heading.RIGHT,
                self.scale.grid(1.6),
            )
            painter.setPen(ink(self, Role.EMPHASIS))
        write(painter, line, words.name)
        below = letter(painter, self, Size.SMALL, Role.TEXT)
        about = QRectF(left, line.bottom(), width, below.height())
        write(painter, about, words.below)

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802 - Qt's name
        """Look at other rows without choosing one."""
        self._scroll.wheel(event, len(self.words), self._room())
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Take the find that was hit."""
        at = self._first() + int(event.position().y()) // self._pitch()
        if 0 <= at < len(self.words):
            self.hit.emit(at)


class FindSheet(Sheet, Generic[Find]):
    """A field, and below it what was found.

    What is surely meant is chosen at once. Among guesses nothing is chosen until the person does,
    and ``Enter`` typed ahead of the answer waits for it.
    """

    def __init__(self, finding: Finding[Find], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.word = finding.context
        self.wide = finding.wide
        self._finding = finding
        self.finds: tuple[Find, ...] = ()
        self._chosen = -1
        self._answered = True
        self._ahead: bool | None = None  # Enter came before the answer; True: for later
        self.list = FindList(self)
        self.list.hit.connect(self._take_at)
        self.head.say(finding.head, Role.TEXT)  # what is typed stands out
        self.explanation.say(finding.empty)
        self.field.textChanged.connect(self._ask)

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys do."""
        return {
            "take": lambda: self._take(later=False),
            "take_later": lambda: self._take(later=True),
            "row_up": lambda: self._choose(self._chosen - 1),
            "row_down": lambda: self._choose(self._chosen + 1),
        }

    def open(self) -> None:
        """Come up empty."""
        self.field.clear()
        self._show(self._finding.offered)
        super().open()

    def _ask(self, text: str) -> None:
        self._ahead = None
        self.error.say("")
        if not text.strip():
            self._show(self._finding.offered)
            self.explanation.say(self._finding.empty)
            self.arrange()
            return
        self._answered = False
        self._finding.ask(text, lambda finds: self._take_answer(text, finds))

    def _take_answer(self, text: str, finds: Sequence[Find]) -> None:
        if text != self.field.text():
            return
        doubt = self._finding.doubt(text, finds)
        self._show(finds, 0 if finds and not doubt else -1)
        nothing = f"Nothing is called “{text.strip()[:40]}”. {self._finding.empty}"
        self.explanation.say(doubt if finds else nothing)
        self.arrange()
        if self._ahead is not None:
            self._take(later=self._ahead)

    def _show(self, finds: Sequence[Find], chosen: int = -1) -> None:
        self.finds, self._chosen, self._answered = tuple(finds), chosen, True
        self.list.say([self._finding.say(find) for find in finds], chosen)

    def _take(self, *, later: bool) -> None:
        """Take what is chosen, once the finds are those of what stands in the field."""
        self._ahead = None if self._answered else later
        if self._ahead is None and self._chosen >= 0:
            self._take_at(self._chosen, later=later)
        elif self._ahead is None and self.finds:
            self.show_error(_CHOOSE)

    def _choose(self, at: int) -> None:
        if self.finds:
            self._chosen = min(max(at, 0), len(self.finds) - 1)
            self.error.say("")
            self.list.say(self.list.words, self._chosen)

    def _take_at(self, at: int, *, later: bool = False) -> None:
        if at < len(self.finds):
            find = self.finds[at]
            self.dismiss()
            self._finding.take(find, later)

    def arrange_rest(self, top: int) -> None:
        """Give the finds the room that is left."""
        grid, left = self.scale.grid, self.margin() - self.scale.grid(3)  # the mark hangs out
        high = max(1, self.height() - top - grid(2))
        self.list.setGeometry(left, top + grid(1), self.width() - left - self.scale.margin, high)
