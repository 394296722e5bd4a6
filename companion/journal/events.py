"""What happened, one record an event. Events are written once and never changed."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from enum import StrEnum

from companion.journal.errors import JournalError
from companion.journal.plain import Plain

LONGEST_TEXT = 10_000  # characters of a note or a name; an evening's note is a few lines


class Did(StrEnum):
    """Kinds of events; the value is stored."""

    QUEUED = "queued"  # {"targets": [...], "place": row or null}
    REMOVED = "removed"
    ORDERED = "ordered"  # {"keys": [...]}
    MARKED = "marked"  # the fields of Mark; "horizon" is the number of the event that holds it
    NOTED = "noted"  # {"note": text, "marked": number of the event}, as it was written once
    REMARKED = "remarked"  # {"text", "target": {...} or null, "site": {...} or null}
    TAKEN_BACK = "taken back"  # cancels the outcome of a target
    SIGHTED = "sighted"  # {"mount": name, "sighting": {...}}
    SET_ASIDE = "set aside"  # {"numbers": [...]}
    BROUGHT_BACK = "brought back"  # {"numbers": [...]}
    WENT = "went"  # {"site": {...}, "before": {...}, "same_horizon": left out of both, or not}
    KEPT = "kept"  # {"numbers": [...]}: sightings that count whatever is said of them
    UNDONE = "undone"  # cancels an event
    REDONE = "redone"  # cancels an undoing
    CARRIED = "carried over"  # {"targets": [...], "night": the one before}
    LEARNED = "learned"  # {"aim", "subject", "found", "practice"}: a try at a step of the road
    HORIZON = "horizon"  # {"horizon": [...]}: of a site, which many marks refer to


@dataclass(frozen=True, slots=True)
class Event:
    """One thing that happened.

    ``subject`` is the key of the target it is about, or empty. ``cancels`` is the number of the
    earlier event that no longer holds because of this one.
    """

    number: int
    utc: datetime
    night: str
    kind: Did
    subject: str
    payload: Plain
    cancels: int | None = None


@dataclass(frozen=True, slots=True)
class Flaw:
    """An event that could not be read, or not wholly, and why."""

    number: int
    night: str
    why: str

    def __str__(self) -> str:
        return f"Entry {self.number} of the night {self.night}: {self.why}."


def encoded(payload: Mapping[str, object]) -> str:
    """Give a payload as the text that is stored.

    Raises
    ------
    TypeError, ValueError
        If it holds what JSON cannot, which is a bug of the caller.
    """
    return json.dumps(payload, ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def utc_text(utc: datetime) -> str:
    """Give a moment as stored: ISO 8601 in UTC, which also sorts as text.

    Raises
    ------
    ValueError
        If the moment has no time zone, which is a bug of the caller.
    """
    if utc.tzinfo is None:
        raise ValueError("a moment without a time zone")
    return utc.astimezone(UTC).isoformat(timespec="microseconds")


def clean_text(what: str, text: str) -> str:
    """Give a text that UTF-8 can hold, without null characters.

    Raises
    ------
    JournalError
        If it is longer than ``LONGEST_TEXT``.
    """
    if len(text) > LONGEST_TEXT:
        raise JournalError(
            f"The {what} has {len(text):,} characters; at most {LONGEST_TEXT:,} are kept.",
            f"Shorten the {what}.",
            "Nothing was changed.",
        )
    # A word from a terminal of another encoding may hold lone surrogates.
    return text.replace("\0", "").encode("utf-8", "replace").decode("utf-8")


def live_events(events: list[Event]) -> list[Event]:
    """Leave out what a later event cancelled, and undoings that were themselves undone.

    An event can only cancel an earlier one, so one pass from the end settles all of them.
    """
    cancelled: set[int] = set()
    live: list[Event] = []
    for event in reversed(events):
        if event.number in cancelled:
            continue
        if event.cancels is not None:
            cancelled.add(event.cancels)
        live.append(event)
    live.reverse()
    return live
