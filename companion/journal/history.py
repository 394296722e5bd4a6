"""What the journal holds over all nights."""

from dataclasses import dataclass
from datetime import datetime
from typing import cast

from companion.journal.advice import advised
from companion.journal.events import Did, Event, Flaw, live_events
from companion.journal.journal import Journal
from companion.journal.open_file import NOTHING_CHANGED
from companion.journal.outcome import Outcome, outcome_of
from companion.journal.plain import Plain
from companion.journal.reading import COLUMNS, finite, read_event
from companion.journal.state import remark_of

_READ = f"SELECT {COLUMNS} FROM event"  # noqa: S608 - our own names
# All that has a say in what holds; what was queued is of no use here, and takes most room.
WHAT_COUNTS = "(kind IN ('marked', 'noted', 'remarked') OR cancels IS NOT NULL)"


@dataclass(frozen=True, slots=True)
class Tick:
    """What became of a target on one night, with the circumstances where they are known.

    ``target`` and ``site`` are plain records; ``altitude_deg`` is refracted.
    """

    number: int
    night: str
    utc: datetime
    key: str
    name: str
    outcome: Outcome
    note: str
    instrument: str
    target: Plain
    site: Plain | None
    altitude_deg: float | None
    azimuth_deg: float | None
    eyepiece: str = ""


@dataclass(frozen=True, slots=True)
class Remark:
    """What was noted at a moment: about a target, or, with an empty key, about the night itself.

    ``target`` and ``site`` are plain records.
    """

    number: int
    night: str
    utc: datetime
    key: str
    name: str
    text: str
    target: Plain | None = None
    site: Plain | None = None


Entry = Tick | Remark


def ticks(journal: Journal, night: str | None = None) -> tuple[Tick, ...]:
    """Give the outcomes that hold, of one night or of a lifetime, as they were written.

    What was undone, taken back or replaced is left out; a target that was taken out of the queue
    afterwards is not.

    Raises
    ------
    JournalError
        If the file cannot be read.
    """
    return tuple(entry for entry in entries(journal, night) if isinstance(entry, Tick))


def entries(journal: Journal, night: str | None = None) -> tuple[Entry, ...]:
    """Give the outcomes that hold and all that was noted, each night in the order of its moments.

    Raises
    ------
    JournalError
        If the file cannot be read.
    """
    where, values = ("", ()) if night is None else (" AND night = ?", (night,))
    select = f"{_READ} WHERE {WHAT_COUNTS}{where} ORDER BY number"
    with advised(journal.path, NOTHING_CHANGED):
        rows = journal.connection.execute(select, values)
        events = [event for event in (read_event(row)[0] for row in rows) if event is not None]
    held = (entry_of(event, noted) for event, noted in holding(events))
    return tuple(sorted(held, key=lambda entry: (entry.night, entry.utc, entry.number)))


def flaws(journal: Journal) -> tuple[Flaw, ...]:
    """Give every event of all nights that cannot be read, or not wholly.

    Raises
    ------
    JournalError
        If the file cannot be read.
    """
    with advised(journal.path, NOTHING_CHANGED):
        rows = journal.connection.execute(f"{_READ} ORDER BY number")
        found = (read_event(row)[1] for row in rows)
        return tuple(flaw for flaw in found if flaw is not None)


def holding(events: list[Event]) -> tuple[tuple[Event, Event | None], ...]:
    """Pick what still holds out of all events: outcomes and remarks.

    Each comes with the event that holds its last note, as earlier versions wrote it.
    """
    held: dict[int, tuple[Event, Event | None]] = {}
    for event in live_events(events):
        if event.kind == Did.REMARKED or (event.kind == Did.MARKED and _is_outcome(event.payload)):
            held[event.number] = event, None
        elif event.kind == Did.NOTED:
            number = event.payload.get("marked")
            if isinstance(number, int) and number in held:
                held[number] = held[number][0], event
    return tuple(held.values())


def entry_of(event: Event, noted: Event | None) -> Entry:
    """Make an entry of what ``holding`` gives."""
    return _remark(event) if event.kind == Did.REMARKED else _tick(event, noted)


def _is_outcome(values: Plain) -> bool:
    outcome = outcome_of(values.get("outcome"))
    return isinstance(values.get("target"), dict) and outcome not in {None, Outcome.WAITING}


def _remark(event: Event) -> Remark:
    entry, values = remark_of(event), event.payload
    target, site = values.get("target"), values.get("site")
    return Remark(
        event.number,
        event.night,
        event.utc,
        entry.key,
        entry.name,
        entry.text,
        target if isinstance(target, dict) else None,
        site if isinstance(site, dict) else None,
    )


def _tick(marked: Event, noted: Event | None) -> Tick:
    values = marked.payload
    target, site = cast("Plain", values["target"]), values.get("site")
    return Tick(
        marked.number,
        marked.night,
        marked.utc,
        marked.subject,
        str(target.get("name", marked.subject)),
        Outcome(str(values["outcome"])),
        str((values if noted is None else noted.payload).get("note", "")),
        str(values.get("instrument", "")),
        target,
        site if isinstance(site, dict) else None,
        finite(values.get("altitude_deg")),
        finite(values.get("azimuth_deg")),
        str(values.get("eyepiece", "")),
    )
