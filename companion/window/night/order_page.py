"""The order of the queue: when each target's turn is, what will be lost, and why."""

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from companion.live import OrderQuestion, OrderView
from companion.sky import (
    altitude_text,
    angle_text,
    clock_text,
    compass_point,
    duration_text,
    zone_of,
)
from companion.window.aim.words import NO_PLACE, NOTHING, Notice
from companion.window.frame.hint_line import Hint
from companion.window.kit.list_page import ListPage
from companion.window.kit.row_list import Row, RowBar
from companion.window.night.words import short_name

if TYPE_CHECKING:
    from datetime import datetime, tzinfo

    from companion.live import Evening
    from companion.night import PlannedStop

_COMING = Notice("The order is being worked out.", "It takes a few seconds at most; esc stops it.")
_STOPPED = Notice("The order was not worked out.", "“Work it out anew”, above, asks for it again.")
_EMPTY = Notice(
    "Nothing waits in the queue.",
    "An order needs something to order: press esc, then m for tonight's list, or r for a "
    "ready-made round.",
)


# What an order can be told; enter, or a click, asks for it.
_CHIPS = (
    Hint("", "work it out anew", "anew"),
    Hint("", "minutes each", "minutes"),
    Hint("", "clouds", "clouds"),
    Hint("", "when to end", "end"),
    Hint("", "a break", "break"),
    Hint("u", "your hours", "hours"),
)


class OrderPage(ListPage):
    """The planned turns with their times, then what finds no place."""

    def __init__(self, evening: "Evening", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening = evening
        self.list.hit.connect(lambda at: self.list.say(self.list.rows, at))

    def show_desk(self) -> None:
        """Draw the order as the model has it."""
        night = self._evening.night
        share, made = night.share(OrderQuestion), night.order
        zone = zone_of(self._evening.choices.site.time_zone)
        self.list.say([] if made is None else rows_of(made, zone), self.list.chosen)
        head = "An order for the queue"
        if made is not None and made.order.stops:
            head = "The order of the queue" if night.accepted else "Proposed order"
        self.chips.say(_CHIPS)
        about = " · ".join([*([] if made is None else [_sum(made, zone)]), *night.order_words])
        self.say(head, about, self._notice(made, share), share)

    def _notice(self, made: OrderView | None, share: float | None) -> Notice:
        if self._evening.needs_site:
            return NO_PLACE
        if made is None:
            return _STOPPED if share is None else _COMING
        if not (made.order.stops or made.order.lost):
            return _EMPTY
        return NOTHING


def rows_of(made: OrderView, zone: "tzinfo") -> list[Row]:
    """Say every planned turn, and what is lost."""
    last = max((stop.closes_utc for stop in made.order.stops), default=None)
    lane = None if last is None else (made.order.stops[0].turn_begins_utc, last)
    stops = [replace(_stop(stop, zone), span=_bar(stop, lane)) for stop in made.order.stops]
    lost = [
        Row(short_name(one.target), right="no place", below=one.why, lead="–")
        for one in made.order.lost
    ]
    return [*stops, *lost]


def _bar(stop: "PlannedStop", lane: "tuple[datetime, datetime] | None") -> RowBar | None:
    """Give a target's turn, and how long it could still be seen, on the lane of all turns."""
    if lane is None:
        return None
    begins, length = lane[0], lane[1] - lane[0]
    turn = (stop.start_utc, stop.end_utc, stop.closes_utc)
    start, end, closes = ((at - begins) / length for at in turn)
    return RowBar(start, closes, start, until=end)


def _stop(stop: "PlannedStop", zone: "tzinfo") -> Row:
    minutes = (stop.end_utc - stop.start_utc).total_seconds() / 60.0
    parts = [] if stop.turn_deg is None else [f"turn {angle_text(stop.turn_deg)}"]
    parts += [f"wait {duration_text(stop.waits_s)}"] if stop.waits_s >= 60.0 else []
    where = compass_point(stop.azimuth_deg, 8)
    parts += [f"{altitude_text(stop.altitude_deg, 1.0)}° up, {where}", f"{minutes:.0f} min"]
    closes = clock_text(stop.closes_utc.astimezone(zone))
    return Row(
        short_name(stop.target),
        right=f"until {closes} · {duration_text(stop.spare_s)} to spare",
        below=" · ".join(parts),
        lead=clock_text(stop.start_utc.astimezone(zone)),
    )


def _sum(made: OrderView, zone: "tzinfo") -> str:
    order = made.order
    count = len(order.stops) + len(order.lost)
    if not order.stops:
        return f"none of {count} finds a place"
    ends = clock_text(order.stops[-1].end_utc.astimezone(zone))
    said = f"{len(order.stops)} of {count}" if order.lost else f"all {count}"
    best = ", the best there is" if order.exact else ""
    return f"{said}, done by {ends}{best}"
