"""What a person does with the queue: every deed goes to the journal, and shows when it is there."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime

from PySide6.QtCore import QObject

from companion.instant import Choices, Snapshot
from companion.journal import Outcome, to_plain
from companion.live.board import Board
from companion.live.queue import QueueItem, SortBy, mark_of, next_waiting, sorted_keys, tube_of
from companion.live.threads.journal_thread import JournalKeeper
from companion.sky import Target


class QueueDeeds(QObject):
    """The part of an evening that is about its queue."""

    latest: Snapshot | None
    _keeper: JournalKeeper
    _board: Board
    _items: tuple[QueueItem, ...]
    _follow: str | None  # after this key the next waiting row comes up

    @property
    def choices(self) -> Choices:
        """What the numbers are made from."""
        return self._board.choices

    @property
    def items(self) -> tuple[QueueItem, ...]:
        """The queue in its order."""
        return self._items

    def item(self, key: str) -> QueueItem | None:
        """Give the row of a target."""
        return next((item for item in self._items if item.target.key == key), None)

    def choose(self, key: str) -> None:
        """Aim at a row of the queue."""
        item = self.item(key)
        if item is not None:
            self._aim_at(item.target)

    def add(self, target: Target, *, aim: bool = True) -> None:
        """Put a target into the queue, by default behind the current one, and aim at it.

        The aim doesn't wait for the journal: if that is out of order, the numbers still come.
        """
        place = self._place_after_current() if aim else None
        self._keeper.queue(self._written_utc(), [to_plain(target)], place)
        if aim:
            self._aim_at(target)

    def add_all(self, targets: Sequence[Target]) -> None:
        """Put targets at the end of the queue."""
        self._keeper.queue(self._written_utc(), [to_plain(target) for target in targets])

    def remove(self, key: str) -> None:
        """Take a target out of the queue; its outcomes stay in the journal."""
        if self.choices.target is not None and self.choices.target.key == key:
            self._follow = key
        self._keeper.remove(self._written_utc(), key)

    def move(self, key: str, by: int) -> None:
        """Move a row up (negative) or down."""
        keys = [item.target.key for item in self._items]
        if key not in keys:
            return
        at = keys.index(key)
        keys.insert(min(max(at + by, 0), len(keys) - 1), keys.pop(at))
        self._keeper.order(self._written_utc(), keys)

    def sort(self, by: SortBy) -> None:
        """Put the waiting rows into an order."""
        rows = () if self.latest is None else self.latest.rows
        facts = {row.key: row for row in rows}
        self._keeper.order(self._written_utc(), sorted_keys(self._items, facts, by))

    def order(self, keys: Sequence[str]) -> None:
        """Put the named rows first, behind those that are done, in that order."""
        done = [item.target.key for item in self._items if not item.waiting]
        self._keeper.order(self._written_utc(), [*done, *keys])

    def later(self) -> None:
        """Put the current target behind the other waiting ones; the next one comes up."""
        target = self.choices.target
        if target is None or self.item(target.key) is None:
            return
        keys = [item.target.key for item in self._items if item.target.key != target.key]
        following = next_waiting(self._items, target.key)
        self._keeper.order(self._written_utc(), [*keys, target.key])
        if following is not None:
            self._aim_at(following.target)

    def mark(self, outcome: Outcome, note: str = "") -> None:
        """Write what became of the current target; the next waiting one follows by itself."""
        target = self.choices.target
        if target is None or self._follow == target.key:
            return  # nothing to mark, or marked already and on its way to the disk
        aim = None if self.latest is None else self.latest.aim
        self._follow = target.key
        made = mark_of(target, outcome, note, self.choices.site, aim)
        self._keeper.mark(self._written_utc(), made)

    def note(self, key: str, text: str) -> None:
        """Replace the note of a target's outcome."""
        self._keeper.note(self._written_utc(), key, text)

    def undo(self) -> None:
        """Take the last deed back."""
        self._keeper.undo(self._written_utc())

    def redo(self) -> None:
        """Bring back what was undone last."""
        self._keeper.redo(self._written_utc())

    def _aim_at(self, target: Target | None) -> None:
        self._board.aim_at(target, tube_of(self._items))

    def _aim_at_next(self, key: str | None) -> None:
        following = next_waiting(self._items, key)
        if following is not None:
            self._aim_at(following.target)

    def _place_after_current(self) -> int | None:
        keys = [item.target.key for item in self._items]
        target = self.choices.target
        return keys.index(target.key) + 1 if target is not None and target.key in keys else None

    def _written_utc(self) -> datetime:
        """Deeds carry the corrected clock, or the demo's own; a still preview is not now."""
        running = self.choices.preview_since_utc is not None
        choices = self.choices if running else replace(self.choices, preview_utc=None)
        return choices.moment(datetime.now(UTC))
