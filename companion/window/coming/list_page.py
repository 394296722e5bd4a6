"""The list of what comes, with a key for each filter."""

from collections.abc import Mapping
from enum import StrEnum
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtWidgets import QWidget

from companion.events import Event
from companion.sky import zone_of
from companion.window.aim.words import NO_PLACE, NOTHING, Notice
from companion.window.coming.words import (
    Sort,
    With,
    aurora_words,
    chips_of,
    head_of,
    notice_of,
    passes,
    row_of,
)
from companion.window.frame.screen import Action
from companion.window.kit.list_page import ListPage

if TYPE_CHECKING:
    from companion.live import Evening

Member = TypeVar("Member", bound=StrEnum)


class ComingPage(ListPage):
    """A line an event."""

    def __init__(self, evening: "Evening", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening = evening
        self._sort, self._with, self._unseen = Sort.ALL, With.ALL, False
        self.events: tuple[Event, ...] = ()
        self.list.hit.connect(self._hit)

    def show_desk(self) -> None:
        """Draw what the model has."""
        coming, now = self._evening.coming, self._evening.clock.now_utc
        chosen = self.row
        whole = coming.events()
        self.events = tuple(
            one for one in whole if passes(one, self._sort, self._with, unseen=self._unseen)
        )
        zone = zone_of(self._evening.choices.site.time_zone)
        queued = frozenset(item.target.key for item in self._evening.queue.items if item.waiting)
        place = self.events.index(chosen) if chosen in self.events else self.list.chosen
        readings = coming.readings
        self.list.say(
            [row_of(one, zone, now, queued, readings.get(one.uid, "")) for one in self.events],
            place,
        )
        kp, share = coming.kp, coming.share
        self.chips.say(
            chips_of(
                coming.reach, self._sort, self._with, unseen=self._unseen, kp=kp.held, zone=zone
            )
        )
        head = head_of(coming.reach, len(self.events), len(whole))
        self.say(head, aurora_words(kp.look, outdated=kp.outdated), self._notice(share), share)

    def _notice(self, share: float | None) -> Notice:
        if self._evening.needs_site:
            return NO_PLACE
        known = self._evening.coming.view is not None
        found = notice_of(self.events, known=known, working=share is not None)
        return NOTHING if self.events else found

    @property
    def row(self) -> Event | None:
        """The chosen event."""
        return self.events[self.list.chosen] if self.list.chosen < len(self.events) else None

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys of the list do."""
        return {
            "row_down": lambda: self.step(1),
            "row_up": lambda: self.step(-1),
            "page_down": lambda: self.list.page(1),
            "page_up": lambda: self.list.page(-1),
            "chip_right": lambda: self.step_chip(1),
            "chip_left": lambda: self.step_chip(-1),
            "reach": lambda: self._evening.coming.set_reach(_next(self._evening.coming.reach)),
            "kinds": self._turn_kinds,
            "instrument": self._turn_instrument,
            "unseen": self._turn_unseen,
            "clear": self._clear,
        }

    def _turn_kinds(self) -> None:
        self._sort = _next(self._sort)
        self.show_desk()

    def _turn_instrument(self) -> None:
        self._with = _next(self._with)
        self.show_desk()

    def _turn_unseen(self) -> None:
        self._unseen = not self._unseen
        self.show_desk()

    def _clear(self) -> None:
        self._sort, self._with, self._unseen = Sort.ALL, With.ALL, True
        self.show_desk()

    def _hit(self, at: int) -> None:
        self.step(at - self.list.chosen)


def _next(member: Member) -> Member:
    """Give the next of a few, the first after the last."""
    every = list(type(member))
    return every[(every.index(member) + 1) % len(every)]
