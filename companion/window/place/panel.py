"""The screen of the place: the site's fields, the clock, and the sites that are remembered."""

from collections.abc import Mapping
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from companion.instant import Snapshot
from companion.sky import DRY_PAN, LOON_BARRENS
from companion.window.frame.keys import HORIZON, PLACE
from companion.window.frame.screen import Action, Screen
from companion.window.frame.sheets import Sheets
from companion.window.kit.record_page import RecordPage
from companion.window.place.fields import place_facts, position_prompt, site_of

if TYPE_CHECKING:
    from companion.live import Evening
    from companion.sky import Town


class PlacePanel(Screen):
    """Fields at the left, sites at the right; the arrows go between them."""

    digit, word = "7", PLACE

    def __init__(self, evening: "Evening", sheets: Sheets, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening, self._sheets = evening, sheets
        self.page = RecordPage(lambda: place_facts(evening), sheets.ask, self)

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys do."""
        return {
            **self.page.key_actions(),
            "towns": lambda: self._sheets.find_town(self._take_town),
            "position": lambda: self._sheets.ask(position_prompt(self._evening)),
            "draw_horizon": self._draw_horizon,
            "demo_north": lambda: self._evening.sites.visit(LOON_BARRENS),
            "demo_south": lambda: self._evening.sites.visit(DRY_PAN),
        }

    def show_snapshot(self, _snapshot: Snapshot) -> None:
        """Do nothing: no number of this screen runs."""

    def show_choices(self) -> None:
        """Draw the site as it is now."""
        self.page.redraw()

    def _take_town(self, town: "Town") -> None:
        self._evening.sites.visit(site_of(town))

    def _draw_horizon(self) -> None:
        from companion.window.place.horizon_sheet import HorizonSheet  # brings numpy

        if not self._evening.needs_site:  # the question where one is comes first
            make = partial(HorizonSheet, self._evening, self._sheets.stage)
            self._sheets.show(HORIZON, make)

    def arrange(self) -> None:
        """Give the page the whole room."""
        self.page.setGeometry(self.rect())
