"""Tonight's list: what is worth seeing, best first, with the filters above it."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import tzinfo
from enum import StrEnum
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtWidgets import QWidget

from companion.journal import Outcome
from companion.live import ListQuestion, ListView, Seen, Wanted
from companion.sky import altitude_text, clock_text, compass_point, kind_text, zone_of
from companion.window.aim.words import NO_PLACE, NOTHING, Notice
from companion.window.frame.hint_line import Hint
from companion.window.frame.screen import Action
from companion.window.kit.list_page import ListPage
from companion.window.kit.row_list import Column, Row, RowBar
from companion.window.night.words import hours_text

if TYPE_CHECKING:
    from companion.live import Evening
    from companion.night import TonightRow, Twilights

Member = TypeVar("Member", bound=StrEnum)
_HEIGHTS_DEG = (0.0, 15.0, 30.0, 45.0)
_COMING = Notice("The sky is being gone through.", "It takes a second or two; esc stops it.")
_STOPPED = Notice("The list was not worked out.", "Change a filter, or press x to ask again.")
_NOTHING = Notice(
    "Nothing passes these filters tonight.",
    "Press x to take them all away, or → and enter to change one.",
)
COLUMNS = (
    Column("BEST AT", "00:00"),
    Column("THEN", "88° south-west"),
    Column("HOW EASY", "challenging 288×"),
)
USUAL = "10×50"  # taken by the night where no instrument is chosen


def rows_of(found: ListView, queued: frozenset[str], zone: tzinfo) -> list[Row]:
    """Say every row: name and kind, when, where and how it shows, in the queue or seen before."""
    down = found.tonight.darkness.sun_down
    return [_row(row, queued, down, zone) for row in found.tonight.rows]


def _row(row: "TonightRow", queued: frozenset[str], down: "Twilights", zone: tzinfo) -> Row:
    target = row.target
    kind = kind_text(target.kind)
    beside = f"{kind} · {target.constellation}" if target.constellation else kind
    words = ["in the queue"] if target.key in queued else []
    words += ["seen before"] if row.seen else []
    span = None
    if down.begins_utc is not None and down.ends_utc is not None:
        begins, night = down.begins_utc, down.ends_utc - down.begins_utc
        span = RowBar(
            *((at - begins) / night for at in (row.opens_utc, row.closes_utc, row.best_utc))
        )
    shown = row.visibility
    power = f" {shown.best_magnification:.0f}×" if shown.best_magnification >= 1.5 else ""
    return Row(
        target.name,
        str(beside),
        " · ".join(words),
        row.line,
        outcome=Outcome.FOUND if row.seen else None,
        span=span,
        cells=(
            clock_text(row.best_utc.astimezone(zone)),
            f"{altitude_text(row.altitude_deg, 1.0)}° {compass_point(row.azimuth_deg, 8)}",
            f"{shown.grade}{power}",
        ),
        briefly=" · ".join([row.why.partition("; ")[0], *words]),
    )


def chips_of(wanted: Wanted, instrument: str, hours: tuple[str, ...] = ()) -> list[Hint]:
    """Give a chip for every filter."""
    plain = Wanted()
    lowest = f"from {wanted.lowest_deg:.0f}° up" if wanted.lowest_deg else "any altitude"
    place = f"in {wanted.constellation}" if wanted.constellation else "any constellation"
    return [
        Hint("e", instrument, "instrument"),
        Hint("", wanted.kinds, "kinds", wanted.kinds != plain.kinds),
        Hint("", place, "constellation", bool(wanted.constellation)),
        Hint("", wanted.side, "side", wanted.side != plain.side),
        Hint("", lowest, "altitude", wanted.lowest_deg > 0.0),
        Hint("", wanted.ease, "ease", wanted.ease != plain.ease),
        Hint("", wanted.seen, "seen", wanted.seen is not Seen.ALL),
        Hint("u", hours_text(hours) or "all night", "hours", bool(hours)),
    ]


class TonightPage(ListPage):
    """The ranked list."""

    def __init__(self, evening: "Evening", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening = evening
        self._shown_of: ListView | None = None
        self.list.columns = COLUMNS
        self.list.hit.connect(self._hit)

    def show_desk(self) -> None:
        """Draw the list as the model has it."""
        night = self._evening.night
        found, share = night.list, night.share(ListQuestion)
        queued = frozenset(item.target.key for item in self._evening.queue.items if item.waiting)
        chosen = self.list.chosen if found is self._shown_of else 0
        self._shown_of = found
        zone = zone_of(self._evening.choices.site.time_zone)
        rows = [] if found is None else rows_of(found, queued, zone)
        self.list.say(rows, chosen)
        instrument = self._evening.choices.instrument
        name = USUAL if instrument is None else instrument.name
        self.chips.say(chips_of(night.wanted, name, self._evening.choices.hours))
        self.say(*_head(found), self._notice(found, share), share)

    def _notice(self, found: ListView | None, share: float | None) -> Notice:
        if self._evening.needs_site:
            return NO_PLACE
        if found is None:
            return _STOPPED if share is None else _COMING
        if found.tonight.rows:
            return NOTHING
        words = found.tonight.words
        return Notice(f"Tonight: {words}.", _NOTHING.text) if words else _NOTHING

    @property
    def row(self) -> "TonightRow | None":
        """The chosen row."""
        found = self._shown_of
        rows = () if found is None else found.tonight.rows
        return rows[self.list.chosen] if self.list.chosen < len(rows) else None

    def add(self) -> None:
        """Put the chosen target into the queue and go on to the next one."""
        if self.row is not None:
            self._evening.queue.add(self.row.target, aim=False)
            self.list.step(1)

    def _hit(self, at: int) -> None:
        if at == self.list.chosen and self.chips.chosen is None:
            self.add()
        else:
            self.step(at - self.list.chosen)

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys of the filters do."""

        def want(change: Callable[[Wanted], Wanted]) -> Action:
            night = self._evening.night
            return lambda: night.want(change(night.wanted))

        return {
            "kinds": want(lambda now: replace(now, kinds=_next(now.kinds))),
            "side": want(lambda now: replace(now, side=_next(now.side))),
            "ease": want(lambda now: replace(now, ease=_next(now.ease))),
            "seen": want(lambda now: replace(now, seen=_next(now.seen))),
            "altitude": want(lambda now: replace(now, lowest_deg=_higher(now.lowest_deg))),
            "clear": want(lambda _now: Wanted()),
            "instrument": self._next_instrument,
        }

    def _next_instrument(self) -> None:
        """Take the next larger instrument, after the largest the eye; all of the night follows."""
        instruments, chosen = self._evening.instruments, self._evening.choices.instrument
        ordered = sorted(instruments.known, key=lambda one: (one.aperture_mm, one.name))
        names = [one.name for one in ordered]
        now = USUAL if chosen is None else chosen.name
        at = names.index(now) if now in names else -1
        instruments.choose(ordered[(at + 1) % len(ordered)])


def _head(found: ListView | None) -> tuple[str, str]:
    if found is None:
        return "Tonight's list", ""
    tonight = found.tonight
    head = found.round_name or "Tonight's list"
    shown = len(tonight.rows)
    about = (
        f"the best {shown} of {tonight.passed}" if tonight.passed > shown else f"{shown} targets"
    )
    return head, f"{about} · {tonight.considered:,} considered".replace(",", " ")


def _next(value: Member) -> Member:
    """Give the member of an enumeration that follows."""
    members = list(type(value))
    return members[(members.index(value) + 1) % len(members)]


def _higher(lowest_deg: float) -> float:
    """Give the next greater altitude to begin at, after the greatest the horizon."""
    return next((one for one in _HEIGHTS_DEG if one > lowest_deg), 0.0)
