"""What the journal holds over all nights."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime

from companion.journal.advice import advised
from companion.journal.events import Did, Event, Flaw, live_events
from companion.journal.journal import Journal
from companion.journal.open_file import NOTHING_CHANGED
from companion.journal.outcome import Outcome, outcome_of
from companion.journal.plain import Plain
from companion.journal.reading import COLUMNS, finite, read_event
from companion.journal.state import remark_of

_READ = f"SELECT {COLUMNS} FROM event"  # noqa: S608 - our own names


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


@dataclass(frozen=True, slots=True)
class Night:
    """A night in figures."""

    night: str
    found: int = 0
    not_seen: int = 0
    skipped: int = 0
    notes: int = 0


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
    where, values = ("", ()) if night is None else (" WHERE night = ?", (night,))
    with advised(journal.path, NOTHING_CHANGED):
        rows = journal.connection.execute(f"{_READ}{where} ORDER BY number", values).fetchall()
    events = [event for event in (read_event(row)[0] for row in rows) if event is not None]
    live = live_events(events)
    noted = (_remark(event) for event in live if event.kind == Did.REMARKED)
    both: tuple[Entry, ...] = (*_held(live), *noted)
    return tuple(sorted(both, key=lambda entry: (entry.night, entry.utc, entry.number)))


def nights(journal: Journal) -> tuple[Night, ...]:
    """Give all nights on which something happened, the latest first.

    Raises
    ------
    JournalError
        If the file cannot be read.
    """
    with advised(journal.path, NOTHING_CHANGED):
        rows = journal.connection.execute("SELECT night FROM evening").fetchall()
    counted = {night: Night(night) for (night,) in rows}
    for entry in entries(journal):
        counted[entry.night] = _counting(counted[entry.night], entry)
    return tuple(sorted(counted.values(), key=lambda night: night.night, reverse=True))


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


def seen_keys(journal: Journal) -> frozenset[str]:
    """Give the keys of all targets that were ever found.

    Raises
    ------
    JournalError
        If the file cannot be read.
    """
    return frozenset(tick.key for tick in ticks(journal) if tick.outcome == Outcome.FOUND)


def _counting(night: Night, entry: Entry) -> Night:
    if isinstance(entry, Remark):
        return replace(night, notes=night.notes + 1)
    match entry.outcome:
        case Outcome.FOUND:
            return replace(night, found=night.found + 1)
        case Outcome.NOT_SEEN:
            return replace(night, not_seen=night.not_seen + 1)
        case _:
            return replace(night, skipped=night.skipped + 1)


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


def _held(live: Iterable[Event]) -> tuple[Tick, ...]:
    """Pick the outcomes out of what still holds, each with its last note."""
    held: dict[int, Tick] = {}
    for event in live:
        if event.kind == Did.MARKED:
            tick = _tick(event)
            if tick is not None:
                held[event.number] = tick
        elif event.kind == Did.NOTED:
            number = event.payload.get("marked")
            if isinstance(number, int) and number in held:
                note = str(event.payload.get("note", ""))
                held[number] = replace(held[number], note=note)
    return tuple(held.values())


def _tick(event: Event) -> Tick | None:
    """Read a marked event; None if its target or outcome cannot be understood."""
    values = event.payload
    target, site = values.get("target"), values.get("site")
    outcome = outcome_of(values.get("outcome"))
    if not isinstance(target, dict) or outcome is None or outcome is Outcome.WAITING:
        return None
    return Tick(
        event.number,
        event.night,
        event.utc,
        event.subject,
        str(target.get("name", event.subject)),
        outcome,
        str(values.get("note", "")),
        str(values.get("instrument", "")),
        target,
        site if isinstance(site, dict) else None,
        finite(values.get("altitude_deg")),
        finite(values.get("azimuth_deg")),
        str(values.get("eyepiece", "")),
    )
