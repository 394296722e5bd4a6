"""What stands where the numbers will be while nothing is aimed at: the best of now, a key each."""

from typing import TYPE_CHECKING

from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QWidget

from companion.live import OfferView
from companion.sky import altitude_text, clock_text, compass_point, kind_text, zone_of
from companion.window.aim.words import NOTHING, Notice
from companion.window.frame.keys import OFFERS
from companion.window.kit.list_page import ListPage
from companion.window.kit.row_list import Row

if TYPE_CHECKING:
    from companion.finding import Instrument
    from companion.live import Evening
    from companion.night import TonightRow

_COMING = Notice(
    "The sky is being gone through.",
    "It takes a second or two. / searches for anything: M 31, Saturn, alp Lyr, 05 35.3 −05 23.",
)
_NONE = Notice(
    "Nothing easy is high enough for the eye or binoculars in this hour.",
    "m gives tonight's list, / searches for anything: M 31, Saturn, alp Lyr, 05 35.3 −05 23.",
)
_DAY = Notice("Nothing else shows well while the Sun is up.", _NONE.text)
_ABOUT = (
    "f7 the road: begin here · / searches for anything · m is tonight's list · 4 the night · "
    "? all keys"
)


class OffersPage(ListPage):
    """Three to five targets for somebody who begins."""

    def __init__(self, evening: "Evening", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening = evening
        self.list.hit.connect(self.take)
        evening.offers.changed.connect(self.show_desk)

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Come up with what is best now."""
        super().showEvent(event)
        self.show_desk()

    def show_desk(self) -> None:
        """Draw what the model has; if nobody asked for it yet, ask."""
        if not self.isVisible():
            return
        if self._evening.latest is not None:  # not before the first frame: it brings numpy
            self._evening.offers.refresh()
        view = self._evening.offers.view
        rows = () if view is None else rows_of(view)
        self.list.say(rows, self.list.chosen)
        none = _DAY if self._sun_is_up() else _NONE
        notice = _COMING if view is None else NOTHING if rows else none
        self.say(_head(self._evening, view), _ABOUT, notice, None)

    def _sun_is_up(self) -> bool:
        latest = self._evening.latest
        lights = () if latest is None else latest.lights
        return any(light.body == "sun" and light.altitude_deg > 0.0 for light in lights)

    def take(self, at: int | None = None) -> None:
        """Aim at the chosen row, or at another one."""
        view = self._evening.offers.view
        place = self.list.chosen if at is None else at
        if view is not None and place < len(view.rows):
            self._evening.queue.add(view.rows[place][0].target)


def _head(evening: "Evening", view: OfferView | None) -> str:
    if view is None or view.begins_utc <= view.question.around.utc:
        return "Best now, by eye and binoculars"
    zone = zone_of(evening.choices.site.time_zone)
    return f"Best from {clock_text(view.begins_utc.astimezone(zone))}, by eye and binoculars"


def rows_of(view: OfferView) -> tuple[Row, ...]:
    """Say each: its key, what it is, where it stands, and why it is worth it."""
    return tuple(
        _row(cap, row, instrument)
        for cap, (row, instrument) in zip(OFFERS, view.rows, strict=False)
    )


def _row(cap: str, row: "TonightRow", instrument: "Instrument") -> Row:
    target, how = row.target, instrument.name
    where = f"{altitude_text(row.altitude_deg, 1.0)}° up, {compass_point(row.azimuth_deg, 8)}"
    beside = f"{kind_text(target.kind)} · {how}"
    return Row(target.name, beside, where, row.why, cap=cap.lower())
