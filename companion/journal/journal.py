"""The journal: every deed of an evening goes to disk before anybody is told."""

import os
import sqlite3
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from companion.journal.advice import advised
from companion.journal.database import open_database, put_aside
from companion.journal.errors import Fault, JournalError
from companion.journal.events import Did, Event, clean_text, encoded, event_of, utc_text
from companion.journal.outcome import Outcome
from companion.journal.plain import Plain, to_plain
from companion.journal.settings import Settings, checked_setting, settings_of
from companion.journal.state import EveningState, fold

FILE_NAME = "journal.sqlite"
NOTHING_CHANGED = "Nothing was changed; what was kept before is safe."

_READ_EVENTS = (
    "SELECT number, utc, night, kind, subject, payload, cancels FROM event "
    "WHERE night = ? AND number > ? ORDER BY number"
)
_WRITE_EVENT = (
    "INSERT INTO event (utc, night, kind, subject, payload, cancels) VALUES (?, ?, ?, ?, ?, ?)"
)
SELECT_SETTINGS = "SELECT name, value FROM setting ORDER BY name"
_WRITE_SETTING = (
    "INSERT INTO setting (name, utc, value) VALUES (?, ?, ?) "
    "ON CONFLICT (name) DO UPDATE SET utc = excluded.utc, value = excluded.value"
)


@dataclass(frozen=True, slots=True)
class Mark:
    """What became of a target, with the circumstances.

    ``target`` and ``site`` are plain records; ``altitude_deg`` and ``azimuth_deg`` tell where the
    target stood (refracted altitude, true azimuth), None where nobody computed it.
    """

    target: Plain
    outcome: Outcome
    note: str = ""
    instrument: str = ""
    site: Plain | None = None
    altitude_deg: float | None = None
    azimuth_deg: float | None = None


@dataclass(frozen=True, slots=True)
class Written:
    """The evening after a deed is on disk; ``event`` is None if there was nothing to do."""

    state: EveningState
    event: Event | None


@dataclass(slots=True)
class _Deed:
    """An event that is about to be written."""

    kind: Did
    subject: str = ""
    payload: Plain | None = None
    cancels: int | None = None


class Journal:
    """One journal file, used by the thread that opened it; other programs may use it too.

    Every method that writes returns after the commit has reached the disk. All of them raise
    ``JournalError`` when the world is in the way; nothing is changed then.

    Parameters
    ----------
    path : Path
        The file. It is made if it is missing.
    busy_s : float, optional
        How long to wait for another program that is writing.
    """

    def __init__(self, path: Path, busy_s: float = 5.0) -> None:
        self.path = path
        self._connection = open_database(path, busy_s)
        self._identity = self._file_identity()
        self._version = self._data_version()
        self._night = ""
        self._events: list[Event] = []
        self._last_number = 0
        self._unreadable = 0

    def close(self) -> None:
        """Close the file; the journal is of no use afterwards."""
        self._connection.close()

    def restore(self) -> None:
        """Close the file; if it was deleted while open, put it back in its place first.

        The system keeps a deleted file as long as it is open, so nothing is lost until then.
        """
        rescued = self.path.with_name(self.path.name + "-rescued")
        with advised(self.path, NOTHING_CHANGED):
            if self.path.exists():
                self.close()
                return
            rescued.unlink(missing_ok=True)
            self._connection.execute("VACUUM INTO ?", (str(rescued),))
            with rescued.open("rb+") as stream:
                os.fsync(stream.fileno())
            put_aside(self.path)  # a log left behind would be played into the rescued file
            rescued.rename(self.path)
        self.close()  # last: until here this connection alone held everything

    def evening(self, night: str) -> EveningState:
        """Give the state of a night, empty if nothing happened."""
        with advised(self.path, NOTHING_CHANGED):
            return self._folded(night)

    def changed_elsewhere(self) -> bool:
        """Tell whether another program wrote into the file since this was last asked."""
        with advised(self.path, NOTHING_CHANGED):
            self._check_file()
            before, self._version = self._version, self._data_version()
        return before != self._version

    def queue(
        self, night: str, utc: datetime, targets: Sequence[Plain], place: int | None = None
    ) -> Written:
        """Add targets at a row of the queue, or at its end.

        One that has an outcome waits again; one that is waiting moves only if a row is given.
        """
        if not targets:
            return Written(self.evening(night), None)
        plain = [_checked_target(target) for target in targets]
        subject = str(plain[0]["key"]) if len(plain) == 1 else ""
        payload = {"targets": plain, "place": place}
        return self._write(night, utc, lambda _: _Deed(Did.QUEUED, subject, payload))

    def remove(self, night: str, utc: datetime, key: str) -> Written:
        """Take a target out of the queue; its outcomes stay in the journal."""

        def deed(state: EveningState) -> _Deed | None:
            return _Deed(Did.REMOVED, key) if state.entry(key) else None

        return self._write(night, utc, deed)

    def order(self, night: str, utc: datetime, keys: Sequence[str]) -> Written:
        """Put the named targets first, in that order; the others follow as they were."""

        def deed(state: EveningState) -> _Deed | None:
            known = [key for key in keys if state.entry(key)]
            same = known == [entry.key for entry in state.queue][: len(known)]
            return None if same else _Deed(Did.ORDERED, "", {"keys": known})

        return self._write(night, utc, deed)

    def mark(self, night: str, utc: datetime, mark: Mark) -> Written:
        """Write what became of a target; it need not be in the queue.

        An outcome that the row already has is replaced, so that a slip is mended by the right
        key. ``Outcome.WAITING`` takes the outcome back.
        """
        target = _checked_target(mark.target)
        key = str(target["key"])
        if mark.outcome == Outcome.WAITING:
            return self._write(night, utc, lambda state: _taking_back(state, key))
        payload = to_plain(mark) | {
            "target": target,
            "note": clean_text("note", mark.note),
            "instrument": clean_text("name of the instrument", mark.instrument),
        }

        def deed(state: EveningState) -> _Deed:
            entry = state.entry(key)
            return _Deed(Did.MARKED, key, payload, entry.marked if entry else None)

        return self._write(night, utc, deed)

    def note(self, night: str, utc: datetime, key: str, text: str) -> Written:
        """Replace the note of the outcome that a target has this evening."""
        note = clean_text("note", text)

        def deed(state: EveningState) -> _Deed | None:
            entry = state.entry(key)
            if entry is None or entry.marked is None or entry.note == note:
                return None
            return _Deed(Did.NOTED, key, {"note": note, "marked": entry.marked})

        return self._write(night, utc, deed)

    def sight(self, night: str, utc: datetime, mount: str, sighting: Plain) -> Written:
        """Add a sighting of a mount; its number is that of the written event."""
        payload = {"mount": clean_text("name of the mount", mount), "sighting": dict(sighting)}
        return self._write(night, utc, lambda _: _Deed(Did.SIGHTED, "", payload))

    def set_aside(self, night: str, utc: datetime, numbers: Sequence[int]) -> Written:
        """Leave sightings out of the fit; they stay in the journal."""
        return self._turn_sightings(night, utc, numbers, aside=True)

    def bring_back(self, night: str, utc: datetime, numbers: Sequence[int]) -> Written:
        """Use sightings again that were set aside."""
        return self._turn_sightings(night, utc, numbers, aside=False)

    def undo(self, night: str, utc: datetime) -> Written:
        """Cancel the last deed of the evening; ``event`` of the answer is that deed."""
        return self._cancel(night, utc, Did.UNDONE, lambda state: state.undo)

    def redo(self, night: str, utc: datetime) -> Written:
        """Cancel the last undoing; ``event`` of the answer is the deed that holds again."""
        written = self._cancel(night, utc, Did.REDONE, lambda state: state.redo)
        undoing = written.event
        if undoing is None:
            return written
        deeds = (event for event in self._events if event.number == undoing.cancels)
        return Written(written.state, next(deeds, None))

    def settings(self) -> Settings:
        """Give the settings; what cannot be used has its default and is named in the answer."""
        with advised(self.path, NOTHING_CHANGED):
            return settings_of(self._connection.execute(SELECT_SETTINGS))

    def set(self, utc: datetime, name: str, value: object) -> Settings:
        """Keep one setting; the last value wins.

        Raises
        ------
        JournalError
            Also if the value cannot be used.
        """
        text = encoded({"value": checked_setting(name, value)})
        with advised(self.path, NOTHING_CHANGED), self._transaction():
            self._connection.execute(_WRITE_SETTING, (name, utc_text(utc), text))
        return self.settings()

    @property
    def connection(self) -> sqlite3.Connection:
        """The open connection, for the reading modules of this package."""
        return self._connection

    def _turn_sightings(
        self, night: str, utc: datetime, numbers: Sequence[int], *, aside: bool
    ) -> Written:
        def deed(state: EveningState) -> _Deed | None:
            wanted = set(numbers)
            turned = [
                entry.number
                for entry in state.sightings
                if entry.number in wanted and entry.set_aside != aside
            ]
            kind = Did.SET_ASIDE if aside else Did.BROUGHT_BACK
            return _Deed(kind, "", {"numbers": turned}) if turned else None

        return self._write(night, utc, deed)

    def _cancel(
        self, night: str, utc: datetime, kind: Did, choose: Callable[[EveningState], Event | None]
    ) -> Written:
        """Write an event that cancels another one; give the cancelled one in the answer."""
        cancelled: list[Event] = []

        def deed(state: EveningState) -> _Deed | None:
            event = choose(state)
            if event is None:
                return None
            cancelled.append(event)
            return _Deed(kind, event.subject, None, event.number)

        written = self._write(night, utc, deed)
        return Written(written.state, cancelled[0] if cancelled else None)

    def _write(
        self, night: str, utc: datetime, deed_for: Callable[[EveningState], _Deed | None]
    ) -> Written:
        """Write the event that suits the state as it is on disk at this moment."""
        with advised(self.path, NOTHING_CHANGED):
            self._check_file()
            with self._transaction():
                deed = deed_for(self._folded(night))
                number = None if deed is None else self._insert(night, utc, deed)
            state = self._folded(night)
        return Written(state, next((e for e in self._events if e.number == number), None))

    def _insert(self, night: str, utc: datetime, deed: _Deed) -> int | None:
        moment, execute = utc_text(utc), self._connection.execute
        execute(
            "INSERT INTO evening (night, begun_utc) VALUES (?, ?) ON CONFLICT DO NOTHING",
            (night, moment),
        )
        payload = encoded(deed.payload or {})
        row = (moment, night, str(deed.kind), deed.subject, payload, deed.cancels)
        return execute(_WRITE_EVENT, row).lastrowid

    @contextmanager
    def _transaction(self) -> Iterator[None]:
        """Hold the only right to write from here to the commit."""
        self._connection.execute("BEGIN IMMEDIATE")
        try:
            yield
            self._connection.execute("COMMIT")
        except BaseException:
            if self._connection.in_transaction:
                self._connection.execute("ROLLBACK")
            raise

    def _folded(self, night: str) -> EveningState:
        """Read the events that are new since the last time and add all of the night up."""
        if night != self._night:
            self._night, self._events = night, []
            self._last_number = self._unreadable = 0
        for row in self._connection.execute(_READ_EVENTS, (night, self._last_number)):
            event = event_of(row)
            self._last_number = row[0]
            if event is None:
                self._unreadable += 1
            else:
                self._events.append(event)
        return fold(night, self._events, self._unreadable)

    def _data_version(self) -> int:
        version: int = self._connection.execute("PRAGMA data_version").fetchone()[0]
        return version

    def _file_identity(self) -> tuple[int, int]:
        status = self.path.stat()
        return status.st_dev, status.st_ino

    def _check_file(self) -> None:
        """Notice that the file was deleted or replaced: SQLite would go on writing into nothing."""
        try:
            same = self._file_identity() == self._identity
        except OSError:
            same = False
        if not same:
            raise JournalError(
                f"The journal {self.path} was moved or deleted while it was in use.",
                "Put it back, or try again to begin a new one.",
                "What it held is no longer where it was.",
                Fault.UNREACHABLE,
            )


def _checked_target(target: Plain) -> dict[str, object]:
    """Give a plain target whose key and name are text of a sensible length."""
    key, name = target.get("key"), target.get("name")
    if not isinstance(key, str) or not key or not isinstance(name, str):
        raise TypeError(f"a target without key or name: {target!r:.200}")
    clean = {"key": clean_text("key of the target", key)}
    return dict(target) | clean | {"name": clean_text("name of the target", name)}


def _taking_back(state: EveningState, key: str) -> _Deed | None:
    entry = state.entry(key)
    if entry is None or entry.marked is None:
        return None
    return _Deed(Did.TAKEN_BACK, key, None, entry.marked)
