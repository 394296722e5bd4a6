"""Sightings as they are read out of the journal, and where the last of them left the tube."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from companion.advice import AdviceError
from companion.journal import SightingEntry, from_plain
from companion.mount import Sighting


@dataclass(frozen=True, slots=True)
class Pointed:
    """What a sighting brought the tube to; no key where nobody knows the target."""

    utc: datetime
    key: str


def read_sighting(entry: SightingEntry) -> Sighting | None:
    """Give a kept sighting; None if nobody can read it any more."""
    try:
        sighting = from_plain(Sighting, entry.sighting)
    except AdviceError:
        return None
    return replace(sighting, number=entry.number, set_aside=entry.set_aside, kept=entry.kept)


def pointed_by(entries: Sequence[SightingEntry]) -> Pointed | None:
    """Give what the last sighting brought the tube to.

    One that was set aside, a compass or a level moved the tube as well, but nobody knows whereto.
    The sighting of the star that it really was stands beside it, of the same moment.
    """
    read = (read_sighting(entry) for entry in entries)
    made = [(one.utc, "" if one.set_aside else one.target_key) for one in read if one is not None]
    return Pointed(*max(made)) if made else None
