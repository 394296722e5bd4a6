"""An evening folded from its events."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from companion.journal.events import Did, Event, live_events
from companion.journal.outcome import Outcome
from companion.journal.plain import Plain

_UNDOABLE = frozenset(Did) - {Did.UNDONE, Did.REDONE}


@dataclass(frozen=True, slots=True)
class QueueEntry:
    """One row of the evening's queue. ``target`` is a plain target record with key and name."""

    key: str
    name: str
    target: Plain
    outcome: Outcome = Outcome.WAITING
    utc: datetime | None = None  # of the outcome
    note: str = ""
    instrument: str = ""
    marked: int | None = None  # number of the event that holds the outcome


@dataclass(frozen=True, slots=True)
class SightingEntry:
    """One sighting of the evening. ``sighting`` is a plain record of it."""

    number: int
    mount: str
    sighting: Plain
    set_aside: bool = False


@dataclass(frozen=True, slots=True)
class EveningState:
    """What the events of one night add up to.

    ``undo`` and ``redo`` are the events that the next undo and redo would touch, None where
    there is nothing left; ``redo_deed`` is the deed that a redo would bring back. ``unreadable``
    counts events that could not be understood.
    """

    night: str
    queue: tuple[QueueEntry, ...] = ()
    sightings: tuple[SightingEntry, ...] = ()
    undo: Event | None = None
    redo: Event | None = None
    redo_deed: Event | None = None
    last_number: int = 0
    unreadable: int = 0

    def entry(self, key: str) -> QueueEntry | None:
        """Give the row of a target."""
        return next((entry for entry in self.queue if entry.key == key), None)


def fold(night: str, events: Sequence[Event], unreadable: int = 0) -> EveningState:
    """Add up the events of one night, in the order in which they were written."""
    live = live_events(list(events))
    queue: dict[str, QueueEntry] = {}
    sightings: dict[int, SightingEntry] = {}
    for event in live:
        queue = _fold_queue(queue, event)
        _fold_sighting(sightings, event)
    redo = _redo_of(events, live)
    return EveningState(
        night,
        tuple(queue.values()),
        tuple(sightings.values()),
        undo=next((event for event in reversed(live) if event.kind in _UNDOABLE), None),
        redo=redo,
        redo_deed=_cancelled_by(redo, events),
        last_number=events[-1].number if events else 0,
        unreadable=unreadable,
    )


def _redo_of(events: Sequence[Event], live: Sequence[Event]) -> Event | None:
    """Give the last undoing that nothing new was written after."""
    last_deed = max((event.number for event in events if event.kind in _UNDOABLE), default=0)
    undoings = [event for event in live if event.kind == Did.UNDONE and event.number > last_deed]
    return undoings[-1] if undoings else None


def _cancelled_by(undoing: Event | None, events: Sequence[Event]) -> Event | None:
    if undoing is None:
        return None
    return next((event for event in events if event.number == undoing.cancels), None)


def _fold_queue(queue: dict[str, QueueEntry], event: Event) -> dict[str, QueueEntry]:
    """Give the queue after an event; the order of the dictionary is the order of the rows."""
    match event.kind:
        case Did.QUEUED:
            return _with_queued(queue, event)
        case Did.REMOVED:
            queue.pop(event.subject, None)
        case Did.ORDERED:
            return _in_order(queue, event.payload.get("keys"))
        case Did.MARKED:
            entry = queue.get(event.subject) or _entry(event.payload.get("target"))
            if entry is not None:
                queue[event.subject] = _marked(entry, event)
        case Did.NOTED:
            entry = queue.get(event.subject)
            if entry is not None and entry.marked == event.payload.get("marked"):
                queue[event.subject] = replace(entry, note=_text(event.payload, "note"))
        case _:
            pass
    return queue


def _with_queued(queue: dict[str, QueueEntry], event: Event) -> dict[str, QueueEntry]:
    """Insert targets at a row, or at the end; one that is still waiting stays where it is."""
    targets = event.payload.get("targets")
    fresh = {
        entry.key: entry
        for entry in map(_entry, targets if isinstance(targets, list) else ())
        if entry is not None
    }
    place = event.payload.get("place")
    at_end = not isinstance(place, int)
    for key in list(fresh):
        old = queue.get(key)
        if old is not None and at_end and old.outcome == Outcome.WAITING:
            del fresh[key]
        else:
            queue.pop(key, None)
    rows = list(queue.values())
    at = len(rows) if not isinstance(place, int) else max(0, place)
    rows[at:at] = fresh.values()
    return {entry.key: entry for entry in rows}


def _in_order(queue: dict[str, QueueEntry], keys: object) -> dict[str, QueueEntry]:
    """Put the named rows first, in that order; rows that another window added follow."""
    named = [key for key in keys if key in queue] if isinstance(keys, list) else []
    rest = [key for key in queue if key not in set(named)]
    return {key: queue[key] for key in [*named, *rest]}


def _marked(entry: QueueEntry, event: Event) -> QueueEntry:
    outcome = _text(event.payload, "outcome")
    if outcome not in {str(word) for word in Outcome}:
        return entry
    return replace(
        entry,
        outcome=Outcome(outcome),
        utc=event.utc,
        note=_text(event.payload, "note"),
        instrument=_text(event.payload, "instrument"),
        marked=event.number,
    )


def _entry(target: object) -> QueueEntry | None:
    """Make a waiting row of a plain target; None if it has no key."""
    if not isinstance(target, dict) or not isinstance(target.get("key"), str):
        return None
    return QueueEntry(target["key"], str(target.get("name", target["key"])), target)


def _fold_sighting(sightings: dict[int, SightingEntry], event: Event) -> None:
    sighting = event.payload.get("sighting")
    if event.kind == Did.SIGHTED and isinstance(sighting, dict):
        mount = _text(event.payload, "mount")
        sightings[event.number] = SightingEntry(event.number, mount, sighting)
    elif event.kind in {Did.SET_ASIDE, Did.BROUGHT_BACK}:
        for number in _numbers(event.payload.get("numbers")):
            if number in sightings:
                aside = event.kind == Did.SET_ASIDE
                sightings[number] = replace(sightings[number], set_aside=aside)


def _numbers(value: object) -> Iterable[int]:
    return [item for item in value if isinstance(item, int)] if isinstance(value, list) else []


def _text(payload: Plain, name: str) -> str:
    value = payload.get(name, "")
    return value if isinstance(value, str) else ""
