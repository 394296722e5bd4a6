"""The journal: every action of an evening goes to disk before anybody is told."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, tzinfo
from pathlib import Path

from companion.journal.advice import advised
from companion.journal.changes import (
    WHATEVER_STANDS,
    Change,
    Mark,
    What,
    key_change,
    mark_change,
    note_change,
    queue_change,
    sight_change,
    sightings_change,
)
from companion.journal.errors import Fault, JournalError
from companion.journal.events import Did, Event, Flaw, encoded, utc_text
from companion.journal.night_date import forenoon_utc, night_before
from companion.journal.open_file import NOTHING_CHANGED, OpenFile
from companion.journal.plain import Plain
from companion.journal.planning import Draft, StandsOtherwise, draft_of
from companion.journal.reading import COLUMNS, read_event
from companion.journal.settings import Settings, checked_setting, settings_of
from companion.journal.state import EveningState, QueueEntry, fold

FILE_NAME = "journal.sqlite"
EPOCH = datetime(1970, 1, 1, tzinfo=UTC)

_READ_EVENTS = f"SELECT {COLUMNS} FROM event WHERE night = ? AND number > ? ORDER BY number"  # noqa: S608 - our own names
_FIND_HORIZON = (
    "SELECT number FROM event WHERE kind = 'horizon' AND subject = ? AND payload = ? "
    "ORDER BY number LIMIT 1"
)
_DIGEST = 16  # hexadecimal digits that tell horizons apart
_WRITE_EVENT = (
    "INSERT INTO event (utc, night, kind, subject, payload, cancels) VALUES (?, ?, ?, ?, ?, ?)"
)
_FIND_SETTING = "SELECT 1 FROM setting WHERE name = ?"
SELECT_SETTINGS = "SELECT name, value FROM setting ORDER BY name"
_WRITE_SETTING = (
    "INSERT INTO setting (name, utc, value) VALUES (?, ?, ?) "
    "ON CONFLICT (name) DO UPDATE SET utc = excluded.utc, value = excluded.value"
)


@dataclass(frozen=True, slots=True)
class Written:
    """The evening after a change is on disk; ``event`` is None if there was nothing to do.

    ``before`` is the row that the change was about, as it stood before. ``contradicted`` tells
    that nothing was written because somebody else had written something else there.
    """

    state: EveningState
    event: Event | None
    before: QueueEntry | None = None
    contradicted: bool = False


class Journal(OpenFile):
    """The events of all nights, and the settings.

    Every method that writes returns after the commit has reached the disk. All of them raise
    ``JournalError`` when the world is in the way; nothing is changed then.

    Its parameters are those of ``OpenFile``.
    """

    def __init__(self, path: Path, busy_s: float = 5.0, *, read_only: bool = False) -> None:
        super().__init__(path, busy_s, read_only=read_only)
        self._night = ""
        self._events: list[Event] = []
        self._last_number = 0
        self._flaws: list[Flaw] = []

    def evening(self, night: str) -> EveningState:
        """Give the state of a night, empty if nothing happened."""
        with advised(self.path, NOTHING_CHANGED):
            return self._folded(night)

    def do(self, change: Change) -> Written | Settings:
        """Write a change; it is on the disk when the answer is given.

        Raises
        ------
        JournalError
            Also if it holds a text that is too long, or a setting that cannot be used.
        """
        if change.what == What.SET:
            return self.set(change.utc, str(change.values["name"]), change.values["value"])
        return self._write(change)

    def do_once(self, ident: str, changes: Sequence[Change]) -> tuple[str, ...] | None:
        """Write changes that had to wait, all at once, unless those of that name are here already.

        Returns
        -------
        tuple of str or None
            What could not be used, in words; None if they had been written before.
        """
        name, missed = f"read back {ident}", list[str]()
        with advised(self.path, NOTHING_CHANGED):
            self.check_file()
            try:
                with self.transaction():
                    if self.connection.execute(_FIND_SETTING, (name,)).fetchone():
                        return None
                    missed += [word for word in map(self._missed, changes) if word]
                    self._keep(changes[-1].utc if changes else EPOCH, name, len(changes))
            except BaseException:
                self._night = ""  # what was read meanwhile is not on the disk
                raise
        return tuple(missed)

    def _missed(self, change: Change) -> str:
        """Write one of several changes; give its words if it cannot be used."""
        try:
            self.do(change)
        except JournalError as error:
            if error.fault is not Fault.REFUSED:
                raise
        except (TypeError, KeyError, ValueError):
            pass  # somebody changed the file by hand
        else:
            return ""
        return change.words

    def queue(
        self, night: str, utc: datetime, targets: Sequence[Plain], place: int | None = None
    ) -> Written:
        """Add targets at a row of the queue, or at its end.

        One that has an outcome waits again; one that is waiting moves only if a row is given.
        """
        return self._write(queue_change(night, utc, targets, place))

    def carry(self, night: str, utc: datetime, zone: tzinfo) -> Written:
        """Bring over what was prepared for this night in the forenoon, which is the night before's.

        That is done once: rows that are taken out afterwards stay out.
        """
        state, before = self.evening(night), night_before(night)
        if state.carried:
            return Written(state, None)
        prepared = self.evening(before).prepared(forenoon_utc(before, zone))
        values = {"targets": [entry.target for entry in prepared], "night": before}
        if not prepared:
            return Written(self.evening(night), None)
        return self._write(Change(What.CARRY, night, utc, values))

    def remove(self, night: str, utc: datetime, key: str) -> Written:
        """Take a target out of the queue; its outcomes stay in the journal."""
        return self._write(key_change(What.REMOVE, night, utc, key))

    def order(self, night: str, utc: datetime, keys: Sequence[str]) -> Written:
        """Put the named targets first, in that order; the others follow as they were."""
        return self._write(Change(What.ORDER, night, utc, {"keys": list(keys)}))

    def mark(
        self, night: str, utc: datetime, mark: Mark, known: int | None = WHATEVER_STANDS
    ) -> Written:
        """Write what became of a target; it need not be in the queue.

        An outcome that the row already has is replaced, so that a slip is mended by the right
        key, unless it is another than the ``known`` one: then nothing is written, and the answer
        tells. ``Outcome.WAITING`` takes the outcome back.
        """
        return self._write(mark_change(night, utc, mark, known))

    def note(
        self,
        night: str,
        utc: datetime,
        text: str,
        target: Plain | None = None,
        site: Plain | None = None,
    ) -> Written:
        """Write what was noted at a moment: of a target, ticked or not, or of the night itself."""
        return self._write(note_change(night, utc, text, target, site))

    def sight(self, night: str, utc: datetime, mount: str, sighting: Plain) -> Written:
        """Add a sighting of a mount; its number is that of the written event."""
        return self._write(sight_change(night, utc, mount, sighting))

    def set_aside(self, night: str, utc: datetime, numbers: Sequence[int]) -> Written:
        """Leave sightings out of the fit; they stay in the journal."""
        return self._write(sightings_change(night, utc, numbers, aside=True))

    def bring_back(self, night: str, utc: datetime, numbers: Sequence[int]) -> Written:
        """Use sightings again that were set aside."""
        return self._write(sightings_change(night, utc, numbers, aside=False))

    def undo(self, night: str, utc: datetime) -> Written:
        """Cancel the last action of the evening; ``event`` of the answer is that action."""
        return self._write(Change(What.UNDO, night, utc))

    def redo(self, night: str, utc: datetime) -> Written:
        """Cancel the last undoing; ``event`` of the answer is the action that holds again."""
        return self._write(Change(What.REDO, night, utc))

    def settings(self) -> Settings:
        """Give the settings; what cannot be used has its default and is named in the answer."""
        with advised(self.path, NOTHING_CHANGED):
            return settings_of(self.connection.execute(SELECT_SETTINGS))

    def set(self, utc: datetime, name: str, value: object) -> Settings:
        """Keep one setting; the last value wins.

        Raises
        ------
        JournalError
            Also if the value cannot be used.
        """
        checked = checked_setting(name, value)
        with advised(self.path, NOTHING_CHANGED), self.transaction():
            self._keep(utc, name, checked)
        return self.settings()

    def _keep(self, utc: datetime, name: str, value: object) -> None:
        row = (name, utc_text(utc), encoded({"value": value}))
        self.connection.execute(_WRITE_SETTING, row)

    def _write(self, change: Change) -> Written:
        """Write the event that suits the state as it is on disk at this moment."""
        with advised(self.path, NOTHING_CHANGED):
            self.check_file()
            try:
                with self.transaction():
                    before = self._folded(change.night)
                    draft = draft_of(change, before)
                    number = None if draft is None else self._insert(change, draft)
            except StandsOtherwise as found:
                return Written(self._folded(change.night), None, found.entry, contradicted=True)
            return self._written(change, before, draft, number)

    def _written(
        self, change: Change, before: EveningState, draft: Draft | None, number: int | None
    ) -> Written:
        """Give the answer: of undo and redo with the event that they were about."""
        state = self._folded(change.night)
        about = number
        if change.what == What.UNDO:
            about = None if draft is None else draft.cancels
        elif change.what == What.REDO:
            about = None if before.redo is None else before.redo.cancels
        event = next((event for event in self._events if event.number == about), None)
        standing = before.entry(_key_of(change))
        return Written(state, event, standing)

    def _insert(self, change: Change, draft: Draft) -> int | None:
        moment, execute = utc_text(change.utc), self.connection.execute
        execute(
            "INSERT INTO evening (night, begun_utc) VALUES (?, ?) ON CONFLICT DO NOTHING",
            (change.night, moment),
        )
        payload = dict(draft.payload or {})
        if draft.horizon is not None:
            payload["horizon"] = self._horizon_number(change, draft.horizon)
        row = (moment, change.night, str(draft.kind), draft.subject, encoded(payload))
        return execute(_WRITE_EVENT, (*row, draft.cancels)).lastrowid

    def _horizon_number(self, change: Change, horizon: object) -> int | None:
        """Give the number of the event that holds a horizon, written now if there is none."""
        import hashlib  # few journals hold a horizon

        text = encoded({"horizon": horizon})
        subject = hashlib.sha256(text.encode()).hexdigest()[:_DIGEST]
        known = self.connection.execute(_FIND_HORIZON, (subject, text))
        for (number,) in known:
            return int(number)
        row = (utc_text(change.utc), change.night, str(Did.HORIZON), subject, text, None)
        return self.connection.execute(_WRITE_EVENT, row).lastrowid

    def _folded(self, night: str) -> EveningState:
        """Read the events that are new since the last time and add all of the night up."""
        if night != self._night:
            self._night, self._events, self._flaws = night, [], []
            self._last_number = 0
        for row in self.connection.execute(_READ_EVENTS, (night, self._last_number)):
            event, flaw = read_event(row)
            self._last_number = row[0]
            if event is not None:
                self._events.append(event)
            if flaw is not None:
                self._flaws.append(flaw)
        return fold(night, self._events, self._flaws)


def _key_of(change: Change) -> str:
    """Give the key of the target that a change is about; empty if there is none."""
    mark, key = change.values.get("mark"), change.values.get("key")
    target = mark.get("target") if isinstance(mark, dict) else None
    return str(target["key"] if isinstance(target, Mapping) else key or "")
