"""The screen of the place: the site's fields, the clock, and the sites that are remembered."""

from collections.abc import Mapping
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from companion.instant import Snapshot
from companion.sky import DRY_PAN, LOON_BARRENS, Site, position_text
from companion.window.aim.words import Notice
from companion.window.frame.keys import HORIZON, PLACE
from companion.window.frame.screen import Action, Screen
from companion.window.frame.sheets import Sheets
from companion.window.kit.attention import Attention
from companion.window.kit.facts import Fact
from companion.window.kit.field_list import FieldList
from companion.window.kit.lettering import Size, Words
from companion.window.kit.palette import Role
from companion.window.kit.type_scale import TypeScale
from companion.window.place.fields import fields, position_prompt, site_of

if TYPE_CHECKING:
    from companion.live import Evening
    from companion.sky import Town

_BOTH_FROM = 800  # pixels of width, under which one column is shown at a time
_FIRST = Notice(
    "Where are you?",
    "Press / and type the name of the nearest town, or p and your latitude and longitude. To look "
    "around first, press d for Loon Barrens or e for Dry Pan, the two sites of the demo.",
)


class PlacePanel(Screen):
    """Fields at the left, sites at the right; the arrows go between them."""

    digit, word = "7", PLACE

    def __init__(self, evening: "Evening", sheets: Sheets, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening, self._sheets = evening, sheets
        self._field, self._site, self._on_sites, self._was_first = 0, 0, False, False
        self.name = Words(Size.TITLE, Role.EMPHASIS, parent=self)
        self.about = Words(Size.BODY, parent=self)
        self.welcome = Attention(self)
        self.fields = FieldList(self)
        self.caption = Words(Size.BODY, parent=self)
        self.sites = FieldList(self)
        self.caption.say("Remembered sites")
        self.fields.hit.connect(self._hit_field)
        self.sites.hit.connect(self._hit_site)

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys do."""
        return {
            "towns": lambda: self._sheets.find_town(self._take_town),
            "position": lambda: self._sheets.ask(position_prompt(self._evening)),
            "take": self._take,
            "draw_horizon": self._draw_horizon,
            "row_up": lambda: self._step(-1),
            "row_down": lambda: self._step(1),
            "row_left": lambda: self._cross(to_sites=False),
            "row_right": lambda: self._cross(to_sites=True),
            "demo_north": lambda: self._evening.sites.choose(LOON_BARRENS),
            "demo_south": lambda: self._evening.sites.choose(DRY_PAN),
        }

    # What is new.

    def show_snapshot(self, _snapshot: Snapshot) -> None:
        """Do nothing: no number of this screen runs."""

    def show_choices(self) -> None:
        """Draw the site as it is now."""
        evening = self._evening
        site, first = evening.choices.site, evening.needs_site
        self._on_sites = first or (self._on_sites and not self._was_first)
        self._was_first = first
        self.name.say("" if first else site.name)
        position = position_text(site.latitude_deg, site.longitude_deg)
        self.about.say("" if first else f"{position} · {site.elevation_m:.0f} m")
        self.welcome.say(_FIRST if first else Notice(""))
        self._draw_lists()
        self._arrange()

    def _draw_lists(self) -> None:
        lines = [] if self._evening.needs_site else fields(self._evening)
        self._field = min(self._field, max(0, len(lines) - 1))
        self.fields.say(
            [Fact(line.caption, line.value, line.more) for line in lines],
            None if self._on_sites else self._field,
        )
        sites = self._evening.sites.known
        self._site = min(self._site, max(0, len(sites) - 1))
        self.sites.say([_site_line(site) for site in sites], self._site if self._on_sites else None)

    # What the keys do.

    def _step(self, by: int) -> None:
        if self._on_sites:
            self._site = min(max(self._site + by, 0), max(0, len(self._evening.sites.known) - 1))
        else:
            self._field = min(max(self._field + by, 0), max(0, len(self.fields.lines) - 1))
        self._draw_lists()

    def _cross(self, *, to_sites: bool) -> None:
        self._on_sites = to_sites or self._evening.needs_site
        self._draw_lists()
        self._arrange()

    def _take(self) -> None:
        if self._on_sites:
            self._hit_site(self._site)
        else:
            self._hit_field(self._field)

    def _hit_field(self, at: int) -> None:
        self._field, self._on_sites = at, False
        self._draw_lists()
        self._sheets.ask(fields(self._evening)[at].entry())

    def _hit_site(self, at: int) -> None:
        if at < len(self._evening.sites.known):
            self._site = at
            self._evening.sites.choose(self._evening.sites.known[at])

    def _take_town(self, town: "Town") -> None:
        self._evening.sites.choose(site_of(town))

    def _draw_horizon(self) -> None:
        from companion.window.place.horizon_sheet import HorizonSheet  # brings numpy

        if not self._evening.needs_site:  # the question where one is comes first
            make = partial(HorizonSheet, self._evening, self._sheets.stage)
            self._sheets.show(HORIZON, make)

    # Where it stands.

    def set_scale(self, scale: TypeScale) -> None:
        """Take a new scale."""
        super().set_scale(scale)
        self._arrange()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Lay out again."""
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        grid, margin = self.scale.grid, self.scale.grid(6)
        both = self.width() >= max(_BOTH_FROM, grid(130))
        whole = max(1, self.width() - 2 * margin)
        left = round(whole * 0.56) if both else whole
        top = grid(3)
        self.name.setGeometry(margin, top, left, self.name.height_for(left))
        top += self.name.height()
        self.about.setGeometry(margin, top, left, self.about.height_for(left))
        top += self.about.height() + grid(2)
        welcome = self.welcome.height_for(left)
        self.welcome.setVisible(bool(welcome))
        self.welcome.setGeometry(margin, grid(3), left, welcome)
        self.fields.setGeometry(margin - grid(4), top, left + grid(4), self.height() - top)
        first = self._evening.needs_site
        self.fields.setVisible(not first and (both or not self._on_sites))
        self._arrange_sites(both=both, left=left, below=grid(5) + welcome if first else top)

    def _arrange_sites(self, *, both: bool, left: int, below: int) -> None:
        grid, margin = self.scale.grid, self.scale.grid(6)
        shown = both or self._on_sites or self._evening.needs_site
        for part in (self.caption, self.sites):
            part.setVisible(shown)
        start = margin + left + grid(8) if both else margin
        width = max(1, self.width() - start - margin)
        high = self.caption.height_for(width)
        top = grid(3) + self.name.height() if both else below
        if both:
            self.caption.setGeometry(start, top, width, high)
            below = top + high + grid(2)
        else:
            self.caption.hide()
        self.sites.setGeometry(start - grid(4), below, width + grid(4), self.height() - below)


def _site_line(site: Site) -> Fact:
    return Fact("", site.name, position_text(site.latitude_deg, site.longitude_deg))
