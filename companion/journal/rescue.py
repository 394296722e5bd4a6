"""Bringing back what a damaged journal still holds: every row whose own bytes are whole."""

import json
import re
import sqlite3
from collections.abc import Iterable, Mapping
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from companion.files import make_whole
from companion.journal.advice import advised
from companion.journal.beside import is_ours, saved_name
from companion.journal.database import open_database, open_for_reading, put_aside
from companion.journal.events import Did
from companion.journal.found_rows import FoundRows, holds_rows, readable_rows
from companion.journal.log import log_of
from companion.journal.reading import COLUMNS, EventRow
from companion.journal.settings import Settings, settings_of

_BUSY_S = 2.0
_ASIDE = re.compile(r"-aside-\d+\Z")
_DONE = "-rescued"
_OF_NUMBERS = frozenset({Did.SET_ASIDE, Did.BROUGHT_BACK, Did.KEPT})
_WRITE_EVENT = f"INSERT INTO event ({COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?)"  # noqa: S608 - our own names
_WRITE_NIGHT = "INSERT INTO evening (night, begun_utc) VALUES (?, ?) ON CONFLICT DO NOTHING"
_WRITE_SETTING = "INSERT INTO setting (name, utc, value) VALUES (?, ?, ?)"


@dataclass(frozen=True, slots=True)
class Rescued:
    """What a rescue brought back out of a file, and how many events it could not."""

    path: Path
    events: int
    settings: int
    lost: int

    def __str__(self) -> str:
        lost = f"{self.lost} could not be read" if self.lost else "none was lost"
        return f"{self.events} entries were brought back from {self.path.name}; {lost}."


def rescued_settings(path: Path) -> Settings:
    """Give the settings that a damaged journal still holds.

    Raises
    ------
    JournalError
        If the file itself cannot be read.
    """
    rows = readable_rows(path).settings
    return settings_of((name, value) for name, (_utc, value) in rows.items())


def asides(home: Path) -> tuple[Path, ...]:
    """Give the journals in a folder that were set aside, and not rescued yet, the oldest first."""
    try:
        found = [path for path in home.glob("journal-aside-*.sqlite") if _ASIDE.search(path.stem)]
    except OSError:
        return ()
    return tuple(sorted(found, key=lambda path: int(path.stem.rpartition("-")[2])))


def rescuable(home: Path, folders: Iterable[Path]) -> tuple[Path, ...]:
    """Give the files that hold entries which are not in the journal of a home.

    Those that were set aside in the home, and journals that were saved into other folders because
    the home had gone.
    """
    found = [*asides(home)]
    for folder in folders:
        saved = folder / saved_name(home)
        if is_ours(saved):
            found.append(saved)
    return tuple(path for path in found if _holds_something(path))


def _holds_something(path: Path) -> bool:
    try:
        return holds_rows(path)
    except OSError:
        return False


def rescue(damaged: Path, journal: Path) -> Rescued:
    """Bring what a damaged file still holds into the journal, before what is there already.

    A new file is made of both and put in the journal's place; the old ones keep names of their
    own, and nothing is deleted. The journal must not be open in this process.

    Raises
    ------
    JournalError
        If a file cannot be read, or the new one not be written. Nothing is changed then.
    """
    found, present = readable_rows(damaged), _present_rows(journal)
    make_whole(journal.with_suffix(".rescue"), lambda draft: _write(draft, found, present))
    with advised(journal):
        if journal.exists():
            _mark_done(put_aside(journal))
        journal.with_suffix(".rescue").rename(journal)
        _mark_done(damaged)
    return Rescued(damaged, len(found.events), len(found.settings), found.lost)


def _present_rows(journal: Path) -> FoundRows:
    """Read the journal that is in use now."""
    rows = FoundRows()
    if not journal.exists() or journal.stat().st_size == 0:
        return rows
    with advised(journal), closing(open_for_reading(journal, _BUSY_S)) as connection:
        for row in connection.execute(f"SELECT {COLUMNS} FROM event"):  # noqa: S608 - our own names
            rows.events[row[0]] = tuple(row)
        for name, utc, value in connection.execute("SELECT name, utc, value FROM setting"):
            rows.settings[name] = utc, value
    return rows


def _write(draft: Path, found: FoundRows, present: FoundRows) -> None:
    """Write a journal with the rows of both, those that were found first."""
    strays = [
        _shifted(row, found.last + at - _number(row)) for at, row in enumerate(found.strays, 1)
    ]
    later = [row for number, row in present.events.items() if found.events.get(number) != row]
    last = found.last + len(strays)
    shift = max(0, last + 1 - min(map(_number, later), default=last + 1))
    settings = dict(found.settings)
    for name, kept in present.settings.items():
        if name not in settings or settings[name][0] <= kept[0]:
            settings[name] = kept
    moved = [_shifted(row, shift) for row in later]
    with advised(draft), closing(open_database(draft, _BUSY_S)) as connection:
        connection.execute("PRAGMA foreign_keys = OFF")  # what a lost event cancelled stays told
        connection.execute("BEGIN IMMEDIATE")
        _insert(connection, [*found.events.values(), *strays, *moved])
        connection.executemany(
            _WRITE_SETTING, [(name, utc, value) for name, (utc, value) in settings.items()]
        )
        connection.execute("COMMIT")
        connection.execute("PRAGMA journal_mode = DELETE")  # all of it in the one file


def _insert(connection: sqlite3.Connection, rows: Iterable[EventRow]) -> None:
    for row in sorted(rows, key=_number):
        try:
            connection.execute(_WRITE_NIGHT, (row[2], row[1]))
            connection.execute(_WRITE_EVENT, row)
        except sqlite3.IntegrityError:
            continue  # no row that this program ever wrote


def _number(row: EventRow) -> int:
    return int(str(row[0]))


def _shifted(row: EventRow, shift: int) -> EventRow:
    """Give a row under a later number, with all that it says about numbers."""
    if not shift:
        return row
    _, utc, night, kind, subject, payload, cancels = row
    moved = None if cancels is None else int(str(cancels)) + shift
    values = _shifted_values(str(kind), str(payload), shift)
    return _number(row) + shift, utc, night, kind, subject, values, moved


def _shifted_values(kind: str, text: str, shift: int) -> str:
    try:
        values = json.loads(text)
    except (ValueError, RecursionError):
        return text
    name = {"noted": "marked", "marked": "horizon"}.get(kind, "")
    if not isinstance(values, Mapping):
        return text
    values = dict(values)
    if isinstance(values.get(name), int):
        values[name] += shift
    elif kind in _OF_NUMBERS and isinstance(values.get("numbers"), list):
        values["numbers"] = [n + shift if isinstance(n, int) else n for n in values["numbers"]]
    return json.dumps(values, ensure_ascii=False, separators=(",", ":"))


def _mark_done(aside: Path) -> None:
    """Give a file that holds nothing more than the journal does a name that says so."""
    done = aside.with_name(f"{aside.stem}{_DONE}{aside.suffix}")
    log = log_of(aside)
    if log.exists():
        log.rename(log_of(done))
    aside.rename(done)
