"""An evening folded from its events."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from companion.journal.events import LONGEST_TEXT, Did, Event, Flaw, live_events
from companion.journal.outcome import Outcome, outcome_of
from companion.journal.plain import Plain

_UNDOABLE = frozenset(Did) - {Did.UNDONE, Did.REDONE, Did.HORIZON}


@dataclass(frozen=True, slots=True)
class QueueEntry:
    """One row of the evening's queue. ``target`` is a plain target record with key and name."""

    key: str
    name: str
    target: Plain
    outcome: Outcome = Outcome.WAITING
    utc: datetime | None = None  # of the outcome
    mark_note: str = ""  # written with the outcome
    instrument: str = ""
    marked: int | None = None  # number of the event that holds the outcome
    touched_utc: datetime | None = None  # when it was queued, or put into an order, last
    remarks: tuple[str, ...] = ()  # noted this evening, ticked or not

    @property
    def note(self) -> str:
        """All that was noted about it this evening, a line each."""
        return "\n".join(filter(None, (self.mark_note, *self.remarks)))


@dataclass(frozen=True, slots=True)
class SightingEntry:
    """One sighting of the evening. ``sighting`` is a plain record of it."""

    number: int
    mount: str
    sighting: Plain
    set_aside: bool = False
    kept: bool = False  # it counts, whatever is said of it


@dataclass(frozen=True, slots=True)
class RemarkEntry:
    """What was noted at a moment, about a target or, without a key, about the night itself."""

    number: int
    utc: datetime
    key: str
    name: str
    text: str


@dataclass(frozen=True, slots=True)
class EveningState:
    """What the events of one night add up to.

    ``undo`` and ``redo`` are the events that the next undo and redo would touch, None where
    there is nothing left. ``carried`` tells whether what was prepared for this night has been
    brought over already; ``flaws`` are the events that could not be read, or not wholly.
    """

    night: str
    queue: tuple[QueueEntry, ...] = ()
    sightings: tuple[SightingEntry, ...] = ()
    remarks: tuple[RemarkEntry, ...] = ()
    undo: Event | None = None
    redo: Event | None = None
    last_number: int = 0
    carried: bool = False
    flaws: tuple[Flaw, ...] = ()

    def entry(self, key: str) -> QueueEntry | None:
        """Give the row of a target."""
        return next((entry for entry in self.queue if entry.key == key), None)

    def prepared(self, since_utc: datetime) -> tuple[QueueEntry, ...]:
        """Give the waiting rows that were queued, or put into an order, from a moment on."""
        return tuple(
            entry
            for entry in self.queue
            if entry.outcome == Outcome.WAITING
            and entry.touched_utc is not None
            and entry.touched_utc >= since_utc
        )


def fold(night: str, events: Sequence[Event], flaws: Sequence[Flaw] = ()) -> EveningState:
    """Add up the events of one night, in the order in which they were written."""
    live = live_events(list(events))
    queue: dict[str, QueueEntry] = {}
    sightings: dict[int, SightingEntry] = {}
    for event in live:
        queue = _fold_queue(queue, event)
        _fold_sighting(sightings, event)
    redo = _redo_of(events, live)
    remarks = tuple(remark_of(event) for event in live if event.kind == Did.REMARKED)
    return EveningState(
        night,
        tuple(_with_remarks(entry, remarks) for entry in queue.values()),
        tuple(sightings.values()),
        remarks,
        undo=next((event for event in reversed(live) if event.kind in _UNDOABLE), None),
        redo=redo,
        last_number=events[-1].number if events else 0,
        carried=any(event.kind == Did.CARRIED for event in events),
        flaws=tuple(flaws),
    )


def remark_of(event: Event) -> RemarkEntry:
    """Read what was noted."""
    target = event.payload.get("target")
    name = str(target.get("name", event.subject)) if isinstance(target, Mapping) else ""
    return RemarkEntry(
        event.number,
        event.utc,
        event.subject,
        name or event.subject,
        _text(event.payload, "text"),
    )


def _with_remarks(entry: QueueEntry, remarks: Sequence[RemarkEntry]) -> QueueEntry:
    texts = tuple(remark.text for remark in remarks if remark.key == entry.key)
    return replace(entry, remarks=texts) if texts else entry


def _redo_of(events: Sequence[Event], live: Sequence[Event]) -> Event | None:
    """Give the last undoing that nothing new was written after."""
    last_action = max((event.number for event in events if event.kind in _UNDOABLE), default=0)
    undoings = [event for event in live if event.kind == Did.UNDONE and event.number > last_action]
    return undoings[-1] if undoings else None


def _fold_queue(queue: dict[str, QueueEntry], event: Event) -> dict[str, QueueEntry]:
    """Give the queue after an event; the order of the dictionary is the order of the rows."""
    match event.kind:
        case Did.QUEUED:
            return _with_queued(queue, event)
        case Did.CARRIED:
            return queue | {key: entry for key, entry in _fresh(event).items() if key not in queue}
        case Did.REMOVED:
            queue.pop(event.subject, None)
        case Did.ORDERED:
            return _in_order(queue, event)
        case Did.MARKED:
            entry = queue.get(event.subject) or _entry(event.payload.get("target"))
            if entry is not None:
                queue[event.subject] = _marked(entry, event)
        case Did.NOTED:
            entry = queue.get(event.subject)
            if entry is not None and entry.marked == event.payload.get("marked"):
                queue[event.subject] = replace(entry, mark_note=_text(event.payload, "note"))
        case _:
            pass
    return queue


def _fresh(event: Event) -> dict[str, QueueEntry]:
    """Make waiting rows of the targets of an event; what is no target is passed over."""
    targets = event.payload.get("targets")
    made = (_entry(target, event.utc) for target in (targets if isinstance(targets, list) else ()))
    return {entry.key: entry for entry in made if entry is not None}


def _with_queued(queue: dict[str, QueueEntry], event: Event) -> dict[str, QueueEntry]:
    """Insert targets at a row, or at the end; one that is still waiting stays where it is."""
    fresh = _fresh(event)
    place = event.payload.get("place")
    at_end = not isinstance(place, int)
    for key in list(fresh):
        old = queue.get(key)
        if old is not None and at_end and old.outcome == Outcome.WAITING:
            queue[key] = replace(old, touched_utc=event.utc)
            del fresh[key]
        else:
            queue.pop(key, None)
    rows = list(queue.values())
    at = len(rows) if not isinstance(place, int) else max(0, place)
    rows[at:at] = fresh.values()
    return {entry.key: entry for entry in rows}


def _in_order(queue: dict[str, QueueEntry], event: Event) -> dict[str, QueueEntry]:
    """Put the named rows first, in that order; rows that another window added follow."""
    keys = event.payload.get("keys")
    named = [key for key in (keys if isinstance(keys, list) else ()) if isinstance(key, str)]
    first = {key: replace(queue[key], touched_utc=event.utc) for key in named if key in queue}
    return first | {key: entry for key, entry in queue.items() if key not in first}


def _marked(entry: QueueEntry, event: Event) -> QueueEntry:
    outcome = outcome_of(event.payload.get("outcome"))
    if outcome is None:
        return entry
    return replace(
        entry,
        outcome=outcome,
        utc=event.utc,
        mark_note=_text(event.payload, "note"),
        instrument=_text(event.payload, "instrument"),
        marked=event.number,
    )


def _entry(target: object, queued_utc: datetime | None = None) -> QueueEntry | None:
    """Make a waiting row of a plain target; None if it has no key."""
    if not isinstance(target, dict) or not isinstance(target.get("key"), str):
        return None
    name = str(target.get("name", target["key"]))[:LONGEST_TEXT]
    return QueueEntry(target["key"], name, target, touched_utc=queued_utc)


def _fold_sighting(sightings: dict[int, SightingEntry], event: Event) -> None:
    sighting = event.payload.get("sighting")
    if event.kind == Did.SIGHTED and isinstance(sighting, dict):
        mount = _text(event.payload, "mount")
        sightings[event.number] = SightingEntry(event.number, mount, sighting)
    elif event.kind in {Did.SET_ASIDE, Did.BROUGHT_BACK, Did.KEPT}:
        aside, kept = event.kind == Did.SET_ASIDE, event.kind == Did.KEPT
        for number in _numbers(event.payload.get("numbers")):
            if number in sightings:
                sightings[number] = replace(sightings[number], set_aside=aside, kept=kept)


def _numbers(value: object) -> Iterable[int]:
    return [item for item in value if isinstance(item, int)] if isinstance(value, list) else []


def _text(payload: Plain, name: str) -> str:
    value = payload.get(name, "")
    return value if isinstance(value, str) else ""
