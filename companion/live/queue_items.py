"""Rows of the evening's queue as the window sees them, and the orders they can be put in."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo
from enum import StrEnum

from companion.advice import AdviceError
from companion.instant import AimFacts, Choices, RowFacts
from companion.journal import (
    Did,
    EveningState,
    Event,
    Mark,
    Outcome,
    QueueEntry,
    from_plain,
    outcome_of,
    outcome_text,
    to_plain,
)
from companion.live.kept_sightings import Pointed
from companion.sky import Kind, Target, clock_text


@dataclass(frozen=True, slots=True)
class QueueItem:
    """One row of the queue."""

    target: Target
    outcome: Outcome
    utc: datetime | None  # of the outcome
    note: str
    marked: int | None = None  # number of the event with the outcome

    @property
    def waiting(self) -> bool:
        """Whether nothing has been said about it yet."""
        return self.outcome is Outcome.WAITING


class SortBy(StrEnum):
    """Orders of the waiting rows; the value is the word shown."""

    TIME_LEFT = "time left"
    ALTITUDE = "altitude"
    TURN = "turn from here"


def items_of(state: EveningState) -> tuple[QueueItem, ...]:
    """Give the rows of an evening; a target nobody can read any more keeps its name."""
    return tuple(
        QueueItem(_target(entry), entry.outcome, entry.utc, entry.note, entry.marked)
        for entry in state.queue
    )


def _target(entry: QueueEntry) -> Target:
    try:
        return from_plain(Target, entry.target)
    except AdviceError:
        return Target(entry.key, entry.name, Kind.OTHER, note="its place was not understood")


def tube_of(items: Sequence[QueueItem], sighted: Pointed | None = None) -> Target | None:
    """Give the target that the tube was brought to last: found, looked for in vain, or sighted.

    None where nobody knows: then no turn can be counted from there.
    """
    looked = [
        (item.utc, item.target)
        for item in items
        if item.outcome in {Outcome.FOUND, Outcome.NOT_SEEN} and item.utc is not None
    ]
    last = max(looked, key=lambda pair: pair[0]) if looked else None
    if sighted is None or (last is not None and last[0] > sighted.utc):
        return None if last is None else last[1]
    return next((item.target for item in items if item.target.key == sighted.key), None)


def next_waiting(items: Sequence[QueueItem], after_key: str | None) -> QueueItem | None:
    """Give the first waiting row after another one, then the first waiting row of all."""
    keys = [item.target.key for item in items]
    start = keys.index(after_key) + 1 if after_key in keys else 0
    ring = [*items[start:], *items[:start]]
    return next((item for item in ring if item.waiting), None)


def sorted_keys(items: Sequence[QueueItem], facts: Mapping[str, RowFacts], by: SortBy) -> list[str]:
    """Give the keys in a new order: rows that are done keep their order and stand first.

    Rows that are of no use now, under the horizon or without a number, come last.
    """
    done = [item.target.key for item in items if not item.waiting]
    waiting = [item.target.key for item in items if item.waiting]
    return [*done, *sorted(waiting, key=lambda key: _rank(facts.get(key), by))]


def _rank(facts: RowFacts | None, by: SortBy) -> tuple[int, float]:
    if facts is None:
        return 2, 0.0
    if by is SortBy.ALTITUDE:
        return 0, -facts.altitude_deg
    down = 1 if facts.altitude_deg < 0.0 else 0
    if by is SortBy.TURN:
        return down, math.inf if facts.turn_deg is None else facts.turn_deg
    if down or facts.time_left_s == 0.0:
        return 1, math.inf if facts.rises_in_s is None else facts.rises_in_s
    return 0, math.inf if facts.time_left_s is None else facts.time_left_s


_DEEDS: Mapping[Did, str] = {
    Did.REMARKED: "note",
    Did.NOTED: "note",
    Did.ORDERED: "the order",
    Did.REMOVED: "taking out",
    Did.SET_ASIDE: "setting aside",
    Did.BROUGHT_BACK: "bringing back",
    Did.LEARNED: "the step",
}


def _queued_words(event: Event) -> str:
    targets = event.payload.get("targets")
    named = (
        [one for one in targets if isinstance(one, Mapping)] if isinstance(targets, list) else []
    )
    return str(named[0].get("name", "")) if len(named) == 1 else f"{len(named)} targets"


def action_text(event: Event | None, items: Sequence[QueueItem]) -> str:
    """Say what an action was: "found: Saturn"; empty where there is none."""
    if event is None:
        return ""
    names = {item.target.key: item.target.name for item in items}
    sighting = event.payload.get("sighting")
    if event.kind == Did.SIGHTED and isinstance(sighting, dict):
        return f"sighting: {sighting.get('name', '')}"
    if event.kind in {Did.QUEUED, Did.CARRIED}:
        return f"queueing {_queued_words(event)}"
    site = event.payload.get("site")
    if event.kind == Did.WENT and isinstance(site, dict):
        return f"place: {site.get('name', '')}"
    outcome = outcome_of(event.payload.get("outcome"))
    word = _DEEDS.get(event.kind, str(event.kind)) if outcome is None else outcome_text(outcome)
    name = names.get(event.subject) or event.subject.partition(":")[2]
    return f"{word}: {name}" if name else word


def mark_of(
    target: Target, outcome: Outcome, note: str, choices: Choices, aim: AimFacts | None
) -> Mark:
    """Make the record of an outcome, with where the target stands now if that is known.

    Where a lead would have it later does not count: the tube points at it now.
    """
    there = None if aim is None or aim.target.key != target.key else aim.now_deg
    return Mark(
        to_plain(target),
        outcome,
        note=note,
        instrument="" if choices.instrument is None else choices.instrument.name,
        eyepiece=choices.eyepiece,
        site=to_plain(choices.site),
        altitude_deg=None if there is None else there[1],
        azimuth_deg=None if there is None else there[0],
    )


def stands_words(item: QueueItem, zone: tzinfo) -> str:
    """Say that a row has this outcome already, so that nothing was written."""
    at = "" if item.utc is None else f" at {clock_text(item.utc.astimezone(zone))}"
    return f"{item.target.name} was marked {outcome_text(item.outcome)}{at} already: it stays so."


def done_words(event: Event, zone: tzinfo) -> str:
    """Say what is on disk now, of what the screen does not show by itself; empty for the rest."""
    at = clock_text(event.utc.astimezone(zone))
    target = event.payload.get("target")
    name = str(target.get("name", "")) if isinstance(target, Mapping) else ""
    if event.kind is Did.REMARKED:
        return f"Note kept with {name}, {at}." if name else f"Kept for the night, {at}."
    if event.kind is Did.SIGHTED:
        sighting = event.payload.get("sighting")
        name = str(sighting.get("name", "")) if isinstance(sighting, Mapping) else ""
        return f"Sighting of {name} kept."
    return ""


def standing_words(entry: QueueEntry, zone: tzinfo) -> str:
    """Say that somebody else has written an outcome meanwhile, which was not replaced."""
    at = "" if entry.utc is None else f" at {clock_text(entry.utc.astimezone(zone))}"
    note = f" ({entry.note})" if entry.note else ""
    return (
        f"{entry.name} was marked {outcome_text(entry.outcome)}{at} by another window{note}. "
        "Nothing was replaced: press the key again to replace it."
    )
