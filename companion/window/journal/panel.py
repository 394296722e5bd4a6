"""The screen of the journal: the nights, a lifetime, and what was seen in each."""

from collections.abc import Mapping
from datetime import date, tzinfo
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QShowEvent
from PySide6.QtWidgets import QWidget

from companion.advice import AdviceError
from companion.journal import Entry, Night, Outcome, Tick, from_plain
from companion.live import FamousLists, FileKind, JournalView
from companion.sky import Target, altitude_text, clock_text, compass_point, zone_of
from companion.window.aim.words import NOTHING, Notice
from companion.window.frame.keys import JOURNAL
from companion.window.frame.screen import Action, Screen
from companion.window.kit.attention import Attention
from companion.window.kit.lettering import Size, Words
from companion.window.kit.palette import Role, ink
from companion.window.kit.row_list import Row, RowList

if TYPE_CHECKING:
    from companion.live import Evening

_BOTH_FROM = 800  # pixels of width, under which one list is shown at a time
_NIGHTS_SHARE = 0.38
_COMING = Notice("The journal is being read.", "It comes in a moment.")
_EMPTY = Notice(
    "Nothing has been written yet.",
    "On the screen aim, space writes that a target was found, n that it was not seen. Each night "
    "then stands here, with all that was ever seen.",
)


class JournalPanel(Screen):
    """A lifetime and the nights at the left; at the right what was seen in the chosen one."""

    digit, word = "6", JOURNAL

    def __init__(self, evening: "Evening", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening = evening
        self._on_ticks = False
        self._ticks: tuple[Entry, ...] = ()
        self.head, self.about = Words(Size.TITLE, Role.EMPHASIS, parent=self), Words(parent=self)
        self.notice = Attention(self)
        self.nights, self.ticks = RowList(self), RowList(self)
        self.nights.hit.connect(self._hit_night)
        self.ticks.hit.connect(self._hit_tick)
        evening.nights.changed.connect(self._show_book)

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys do."""
        nights = self._evening.nights
        return {
            "row_down": lambda: self._step(1),
            "row_up": lambda: self._step(-1),
            "page_down": lambda: self._step(10),
            "page_up": lambda: self._step(-10),
            "row_right": lambda: self._cross(to_ticks=True),
            "row_left": lambda: self._cross(to_ticks=False),
            "take": self._take,
            "export_table": lambda: nights.write(FileKind.TABLE),
            "export_lines": lambda: nights.write(FileKind.LINES),
            "export_page": lambda: nights.write(FileKind.PAGE),
        }

    # What is new.

    def show_choices(self) -> None:
        """Have the journal read, if anything was written."""
        if self.isVisible():
            self._show_book()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Have the journal read."""
        super().showEvent(event)
        self._show_book()

    def _show_book(self) -> None:
        if not self.isVisible():
            return
        self._evening.nights.refresh()
        self._draw()

    def _draw(self) -> None:
        view = self._evening.nights.view
        known = view is not None and bool(view.entries)
        self.notice.say(NOTHING if known else _COMING if view is None else _EMPTY)
        self.head.say("The journal")
        if view is None or not known:
            self.about.say("")
            self.nights.say([], 0)
            self.ticks.say([], 0)
        else:
            held = [night for night in view.nights if _is_kept(night)]
            self.about.say(_sum(view, held))
            self.nights.say(
                [_lifetime(view, self._evening.nights.lists), *map(_night, held)],
                self.nights.chosen,
            )
            self._draw_ticks(view, held)
        self.nights.mark(marked=not self._on_ticks)
        self.ticks.mark(marked=self._on_ticks)
        self.arrange()

    def _draw_ticks(self, view: JournalView, held: list[Night]) -> None:
        at = self.nights.chosen
        chosen = self.ticks.chosen if self._on_ticks else 0
        if at == 0:
            seen = view.seen
            self._ticks = tuple(tick for tick, _count in seen)
            notes = view.notes
            rows = [
                _seen_row(tick, count, f"{tick.note} {notes.get((tick.key, tick.night), '')}")
                for tick, count in seen
            ]
        else:
            self._ticks = view.of(held[at - 1].night)
            rows = [_entry_row(entry) for entry in self._ticks]
        self.ticks.say(rows, chosen)

    # What the keys do.

    def _step(self, by: int) -> None:
        (self.ticks if self._on_ticks else self.nights).step(by)
        self._draw()

    def _cross(self, *, to_ticks: bool) -> None:
        self._on_ticks = to_ticks and bool(self._ticks)
        self._draw()

    def _take(self) -> None:
        """Put the chosen target into tonight's queue; from the nights go to what was seen."""
        if not self._on_ticks:
            self._cross(to_ticks=True)
            return
        plain = self._ticks[self.ticks.chosen].target
        if plain is None:
            return  # a line for the night itself
        try:
            target = from_plain(Target, plain)
        except AdviceError:
            return  # of another version: its name is all that is left of it
        self._evening.queue.add(target, aim=False)

    def _hit_night(self, at: int) -> None:
        self._on_ticks = False
        self.nights.say(self.nights.rows, at)
        self._draw()

    def _hit_tick(self, at: int) -> None:
        self._on_ticks = True
        self.ticks.say(self.ticks.rows, at)
        self._draw()

    # Where it stands.

    def _both(self) -> bool:
        return self.width() >= max(_BOTH_FROM, self.scale.grid(130))

    def arrange(self) -> None:
        """Lay the parts out."""
        grid, margin = self.scale.grid, self.scale.grid(6)
        width, top = max(1, self.width() - 2 * margin), grid(3)
        for words in (self.head, self.about):
            high = words.height_for(width) if words.text else 0
            words.setGeometry(margin, top, width, high)
            top += high + grid(0.5)
        top += grid(1)
        notice = self.notice.height_for(width)
        self.notice.setVisible(bool(notice))
        self.notice.setGeometry(margin, top + grid(1), width, notice)
        high = max(1, self.height() - top)
        known = bool(self.nights.rows)
        left = round(self.width() * _NIGHTS_SHARE) if self._both() else 0
        self.nights.setVisible(known and (self._both() or not self._on_ticks))
        self.ticks.setVisible(known and (self._both() or self._on_ticks))
        self.nights.setGeometry(0, top, left or self.width(), high)
        self.ticks.setGeometry(left, top, max(1, self.width() - left), high)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the line under the head."""
        if not self.nights.rows:
            return
        painter = QPainter(self)
        painter.setPen(QPen(ink(self, Role.LINE), self.scale.hair))
        y = min(self.nights.y(), self.ticks.y()) - 1.0
        margin = self.scale.grid(6)
        painter.drawLine(QPointF(margin, y), QPointF(self.width() - margin, y))


def _sum(view: JournalView, held: list[Night]) -> str:
    nights = "one night" if len(held) == 1 else f"{len(held)} nights"
    found = sum(night.found for night in held)
    return f"{nights} · {found} found · {len(view.seen)} different"


def _lifetime(view: JournalView, lists: FamousLists | None) -> Row:
    """Say how much was ever seen, and how far the famous lists are gone through."""
    below = ""
    if lists is not None:
        found = view.found_keys
        parts = (("Messier", lists.messier), ("Caldwell", lists.caldwell))
        below = " · ".join(f"{name} {len(keys & found)} of {len(keys)}" for name, keys in parts)
    return Row("A lifetime", right=f"{len(view.seen)} seen", below=below)


def _night(night: Night) -> Row:
    counts = (
        (night.found, "found"), (night.not_seen, "not seen"), (night.skipped, "skipped"),
        (night.notes, "note" if night.notes == 1 else "notes"),
    )  # fmt: skip
    return Row(
        _date(night.night), right=" · ".join(f"{count} {word}" for count, word in counts if count)
    )


def _date(night: str) -> str:
    """Write a night's date: "10 October 2026"."""
    try:
        day = date.fromisoformat(night)
    except ValueError:
        return night
    return f"{day.day} {day:%B %Y}"


def _is_kept(night: Night) -> bool:
    return bool(night.found + night.not_seen + night.skipped + night.notes)


def _entry_row(entry: Entry) -> Row:
    if isinstance(entry, Tick):
        return _tick_row(entry)
    lead, text = clock_text(entry.utc.astimezone(_zone(entry))), " ".join(entry.text.split())
    if entry.name:
        return Row(entry.name, beside="a note", below=text, lead=lead)
    return Row(text, lead=lead)


def _tick_row(tick: Tick) -> Row:
    return Row(
        tick.name,
        beside=_stood(tick),
        below=" ".join(tick.note.split()),
        lead=clock_text(tick.utc.astimezone(_zone(tick))),
        outcome=tick.outcome,
    )


def _seen_row(tick: Tick, count: int, noted: str) -> Row:
    times = "once" if count == 1 else "twice" if count == 2 else f"{count} times"
    return Row(
        tick.name,
        beside=times,
        right=_date(tick.night),
        below=" ".join(noted.split()),
        outcome=Outcome.FOUND,
    )


def _stood(tick: Tick) -> str:
    if tick.altitude_deg is None or tick.azimuth_deg is None:
        return tick.instrument
    where = f"{altitude_text(tick.altitude_deg, 1.0)}° up, {compass_point(tick.azimuth_deg, 8)}"
    return " · ".join(part for part in (where, tick.instrument) if part)


def _zone(entry: Entry) -> tzinfo:
    """Give the zone of the site's clocks; UTC where the site is not known."""
    try:
        return zone_of(str((entry.site or {}).get("time_zone", "UTC")))
    except AdviceError:
        return zone_of("UTC")
