"""The rows that a journal's bytes hold, told from everything else by what they are."""

import re
from dataclasses import dataclass, field
from pathlib import Path

from companion.journal.advice import advised
from companion.journal.carving import CarvedRecord, Pages, records
from companion.journal.errors import JournalError
from companion.journal.log import log_bytes
from companion.journal.plain import read_utc
from companion.journal.reading import EventRow, Mended, read_event
from companion.journal.settings import SETTING_NAMES

_NIGHT = re.compile(r"\d{4}-\d\d-\d\d\Z")
# The header of an event as this program writes it: no number, 32 letters of time, 10 of date, a
# short kind. That of a setting: a short name, 32 letters of time.
_STARTS = re.compile(rb"[\x08-\x0d]\x00M![\x0d-\x7f]|[\x04-\x08][\x11-\x7f]M[\x0d-\xff]")
_MOST_BYTES = 16 << 20  # of a file that is looked through for what it might be


@dataclass
class FoundRows:
    """What was found in a file: events by number, settings by name, and the last number given.

    ``strays`` are events whose number another one has, too: damage may have changed it.
    """

    events: dict[int, EventRow] = field(default_factory=dict)
    strays: list[EventRow] = field(default_factory=list)
    settings: dict[str, tuple[str, str]] = field(default_factory=dict)
    last_given: int = 0

    @property
    def last(self) -> int:
        """The last number that was given to an event."""
        return max(self.last_given, *self.events, 0) if self.events else self.last_given

    @property
    def lost(self) -> int:
        """How many events there were that cannot be read: their numbers are missing."""
        return max(0, self.last - len(self.events) - len(self.strays))


def readable_rows(path: Path) -> FoundRows:
    """Read every row of a journal that can be read, whatever happened to the file.

    Raises
    ------
    JournalError
        If the file itself cannot be read.
    """
    with advised(path):
        pages = Pages(path.read_bytes(), log_bytes(path))
    rows = FoundRows()
    for record in records(pages, _STARTS):
        _take(rows, record)
    return rows


def holds_rows(path: Path) -> bool:
    """Tell whether a file that is no database was a journal once.

    Raises
    ------
    OSError
        If it cannot be read.
    """
    with path.open("rb") as stream:
        pages = Pages(stream.read(_MOST_BYTES), log_bytes(path))
    rows = FoundRows()
    return any(_take(rows, record) for record in records(pages, _STARTS))


def _take(rows: FoundRows, record: CarvedRecord) -> bool:
    """Take a record for what it is; False if it is none of the journal's."""
    values = record.values
    if record.number is not None and len(values) == 7:
        return _take_event(rows, record.number, (record.number, *values[1:]))
    if record.number is None and len(values) == 3:
        return _take_setting(rows, values)
    if len(values) == 2 and values[0] == "event" and isinstance(values[1], int):
        rows.last_given = max(rows.last_given, values[1])
    return False


def _take_event(rows: FoundRows, number: int, row: tuple[object, ...]) -> bool:
    """Keep an event; of two with one number the one that is whole, and both if both are."""
    found = _event_row(row)
    if found is None:
        return False
    before = rows.events.get(number)
    if before is None or (before != found and read_event(before)[1] is not None):
        rows.events[number] = found
    elif before != found and read_event(found)[1] is None:
        rows.strays.append(found)
    return True


def _event_row(row: tuple[object, ...]) -> EventRow | None:
    """Give a row that this program, or somebody by hand, wrote as an event; None for any other."""
    number, utc, night, kind, subject, payload, cancels = row
    try:
        read_utc(utc, "utc")
    except JournalError:
        return None
    texts = all(isinstance(one, str) for one in (kind, subject, payload))
    if not texts or not isinstance(night, str) or not _NIGHT.match(night):
        return None
    return (number, utc, night, kind, subject, payload, cancels)


def _take_setting(rows: FoundRows, values: tuple[object, ...]) -> bool:
    name, utc, value = values
    if not (isinstance(name, str) and isinstance(utc, str) and isinstance(value, str)):
        return False
    if name not in SETTING_NAMES or any(isinstance(one, Mended) for one in values):
        return False
    if name not in rows.settings or rows.settings[name][0] <= utc:
        rows.settings[name] = utc, value
    return True
