"""The evening's queue: every action goes to the journal, and shows when it is there."""

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import QObject, Signal

from companion.instant import Snapshot
from companion.journal import EveningState, Outcome, to_plain
from companion.live.clock import EveningClock
from companion.live.current_choices import CurrentChoices
from companion.live.kept_sightings import Pointed, pointed_by
from companion.live.queue_items import (
    QueueItem,
    SortBy,
    items_of,
    mark_of,
    next_waiting,
    sorted_keys,
    stands_words,
    tube_of,
)
from companion.live.threads.journal_thread import JournalThread
from companion.sky import Target

_ANOTHER_TIME = (
    "Nothing was written: the numbers are for another time. Shift T comes back to now, then tell "
    "what you saw."
)


class Queue(QObject):
    """Tonight's targets in their order, what became of them, and which one is aimed at.

    ``changed`` tells that the rows are those of a new state on disk.
    """

    changed = Signal()
    refused = Signal(str)  # why something was not done, in words

    def __init__(
        self,
        journal: JournalThread,
        choices: CurrentChoices,
        clock: EveningClock,
        resume: str = "",
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._journal, self._choices, self._clock = journal, choices, clock
        self._items: tuple[QueueItem, ...] = ()
        self._sighted: Pointed | None = None
        self._latest: Snapshot | None = None
        self._resume = resume  # the key that was aimed at when the program was left
        self._follow: str | None = None  # after this key the next waiting row comes up

    # What the window reads.

    @property
    def items(self) -> tuple[QueueItem, ...]:
        """The rows in their order."""
        return self._items

    @property
    def waiting(self) -> tuple[Target, ...]:
        """The targets about which nothing has been said yet, in their order."""
        return tuple(item.target for item in self._items if item.waiting)

    def just_ticked(self, within_s: float) -> QueueItem | None:
        """Give the row that was ticked last, if that is not long ago."""
        ticked = [item for item in self._items if item.utc is not None and not item.waiting]
        last = max(ticked, key=lambda item: item.utc, default=None)  # type: ignore[arg-type,return-value]  # filtered above
        if last is None or last.utc is None:
            return None
        gone_s = (self._clock.written_utc - last.utc).total_seconds()
        return last if 0.0 <= gone_s <= within_s else None

    @property
    def tube(self) -> Target | None:
        """The target that the tube was brought to last, if that is known."""
        return tube_of(self._items, self._sighted)

    def item(self, key: str) -> QueueItem | None:
        """Give the row of a target."""
        return next((item for item in self._items if item.target.key == key), None)

    # What is in it, and in which order.

    def choose(self, key: str) -> None:
        """Aim at a row."""
        item = self.item(key)
        if item is not None:
            self._aim_at(item.target)

    def add(self, target: Target, *, aim: bool = True) -> None:
        """Put a target in, by default behind the current one, and aim at it.

        The aim doesn't wait for the journal: if that is out of order, the numbers still come.
        """
        place = self._place_after_current() if aim else None
        self._journal.queue(self._clock.written_utc, [to_plain(target)], place)
        if aim:
            self._aim_at(target)

    def add_all(self, targets: Sequence[Target]) -> None:
        """Put targets at the end."""
        self._journal.queue(self._clock.written_utc, [to_plain(target) for target in targets])

    def remove(self, key: str) -> None:
        """Take a target out; its outcomes stay in the journal."""
        target = self._choices.record.target
        if target is not None and target.key == key:
            self._follow = key
        self._journal.remove(self._clock.written_utc, key)

    def move(self, key: str, by: int) -> None:
        """Move a row up (negative) or down."""
        keys = [item.target.key for item in self._items]
        if key not in keys:
            return
        at = keys.index(key)
        keys.insert(min(max(at + by, 0), len(keys) - 1), keys.pop(at))
        self._journal.order(self._clock.written_utc, keys)

    def sort(self, by: SortBy) -> None:
        """Put the waiting rows into an order."""
        rows = () if self._latest is None else self._latest.rows
        facts = {row.key: row for row in rows}
        self._journal.order(self._clock.written_utc, sorted_keys(self._items, facts, by))

    def order(self, keys: Sequence[str]) -> None:
        """Put the named rows first, behind those that are done, in that order."""
        done = [item.target.key for item in self._items if not item.waiting]
        self._journal.order(self._clock.written_utc, [*done, *keys])

    def later(self) -> None:
        """Put the current target behind the other waiting ones; the next one comes up."""
        target = self._choices.record.target
        if target is None or self.item(target.key) is None:
            return
        keys = [item.target.key for item in self._items if item.target.key != target.key]
        following = next_waiting(self._items, target.key)
        self._journal.order(self._clock.written_utc, [*keys, target.key])
        if following is not None:
            self._aim_at(following.target)

    # What became of it.

    def mark(self, outcome: Outcome, note: str = "") -> None:
        """Write what became of the current target; the next waiting one follows by itself."""
        choices = self._choices.record
        target = choices.target
        if target is None or self._follow == target.key:
            return  # nothing to mark, or marked already and on its way to the disk
        if self._clock.stands_still:
            self.refused.emit(_ANOTHER_TIME)
            return
        aim = None if self._latest is None else self._latest.aim
        item = self.item(target.key)
        if item is not None and item.outcome is outcome and not note:
            self.refused.emit(stands_words(item, self._clock.zone))
            self._aim_at_next(target.key)
            return
        self._follow = target.key
        made = mark_of(target, outcome, note, choices, aim)
        known = None if item is None else item.marked
        self._journal.mark(self._clock.written_utc, made, known)

    def stay(self) -> None:
        """Stay at the current target: what was to be written about it was not."""
        self._follow = None

    def note(self, text: str, target: Target | None = None) -> None:
        """Write what was noted now: of a target, ticked or not, or of the night itself."""
        site = to_plain(self._choices.record.site)
        plain = None if target is None else to_plain(target)
        self._journal.note(self._clock.written_utc, text, plain, site)

    # What comes in.

    def take_snapshot(self, snapshot: Snapshot) -> None:
        """Take the newest numbers: a mark keeps where its target stood, a sort goes by them."""
        self._latest = snapshot

    def take_state(self, state: EveningState) -> None:
        """Take the rows as they are on disk, and follow what was done to the current one."""
        self._items, self._sighted = items_of(state), pointed_by(state.sightings)
        queue = tuple(item.target for item in self._items)
        self._choices.change(replace(self._choices.record, queue=queue))
        # A state written before the mark may come first: the row still waits in it.
        done = None if self._follow is None else self.item(self._follow)
        if self._follow is not None and (done is None or not done.waiting):
            key, self._follow = self._follow, None
            self._aim_at_next(key)
        if self._choices.record.target is None:
            self._begin()
        self.changed.emit()

    def _begin(self) -> None:
        """Aim at what was aimed at last, else at the first that waits."""
        left, self._resume = self.item(self._resume), ""
        if left is None:
            self._aim_at_next(None)
        else:
            self._aim_at(left.target)

    def _aim_at(self, target: Target | None) -> None:
        self._choices.aim_at(target, self.tube)

    def _aim_at_next(self, key: str | None) -> None:
        following = next_waiting(self._items, key)
        if following is not None:
            self._aim_at(following.target)

    def _place_after_current(self) -> int | None:
        keys = [item.target.key for item in self._items]
        target = self._choices.record.target
        return keys.index(target.key) + 1 if target is not None and target.key in keys else None
