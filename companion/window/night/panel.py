"""The screen of the night: the chart, tonight's list, rounds and the order, a page each."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QWidget

from companion.instant import Snapshot
from companion.sky import Target
from companion.window.frame.keys import NIGHT, ORDER, REPORT, ROUNDS, TONIGHT
from companion.window.frame.screen import Action, Screen
from companion.window.frame.sheets import Sheets
from companion.window.kit.list_page import ListPage
from companion.window.night import prompts as night_entries
from companion.window.night.order_page import OrderPage
from companion.window.night.page import LEAP_S, STEP_S, NightPage
from companion.window.night.report_page import ReportPage
from companion.window.night.rounds_page import RoundsPage
from companion.window.night.tonight_page import TonightPage

if TYPE_CHECKING:
    from companion.live import Evening

_PAGE = 10  # rows


class NightPanel(Screen):
    """Shows one page at a time; the planner is asked once the screen first comes up."""

    digit, word = "4", NIGHT

    def __init__(self, evening: "Evening", sheets: Sheets, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening, self._sheets = evening, sheets
        self.chart, self.tonight = NightPage(evening, self), TonightPage(evening, self)
        self.rounds, self.order = RoundsPage(evening, self), OrderPage(evening, self)
        self.report = ReportPage(evening, self)
        self._report_of = evening.night.report
        self._pages: Mapping[str, NightPage | ListPage] = {
            REPORT: self.report,
            NIGHT: self.chart, TONIGHT: self.tonight, ROUNDS: self.rounds, ORDER: self.order,
        }  # fmt: skip
        self._page = NIGHT
        for name, one in self._pages.items():
            one.setVisible(name == NIGHT)
        self.chart.taken.connect(self._go_there)
        for page in (self.tonight, self.order):
            page.chips.wanted.connect(self._do)
        evening.night.changed.connect(self._show_desk)

    @property
    def context(self) -> str:
        """The page that is shown has keys of its own."""
        return self._page

    @property
    def pointed_at(self) -> Target | None:
        """What the list of the night stands on, or the chart."""
        if self._page == TONIGHT:
            return None if self.tonight.row is None else self.tonight.row.target
        chosen = self.chart.chosen if self._page == NIGHT else None
        targets = (item.target for item in self._evening.queue.items)
        return next((one for one in targets if chosen and one.key == chosen[0]), None)

    # What the keys do.

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys of the present page do."""
        return {
            NIGHT: self._chart_actions,
            TONIGHT: self._list_actions,
            ROUNDS: self._round_actions,
            ORDER: self._order_actions,
            REPORT: self._report_actions,
        }[self._page]()

    def _do(self, action: str) -> None:
        wanted = self.key_actions().get(action)
        if wanted is not None:
            wanted()

    def _chart_actions(self) -> Mapping[str, Action]:
        page = self.chart
        return {
            "row_down": lambda: page.step_target(1),
            "row_up": lambda: page.step_target(-1),
            "row_right": lambda: page.step_time(STEP_S),
            "row_left": lambda: page.step_time(-STEP_S),
            "leap_right": lambda: page.step_time(LEAP_S),
            "leap_left": lambda: page.step_time(-LEAP_S),
            "best": page.go_best,
            "take": self._go_there,
            "tonight": self._open_list,
            "rounds": lambda: self._turn_to(ROUNDS),
            "order": self._open_order,
            "hours": self._ask_for_hours,
            "import": self._ask_for_file,
            "report": lambda: self._turn_to(REPORT),
            "stop": self._stop,
        }

    def _list_actions(self) -> Mapping[str, Action]:
        page = self.tonight
        return {
            **page.key_actions(),
            **self._rows(TONIGHT),
            "take": lambda: self._take(page, page.add),
            "constellation": lambda: self._sheets.ask(
                night_entries.constellation_prompt(self._evening)
            ),
            "hours": self._ask_for_hours,
            "rounds": lambda: self._turn_to(ROUNDS),
            "import": self._ask_for_file,
        }

    def _round_actions(self) -> Mapping[str, Action]:
        return {
            **self._rows(ROUNDS),
            "hours": self._ask_for_hours,
            "take": self.rounds.take,
        }

    def _order_actions(self) -> Mapping[str, Action]:
        evening, ask = self._evening, self._sheets.ask
        return {
            **self._rows(ORDER),
            "take": lambda: self._take(self.order, evening.night.accept),
            "anew": evening.night.ask_order,
            "minutes": lambda: ask(night_entries.minutes_prompt(evening)),
            "clouds": lambda: ask(night_entries.cloud_prompt(evening)),
            "end": lambda: ask(night_entries.end_prompt(evening)),
            "break": lambda: ask(night_entries.break_prompt(evening)),
            "hours": self._ask_for_hours,
            "export": evening.night.write_files,
        }

    def _report_actions(self) -> Mapping[str, Action]:
        return {**self._rows(REPORT), "import": self._ask_for_file}

    def _take(self, page: ListPage, take: Action) -> None:
        """Do what the value above the rows does that is chosen, or what a row's is for."""
        if not page.chips.take():
            take()

    def _rows(self, name: str) -> Mapping[str, Action]:
        """Give what moves through the rows of a page, and what leads back from it."""
        page = self._pages[name]
        assert not isinstance(page, NightPage)  # noqa: S101  # the chart has no rows
        return {
            "row_down": lambda: page.step(1),
            "row_up": lambda: page.step(-1),
            "page_down": lambda: page.step(_PAGE),
            "page_up": lambda: page.step(-_PAGE),
            "chip_right": lambda: page.step_chip(1),
            "chip_left": lambda: page.step_chip(-1),
            "back": self._back,
        }

    def _back(self) -> None:
        """Stop what is being worked out; if nothing is, go back to the chart."""
        if not self._evening.night.cancel():
            self._turn_to(NIGHT)

    def _stop(self) -> None:
        """Stop what is being worked out; if nothing is, do what the key does everywhere."""
        if not self._evening.night.cancel():
            self.wanted.emit("close")

    def _open_list(self) -> None:
        if self._evening.night.list is None:
            self._evening.night.ask_list()
        self._turn_to(TONIGHT)

    def _open_order(self) -> None:
        self._evening.night.ask_order()
        self._turn_to(ORDER)

    def _ask_for_hours(self) -> None:
        self._sheets.ask(night_entries.hours_prompt(self._evening))

    def _ask_for_file(self) -> None:
        self._sheets.ask(night_entries.file_prompt(self._evening))

    def _turn_to(self, name: str) -> None:
        self._page = name
        for other, page in self._pages.items():
            page.setVisible(other == name)
        self._show_desk()
        self.turned.emit()

    def _go_there(self) -> None:
        """Show the chosen target at the cursor's time."""
        chosen = self.chart.chosen
        if chosen is not None:
            key, utc = chosen
            self._evening.queue.choose(key)
            self._evening.clock.set_preview(utc)
            self.wanted.emit("screen:aim")

    # What is new.

    def show_choices(self) -> None:
        """Draw what was changed; the first time, ask for the night."""
        self._evening.night.begin()
        self._show_desk()

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Move the line of now."""
        if self._page == NIGHT:
            self.chart.show_snapshot(snapshot)

    def _show_desk(self) -> None:
        if not self.isVisible():
            return
        report = self._evening.night.report
        if report is not self._report_of:
            self._report_of = report
            self._turn_to(REPORT)
        else:
            self._pages[self._page].show_desk()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Come up with the chart, and with what came while another screen was up."""
        super().showEvent(event)
        self._turn_to(NIGHT)

    def arrange(self) -> None:
        """Give every page all the room."""
        for page in self._pages.values():
            page.setGeometry(self.rect())
