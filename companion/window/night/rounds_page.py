"""Ready-made rounds: the chosen one goes into the queue as a whole."""

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from companion.live import ListQuestion
from companion.window.aim.words import NOTHING
from companion.window.kit.list_page import ListPage
from companion.window.kit.row_list import Row
from companion.window.night.words import hours_text

if TYPE_CHECKING:
    from companion.live import Evening


class RoundsPage(ListPage):
    """The rounds, and how far the one that was asked for is."""

    def __init__(self, evening: "Evening", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening = evening
        self.keys: tuple[str, ...] = ()  # of the rounds, in the order of the rows
        self.list.hit.connect(self._hit)

    def show_desk(self) -> None:
        """Draw the rounds, and how far the one that was asked for is."""
        from companion.night import ROUNDS as MADE  # brings numpy: not before the first frame

        self.keys = tuple(one.key for one in MADE)
        last = self._evening.night.round
        added = {} if last is None else {last.question.round_key: len(last.tonight.rows)}
        rows = [
            Row(
                one.name,
                right=f"{added[one.key]} added" if one.key in added else "",
                below=one.about,
            )
            for one in MADE
        ]
        self.list.say(rows, self.list.chosen)
        hours = self._evening.choices.hours
        within = f", within your hours {hours_text(hours)}" if hours else ""
        about = f"Worked out for tonight, from here{within}; the whole round goes into the queue."
        self.say("Ready-made rounds", about, NOTHING, self._evening.night.share(ListQuestion))

    def take(self) -> None:
        """Have the chosen round worked out and put into the queue."""
        if self.list.chosen < len(self.keys):
            self._evening.night.ask_list(self.keys[self.list.chosen])

    def _hit(self, at: int) -> None:
        self.list.say(self.list.rows, at)
        self.take()
