"""The screen of the place: the site's fields, the clock, and the sites that are remembered."""

from collections.abc import Mapping
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from companion.instant import Snapshot
from companion.sky import Site
from companion.window.frame.keys import HORIZON, PLACE
from companion.window.frame.screen import Action, Screen
from companion.window.frame.sheets import Sheets
from companion.window.kit.record_page import RecordPage
from companion.window.place.fields import place_facts
from companion.window.place.moving import change_site

if TYPE_CHECKING:
    from companion.live import Evening
    from companion.window.place.horizon_ring import HorizonRing


class PlacePanel(Screen):
    """Fields at the left, sites at the right; the arrows go between them."""

    digit, word = "7", PLACE

    def __init__(self, evening: "Evening", sheets: Sheets, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening, self._sheets = evening, sheets
        self.page = RecordPage(lambda: place_facts(evening, self._go), sheets.ask, self)
        self._ring: HorizonRing | None = None  # made once there is a place

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys do."""
        return {
            **self.page.key_actions(),
            "towns": lambda: self._sheets.find_place(self._visit),
            "draw_horizon": self._draw_horizon,
        }

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Draw what stands where above the horizon; no number of this screen runs."""
        if self._ring is not None:
            self._ring.show_snapshot(snapshot)

    def show_choices(self) -> None:
        """Draw the site as it is now."""
        self.page.redraw()
        if not self._evening.needs_site:
            self._show_horizon()

    def _show_horizon(self) -> None:
        from companion.night import HorizonLine  # brings numpy: not before the first frame

        if self._ring is None:
            from companion.window.place.horizon_ring import HorizonRing

            self._ring = HorizonRing(self.page)
            self._ring.set_scale(self.scale)
            self._ring.hit.connect(self._draw_horizon)
            self.page.put_picture(self._ring)
        points = self._evening.choices.site.horizon
        self._ring.show_line(HorizonLine.through(points).points if points else ())

    def _visit(self, site: Site) -> None:
        change_site(self._evening, self._sheets.ask, site, self._evening.sites.visit)

    def _go(self, site: Site) -> None:
        change_site(self._evening, self._sheets.ask, site, self._evening.sites.choose)

    def _draw_horizon(self) -> None:
        from companion.window.place.horizon_sheet import HorizonSheet  # brings numpy

        if not self._evening.needs_site:  # the question where one is comes first
            make = partial(HorizonSheet, self._evening, self._sheets.stage)
            self._sheets.show(HORIZON, make)

    def arrange(self) -> None:
        """Give the page the whole room."""
        self.page.setGeometry(self.rect())
