"""The screen of a target: a picture to scale, numbers, what shows, what it is."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QRect
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QWidget

from companion.window.about.drawing import Drawing
from companion.window.aim.words import NO_PLACE, NOTHING, Notice
from companion.window.frame.keys import ABOUT
from companion.window.frame.screen import Screen
from companion.window.kit.attention import Attention
from companion.window.kit.facts import Fact, Facts
from companion.window.kit.lettering import Size, Words
from companion.window.kit.palette import Role

if TYPE_CHECKING:
    from companion.about import About
    from companion.live import Evening

_WORDS_COLUMN = 5
_BESIDE_FROM = 760  # pixels of width, under which the picture stands below the words
_LEAST_PICTURE = 24  # steps of the grid, under which it would show nothing
_NO_TARGET = Notice("No target is chosen.", "Press / and type a name, or choose one in a list.")
_COMING = Notice("It is being worked out.", "The page comes in a moment.")


class AboutPanel(Screen):
    """Picture at the left; at the right name, sentences, what shows, and the numbers."""

    digit, word = "8", ABOUT

    def __init__(self, evening: "Evening", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening = evening
        self._page: About | None = None
        self.drawing = Drawing(self)
        self.through = Words(Size.CAPTION, parent=self)
        self.name = Words(Size.TITLE, Role.EMPHASIS, parent=self)
        self.attention = Attention(self)
        self.says = Words(Size.BODY, wrap=True, parent=self)
        self.shows = Words(Size.SMALL, wrap=True, parent=self)
        self.facts = (Facts(parent=self), Facts(parent=self))
        self.coming = Words(Size.SMALL, wrap=True, parent=self)
        self.attention.set_compact(compact=True)
        evening.pages.snapshot_ready.connect(self._take_page)

    @property
    def page(self) -> "About | None":
        """What is shown."""
        return self._page

    # What is new.

    def show_choices(self) -> None:
        """Until the new page comes, say nothing of the old target."""
        target = self._evening.pages.target
        if self._evening.needs_site:
            self._say_nothing(NO_PLACE)
        elif target is None:
            self._say_nothing(_NO_TARGET)
        elif self._page is None or self._page.target.key != target.key:
            self._say_nothing(_COMING)
            self.name.say(target.name)

    def _say_nothing(self, notice: Notice) -> None:
        self._page = None
        for words in (self.name, self.through, self.says, self.shows, self.coming):
            words.say("")
        self._say_facts([])
        self.drawing.show_picture(None)
        self.attention.say(notice)
        self.arrange()

    def _take_page(self, page: "About") -> None:
        """Draw a new page, while somebody looks."""
        target = self._evening.pages.target
        if not self.isVisible() or target is None or page.target.key != target.key:
            return
        from companion.window.about import words

        self._page = page
        picture = page.picture
        self.drawing.show_picture(picture)
        self.through.say("" if picture is None else picture.caption)
        self.name.say(page.target.name)
        self.attention.say(Notice(page.caution, "", caution=True) if page.caution else NOTHING)
        self.says.say(" ".join(said for said in page.says if said != page.caution))
        shows = "; ".join(page.look_for)
        self.shows.say(f"What shows, the easiest first: {shows}." if shows else "")
        self.coming.say(words.coming(page))
        self._say_facts(words.facts(page, self._evening.choices.site.time_zone))
        self.arrange()

    def _say_facts(self, facts: list[Fact]) -> None:
        """Put the facts into two columns, the first half at the left; into one beside evenings."""
        half = len(facts) if self.coming.text else (len(facts) + 1) // 2
        self.facts[0].say(*facts[:half])
        self.facts[1].say(*facts[half:])

    # When somebody looks.

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Have the page made."""
        super().showEvent(event)
        if not self._evening.needs_site:
            self._evening.pages.show(live=True, others=self._evening.instruments.known)
        self.show_choices()

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Let it rest."""
        super().hideEvent(event)
        self._evening.pages.show(live=False)

    # Where it stands.

    def arrange(self) -> None:
        """Lay the parts out: a square for the picture, beside the words or below them."""
        grid = self.scale.grid
        drawn, beside = self._page is not None, self.width() >= max(_BESIDE_FROM, grid(100))
        edge, margin = self.scale.column(self.width(), _WORDS_COLUMN), self.scale.margin
        side = min(self.height() - grid(8), edge - grid(8)) if drawn and beside else 0
        left = edge if side else margin
        top = self._arrange_words(left, max(1, self.width() - left - margin))
        caption = self.through.height_for(max(1, side or self.width() - grid(8)))
        if side:
            place = QRect(grid(4), grid(2), side, side)
        else:
            side = min(self.height() - top - caption - grid(2), self.width() - grid(8))
            place = QRect((self.width() - side) // 2, top, max(1, side), max(1, side))
        shown = drawn and side >= grid(_LEAST_PICTURE)
        self.drawing.setVisible(shown)
        self.through.setVisible(shown)
        self.drawing.setGeometry(place)
        self.through.setGeometry(place.left(), place.bottom() + 1, place.width(), caption)

    def _arrange_words(self, left: int, width: int) -> int:
        """Put all that is said into a column; give where it ends."""
        grid = self.scale.grid
        top = grid(3)
        for part in (self.name, self.attention, self.says, self.shows):
            high = part.height_for(width)
            empty = part is self.attention and self.attention.notice == NOTHING
            high = 0 if empty or (isinstance(part, Words) and not part.text) else high
            part.setVisible(high > 0)
            part.setGeometry(left, top, width, max(1, high))
            top += high + (grid(2) if high else 0)
        column, room = (width - grid(2)) // 2, max(1, self.height() - top - grid(1))
        needed = max(facts.sizeHint().height() for facts in self.facts)
        if self.coming.text:
            needed = max(self.facts[0].sizeHint().height(), self.coming.height_for(max(1, column)))
        high = min(room, needed)
        for at, facts in enumerate(self.facts):
            facts.setGeometry(left + at * (column + grid(2)), top, max(1, column), max(1, high))
        self.facts[1].setVisible(not self.coming.text)
        self.coming.setVisible(bool(self.coming.text))
        self.coming.setGeometry(self.facts[1].geometry())
        return top + high + grid(1)
