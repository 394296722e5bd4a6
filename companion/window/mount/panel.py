"""The screen of the mount: its alignment, its description, and what is looked through."""

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QWidget

from companion.instant import Snapshot
from companion.sky import Target
from companion.window.frame.keys import AIM, DESCRIBE, INSTRUMENT, MOUNT
from companion.window.frame.screen import Action, Screen
from companion.window.frame.sheets import Sheets
from companion.window.kit.record_page import RecordFacts, RecordPage
from companion.window.mount.align_page import AlignPage
from companion.window.mount.set_up_sheet import SetUpSheet

if TYPE_CHECKING:
    from companion.live import Evening


class MountPanel(Screen):
    """Three pages, one at a time; each has its own keys."""

    digit, word = "5", MOUNT

    def __init__(self, evening: "Evening", sheets: Sheets, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening, self._sheets = evening, sheets
        self._page = MOUNT
        self.align = AlignPage(evening, self)
        self.describe = RecordPage(self._mount_facts, sheets.ask, self, choose_first=True)
        self.instrument = RecordPage(self._instrument_facts, sheets.ask, self, choose_first=True)
        self._pages = {DESCRIBE: self.describe, INSTRUMENT: self.instrument}
        for page in self._pages.values():
            page.hide()

    @property
    def context(self) -> str:
        """Where its keys stand in the table: the page that is up."""
        return self._page

    def turn_to(self, page: str) -> None:
        """Bring up another page."""
        self._page = page
        self.align.setVisible(page == MOUNT)
        for name, widget in self._pages.items():
            widget.setVisible(name == page)
        if page == MOUNT:
            self.align.redraw()
        else:
            self._pages[page].open()
        self.turned.emit()

    # The modules with the fields bring numpy: not before the first frame.

    def _mount_facts(self) -> RecordFacts:
        from companion.window.mount.fields import mount_facts

        return mount_facts(self._evening)

    def _instrument_facts(self) -> RecordFacts:
        from companion.window.mount.instrument_fields import instrument_facts

        return instrument_facts(self._evening)

    # What is new.

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Draw a new instant; descriptions don't run."""
        if self._page == MOUNT:
            self.align.show_snapshot(snapshot)

    def show_choices(self) -> None:
        """Draw what a person has changed."""
        if self._page == MOUNT:
            self.align.redraw()
        else:
            self._pages[self._page].redraw()

    # What the keys do.

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys of the page that is up do."""
        if self._page == DESCRIBE:
            return {**self._record_actions(self.describe), **self._file_actions()}
        if self._page == INSTRUMENT:
            return self._record_actions(self.instrument)
        return self._align_actions()

    def _align_actions(self) -> Mapping[str, Action]:
        return {
            "next": self._aim_at_next,
            "accept": self._accept,
            "keep": self.align.keep,
            "turn_aside": self._turn_aside,
            "row_up": lambda: self.align.step(-1),
            "row_down": lambda: self.align.step(1),
            "set_up": self._set_up,
            "both_sides": self._both_sides,
            "describe": lambda: self.turn_to(DESCRIBE),
            "instrument": lambda: self.turn_to(INSTRUMENT),
        }

    def _record_actions(self, page: RecordPage) -> Mapping[str, Action]:
        return {**page.key_actions(), "back": lambda: self.turn_to(MOUNT)}

    def _file_actions(self) -> Mapping[str, Action]:
        from companion.window.mount.fields import export_prompt, import_prompt

        return {
            "export": lambda: self._sheets.ask(export_prompt(self._evening)),
            "import": lambda: self._sheets.ask(import_prompt(self._evening)),
        }

    # Sightings.

    def _accept(self) -> None:
        """Take the first explanation of the doubt that is shown; nothing is deleted."""
        for doubt in self.align.doubts[:1]:
            if doubt.fits and len(doubt.numbers) == 1:
                self._evening.mounts.rename(doubt.numbers[0], doubt.fits[0])
            elif doubt.aside and doubt.numbers:
                self._evening.mounts.set_aside(doubt.numbers)

    def _turn_aside(self) -> None:
        """Set the chosen sighting aside, or bring it back."""
        row = self.align.chosen
        if row is None:
            return
        if row.aside:
            self._evening.mounts.bring_back([row.number])
        else:
            self._evening.mounts.set_aside([row.number])

    def _aim_at_next(self) -> None:
        """Aim at the star that helps most, and go where its numbers stand."""
        facts = self.align.alignment
        if facts is not None and facts.next_sighting is not None:
            self._aim_at(facts.next_sighting.key, lambda: self.wanted.emit(f"screen:{AIM}"))

    def _aim_at(self, key: str, then: Callable[[], None]) -> None:
        """Aim at the star of that key, out of the queue or new to it."""
        evening = self._evening
        if evening.queue.item(key) is not None:
            evening.queue.choose(key)
            then()
            return

        def take(target: Target) -> None:
            evening.queue.add(target)
            then()

        evening.ask("star", lambda library: library.catalogue.target(key), take)

    def _set_up(self) -> None:
        if self._evening.choices.mount is None:
            self.turn_to(DESCRIBE)
        else:
            self._sheets.show("set up", self._make_set_up)

    def _both_sides(self) -> None:
        """Go straight to the play of the dials."""
        self._set_up()
        sheet = self._sheets.up
        if isinstance(sheet, SetUpSheet):
            sheet.open_at_play()

    def _make_set_up(self) -> SetUpSheet:
        return SetUpSheet(self._evening, self._sight, self._sheets.stage)

    def _sight(self, key: str) -> None:
        """Aim at a star and ask for its sighting."""
        self._aim_at(key, self._sheets.key_actions(MOUNT)["sight"])

    # Where it stands.

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Come up again with the alignment."""
        super().hideEvent(event)
        if self._page != MOUNT and not self.window().isMinimized():
            self.turn_to(MOUNT)

    def arrange(self) -> None:
        """Give every page the whole room."""
        self.align.setGeometry(self.rect())
        for page in self._pages.values():
            page.setGeometry(self.rect())
