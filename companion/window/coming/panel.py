"""The screen of what comes: the list, and the year as a picture."""

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QWidget

from companion.instant import Snapshot
from companion.live import Reach, Severity
from companion.sky import Target
from companion.window.coming.list_page import ComingPage
from companion.window.coming.year import YearPage
from companion.window.forms.prompt_sheet import Prompt
from companion.window.frame.keys import EVENTS, YEAR
from companion.window.frame.screen import Action, Screen
from companion.window.frame.sheets import Sheets

if TYPE_CHECKING:
    from companion.live import Evening

_NO_TARGET = "Nothing to aim at: it is for the eye, all round."
_SUN = "body:sun"


class ComingPanel(Screen):
    """Shows one page at a time; what comes is looked for once the screen first comes up."""

    digit, word = "9", EVENTS

    def __init__(self, evening: "Evening", sheets: Sheets, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening, self._sheets = evening, sheets
        self.list, self.year = ComingPage(evening, self), YearPage(evening, self)
        self.year.hide()
        self.list.chips.wanted.connect(self._do)
        evening.coming.changed.connect(self._show_desk)

    @property
    def context(self) -> str:
        """The picture of the year has keys of its own."""
        return EVENTS if self.year.isHidden() else YEAR

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys of the present page do."""
        if self.context == YEAR:
            return {"back": self._turn}
        return {
            **self.list.key_actions(),
            "take": self._queue,
            "aim_then": self._aim_then,
            "year": self._turn,
            "aurora": self._ask_kp,
            "import": self._ask_file,
        }

    def _do(self, action: str) -> None:
        wanted = self.key_actions().get(action)
        if wanted is not None:
            wanted()

    def _turn(self) -> None:
        picture = self.year.isHidden()
        self.year.setVisible(picture)
        self.list.setVisible(not picture)
        if picture:
            self._evening.coming.set_reach(Reach.YEAR)
        self._show_desk()
        self.turned.emit()

    # What is taken.

    def _queue(self) -> None:
        """Put what the event is about into the queue, or change the filter that is chosen."""
        if self.list.chips.take():
            return
        self._with_target(lambda target: self._evening.queue.add(target, aim=False))

    def _aim_then(self) -> None:
        """Aim at it as it will stand at its best."""
        event = self.list.row
        if event is None:
            return
        best = event.best_utc or event.utc

        def aim(target: Target) -> None:
            self._evening.queue.add(target)
            self._evening.clock.set_preview(best)
            self.wanted.emit("screen:aim")

        self._with_target(aim)

    def _with_target(self, then: Callable[[Target], None]) -> None:
        event = self.list.row
        if event is None:
            return
        if event.keys[:1] == (_SUN,):
            self._evening.messages.say(Severity.WARNING, event.caution, "coming")
        elif not event.keys:
            self._evening.messages.say(Severity.NOTE, _NO_TARGET, "coming")
        else:
            self._evening.coming.find_target(event, then)

    def _ask_kp(self) -> None:
        said = self._evening.coming.kp.held
        self._sheets.ask(
            Prompt(
                "Kp as published now",
                "0 to 9, such as 5, 5+ or 4.33. Empty: not known.",
                "" if said is None else f"{said.kp:.3g}",
                lambda text, _choice: self._evening.coming.kp.type_in(text),
            )
        )

    def _ask_file(self) -> None:
        self._sheets.ask(
            Prompt(
                "Which file?",
                "Orbits of comets, minor planets or satellites as they are published, or Kp. "
                "Orbits are kept, and are targets from then on.",
                "",
                lambda text, _choice: self._evening.coming.read_file(text),
                longest=1000,
            )
        )

    # What is new.

    def _show_desk(self) -> None:
        if self.isVisible():
            (self.list if self.year.isHidden() else self.year).show_desk()

    def show_choices(self) -> None:
        """Look for what comes at the new site, with the new instrument."""
        if self.isVisible():
            self._evening.coming.refresh()
        self._show_desk()

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Let what is over go from the list, once a minute."""
        if snapshot.local.second == 0:
            self._show_desk()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Look for what comes."""
        super().showEvent(event)
        self._evening.coming.refresh()
        self._show_desk()

    def arrange(self) -> None:
        """Give the page all the room."""
        for page in (self.list, self.year):
            page.setGeometry(self.rect())
