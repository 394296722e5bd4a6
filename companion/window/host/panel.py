"""The screen of a host's evening: what guests see now, and the list of what they will see."""

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QWidget

from companion.finding import InstrumentKind
from companion.instant import Snapshot
from companion.sky import Target, zone_of
from companion.window.aim.words import NO_PLACE, NOTHING, Notice
from companion.window.frame.keys import HOST
from companion.window.frame.screen import Action, Screen
from companion.window.frame.sheets import Sheets
from companion.window.host import prompts, words
from companion.window.host.now import HostNow
from companion.window.kit.list_page import ListPage

if TYPE_CHECKING:
    from companion.live import Evening

_BOTH_FROM = 900  # pixels of width, under which the list makes room for what is shown now
_LIST_COLUMN = 6  # what is shown now stands before it
_PAGE = 10
_THROUGH = tuple(InstrumentKind)


class HostPanel(Screen):
    """Asks for an evening, leads through it; the evening itself is kept by the model."""

    digit, word = "F8", HOST

    def __init__(self, evening: "Evening", sheets: Sheets, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening, self._sheets = evening, sheets
        self.now, self.page = HostNow(self), ListPage(self)
        self.page.list.hit.connect(self._choose)
        self.page.chips.wanted.connect(self._do)
        self._shown: int | None = None
        evening.host.changed.connect(self._show_host)

    @property
    def pointed_at(self) -> Target | None:
        """What the list stands on."""
        targets, at = self._evening.host.targets, self.page.list.chosen
        return targets[at] if at < len(targets) else None

    # What the keys do.

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys of the host's screen do, and the values above its list."""
        host, ask, page = self._evening.host, self._sheets.ask, self.page
        return {
            "take": self._take,
            "found": host.mark_found,
            "next": host.go_on,
            "open_sky": host.clouds,
            "queue_all": host.queue_all,
            "sheet": lambda: ask(prompts.sheet_prompt(self._evening)),
            "row_down": lambda: page.step(1),
            "row_up": lambda: page.step(-1),
            "page_down": lambda: page.step(_PAGE),
            "page_up": lambda: page.step(-_PAGE),
            "chip_right": lambda: page.step_chip(1),
            "chip_left": lambda: page.step_chip(-1),
            "anew": host.work_out,
            "targets": lambda: ask(prompts.targets_prompt(self._evening)),
            "minutes": lambda: ask(prompts.minutes_prompt(self._evening)),
            "axis": lambda: ask(prompts.axis_prompt(self._evening)),
            "through": self._through,
        }

    def _do(self, action: str) -> None:
        wanted = self.key_actions().get(action)
        if wanted is not None:
            wanted()

    def _take(self) -> None:
        """Change the chosen value, work the evening out, or show the chosen target now."""
        host = self._evening.host
        if self.page.chips.take():
            return
        if not host.targets:
            host.work_out()
        else:
            host.show(self.page.list.chosen)

    def _through(self) -> None:
        """Look through the next sort of instrument."""
        host = self._evening.host
        at = _THROUGH.index(host.wishes.through)
        host.want(replace(host.wishes, through=_THROUGH[(at + 1) % len(_THROUGH)]))

    def _choose(self, at: int) -> None:
        self.page.step(at - self.page.list.chosen)

    # What is new.

    def _show_host(self) -> None:
        """Draw the evening; the chosen row follows what is shown."""
        if not self.isVisible():
            return
        host, page = self._evening.host, self.page
        zone = zone_of(self._evening.choices.site.time_zone)
        chosen = page.list.chosen
        if host.at is not None and host.at != self._shown:
            chosen = host.at
        self._shown = host.at
        page.list.say(words.rows(host, zone), chosen)
        page.chips.say(words.chips(host))
        share = 0.0 if host.working else None
        page.say(words.HEAD, words.about(host, zone), self._notice(), share)
        self.now.show_target(host.showing)
        self.arrange()

    def _notice(self) -> Notice:
        host = self._evening.host
        if self._evening.needs_site:
            return NO_PLACE
        if host.working:
            return words.COMING
        if host.targets:
            return NOTHING
        return words.BEGIN if host.program is None else words.NONE_STANDS

    def show_choices(self) -> None:
        """Follow site, instrument and what was found."""
        self._show_host()

    def show_snapshot(self, _snapshot: Snapshot) -> None:
        """Count the minutes down."""
        showing = self._evening.host.showing
        if showing is not None and self.isVisible():
            self.now.counter.say(words.counter(showing))

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Draw what came while another screen was up."""
        super().showEvent(event)
        self._show_host()

    # Where it stands.

    def arrange(self) -> None:
        """Put what is shown now at the left, the list at the right; in a low window one only."""
        showing = self._evening.host.showing is not None
        both = self.width() >= max(_BOTH_FROM, self.scale.grid(110))
        side = self.scale.column(self.width(), _LIST_COLUMN) - self.scale.margin
        edge = (side if both else self.width()) if showing else 0
        self.now.setVisible(showing)
        self.now.setGeometry(0, 0, max(1, edge), self.height())
        self.page.setVisible(edge < self.width())
        self.page.setGeometry(edge, 0, max(1, self.width() - edge), self.height())
