"""The screen of the journal: the nights, a lifetime, and what was seen in each."""

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainter, QPaintEvent, QShowEvent
from PySide6.QtWidgets import QWidget

from companion.advice import AdviceError
from companion.journal import Held, Lifetime, Night, from_plain
from companion.sky import Target
from companion.window.aim.words import NOTHING, Notice
from companion.window.forms.prompts import journal_prompt
from companion.window.frame.keys import JOURNAL
from companion.window.frame.screen import Action, Screen
from companion.window.frame.sheets import Sheets
from companion.window.journal.words import entry_row, lifetime_row, night_row, seen_row, total
from companion.window.kit.attention import Attention
from companion.window.kit.lettering import Size, Words
from companion.window.kit.palette import Role
from companion.window.kit.row_list import Row, RowList, RowsOnDemand
from companion.window.kit.symbols import draw_rule

if TYPE_CHECKING:
    from companion.live import Evening

_BOTH_FROM = 800  # pixels of width, under which one list is shown at a time
_SEEN_COLUMN = 5
_AHEAD = 40  # rows beyond those in sight that are read as well
_COMING = Notice("The journal is being read.", "It comes in a moment.")
_EMPTY = Notice(
    "Nothing has been written yet.",
    "On the screen aim, space writes that a target was found, n that it was not seen. Each night "
    "then stands here, with all that was ever seen.",
)


class JournalPanel(Screen):
    """A lifetime and the nights at the left; at the right what was seen in the chosen one."""

    digit, word = "6", JOURNAL

    def __init__(self, evening: "Evening", sheets: Sheets, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening, self._sheets = evening, sheets
        self._on_ticks = False
        self._drawn: object = None  # what the rows of the nights were made of
        self._listed: list[Night] = []
        self._shown: object = None  # what the rows at the right were made of
        self._held: Sequence[Sequence[Held]] = ()  # what each of them is about
        self._rows: Sequence[Row] = ()
        self.head, self.about = Words(Size.TITLE, Role.EMPHASIS, parent=self), Words(parent=self)
        self.notice = Attention(self)
        self.nights, self.ticks = RowList(self), RowList(self)
        self.nights.hit.connect(self._hit_night)
        self.ticks.hit.connect(self._hit_tick)
        evening.nights.changed.connect(self._show_book)

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys do."""
        return {
            "row_down": lambda: self._step(1),
            "row_up": lambda: self._step(-1),
            "page_down": lambda: self._step(10),
            "page_up": lambda: self._step(-10),
            "row_right": lambda: self._cross(to_ticks=True),
            "row_left": lambda: self._cross(to_ticks=False),
            "take": self._take,
            "export": lambda: self._sheets.ask(journal_prompt(self._evening)),
        }

    # What is new.

    def show_choices(self) -> None:
        """Have the journal read, if anything was written."""
        if self.isVisible():
            self._show_book()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Have the journal read."""
        super().showEvent(event)
        self._show_book()

    def _show_book(self) -> None:
        if not self.isVisible():
            return
        self._evening.nights.refresh()
        self._draw()

    def _draw(self) -> None:
        view, lists = self._evening.nights.view, self._evening.nights.lists
        known = view is not None and any(view.held.values())
        read = view is not None and view.whole
        self.notice.say(NOTHING if known else _EMPTY if read else _COMING)
        self.head.say("The journal")
        if view is None or not known:
            self._drawn = self._shown = None
            self.about.say("")
            self.nights.say([], 0)
            self.ticks.say([], 0)
        else:
            if self._drawn != (drawn := (id(view), lists)):
                self._drawn = drawn
                self._listed = [one for one in view.nights if view.held[one.night]]
                self.about.say(total(view, self._listed))
                rows = [lifetime_row(view, lists), *map(night_row, self._listed)]
                self.nights.say(rows, self.nights.chosen)
            self._draw_ticks(view)
        self.nights.mark(marked=not self._on_ticks)
        self.ticks.mark(marked=self._on_ticks)
        self.arrange()

    def _draw_ticks(self, view: Lifetime) -> None:
        chosen = self.ticks.chosen if self._on_ticks else 0
        if self._shown != (shown := (id(view), self.nights.chosen)):
            self._shown = shown
            make = self._of_a_night if self.nights.chosen else self._of_a_lifetime
            self._held, self._rows = make(view)
        self.ticks.say(self._rows, chosen)

    def _of_a_lifetime(self, view: Lifetime) -> tuple[Sequence[Sequence[Held]], RowsOnDemand]:
        nights = self._evening.nights

        def row(place: int) -> Row:
            one = view.seen[place]
            return seen_row(one, nights.entry, known=nights.knows(one.last))

        held = [(one.last, *one.remarks) for one in view.seen]
        return held, _rows_of(held, row)

    def _of_a_night(self, view: Lifetime) -> tuple[Sequence[Sequence[Held]], RowsOnDemand]:
        nights = self._evening.nights
        held = view.held[self._listed[self.nights.chosen - 1].night]

        def row(place: int) -> Row:
            one = held[place]
            return entry_row(one, nights.entry(one), known=nights.knows(one))

        each = [(one,) for one in held]
        return each, _rows_of(each, row)

    def _load_in_sight(self) -> None:
        first, last = self.ticks.in_sight()
        near = self._held[max(0, first - _AHEAD) : last + _AHEAD]
        self._evening.nights.load([one for row in near for one in row])

    # What the keys do.

    def _step(self, by: int) -> None:
        (self.ticks if self._on_ticks else self.nights).step(by)
        self._draw()

    def _cross(self, *, to_ticks: bool) -> None:
        self._on_ticks = to_ticks and bool(self._held)
        self._draw()

    def _take(self) -> None:
        """Put the chosen target into tonight's queue; from the nights go to what was seen."""
        if not self._on_ticks:
            self._cross(to_ticks=True)
            return
        if (target := self.pointed_at) is not None:
            self._evening.queue.add(target, aim=False)

    @property
    def pointed_at(self) -> Target | None:
        """What the cursor stands on among what was seen."""
        if not self._on_ticks or self.ticks.chosen >= len(self._held):
            return None
        entry = self._evening.nights.entry(self._held[self.ticks.chosen][0])
        if entry is None or entry.target is None:
            return None  # not read yet, or a line for the night itself
        try:
            return from_plain(Target, entry.target)
        except AdviceError:
            return None  # of another version: its name is all that is left of it

    def _hit_night(self, at: int) -> None:
        self._on_ticks = False
        self.nights.say(self.nights.rows, at)
        self._draw()

    def _hit_tick(self, at: int) -> None:
        self._on_ticks = True
        self.ticks.say(self.ticks.rows, at)
        self._draw()

    # Where it stands.

    def _both(self) -> bool:
        return self.width() >= max(_BOTH_FROM, self.scale.grid(130))

    def arrange(self) -> None:
        """Lay the parts out."""
        grid, margin = self.scale.grid, self.scale.grid(6)
        width, top = max(1, self.width() - 2 * margin), grid(3)
        for words in (self.head, self.about):
            high = words.height_for(width) if words.text else 0
            words.setGeometry(margin, top, width, high)
            top += high + grid(0.5)
        top += grid(1)
        notice = self.notice.height_for(width)
        self.notice.setVisible(bool(notice))
        self.notice.setGeometry(margin, top + grid(1), width, notice)
        high = max(1, self.height() - top)
        known = bool(self.nights.rows)
        start = self.scale.column(self.width(), _SEEN_COLUMN) - margin  # rows have a margin
        left = start if self._both() else 0
        self.nights.setVisible(known and (self._both() or not self._on_ticks))
        self.ticks.setVisible(known and (self._both() or self._on_ticks))
        self.nights.setGeometry(0, top, left or self.width(), high)
        self.ticks.setGeometry(left, top, max(1, self.width() - left), high)
        pitch = max(self.nights.own_pitch(), self.ticks.own_pitch()) if self._both() else 0
        for rows in (self.nights, self.ticks):
            rows.align(pitch, two_lines=self.nights.two_lines or self.ticks.two_lines)
        if known:
            self._load_in_sight()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the line under the head."""
        if not self.nights.rows:
            return
        painter = QPainter(self)
        y = min(self.nights.y(), self.ticks.y()) - 1.0
        margin = self.scale.grid(6)
        ends = (QPointF(margin, y), QPointF(self.width() - margin, y))
        draw_rule(painter, self, *ends, self.scale.rule)


def _rows_of(held: Sequence[Sequence[Held]], row: Callable[[int], Row]) -> RowsOnDemand:
    two_lines = any(one.has_note for about in held for one in about)
    return RowsOnDemand(len(held), row, two_lines=two_lines)
