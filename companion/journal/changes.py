"""What is to be written into the journal, as plain records that can wait and be kept in a file."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum

from companion.journal.errors import JournalError
from companion.journal.events import encoded, utc_text
from companion.journal.outcome import Outcome
from companion.journal.plain import Plain, from_plain, read_utc, to_plain
from companion.journal.settings import WINDOW_SETTINGS

WHATEVER_STANDS = -1  # events are numbered from 1


class What(StrEnum):
    """Kinds of changes; the value is stored where a change has to wait."""

    QUEUE = "queue"
    REMOVE = "remove"
    ORDER = "order"
    MARK = "mark"
    NOTE = "note"
    SIGHT = "sight"
    SET_ASIDE = "set aside"
    BRING_BACK = "bring back"
    KEEP = "keep"
    GO = "go"  # to another place
    CARRY = "carry"
    UNDO = "undo"
    REDO = "redo"
    LEARN = "learn"
    SET = "set"  # a setting, which belongs to no night


@dataclass(frozen=True, slots=True)
class Mark:
    """What became of a target, with the circumstances.

    ``target`` and ``site`` are plain records; ``altitude_deg`` and ``azimuth_deg`` tell where the
    target stood (refracted altitude, true azimuth), None where nobody computed it. ``eyepiece`` is
    the one that was in, as it is called in the instrument; empty where nobody told.
    """

    target: Plain
    outcome: Outcome
    note: str = ""
    instrument: str = ""
    site: Plain | None = None
    altitude_deg: float | None = None
    azimuth_deg: float | None = None
    eyepiece: str = ""


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that a person did, on its way to the disk.

    ``values`` depend on ``what``; the functions of this module make them.
    """

    what: What
    night: str
    utc: datetime
    values: Plain = field(default_factory=dict)

    @property
    def words(self) -> str:
        """What it is, for the person who did it: "found: Vega"."""
        return _words(self)

    @property
    def by_person(self) -> bool:
        """Whether a person did it, and not the window for its own next start."""
        return self.setting not in WINDOW_SETTINGS

    @property
    def setting(self) -> str:
        """The name of the setting that it keeps; empty for everything else."""
        return str(self.values.get("name", "")) if self.what == What.SET else ""


def queue_change(
    night: str, utc: datetime, targets: Sequence[Plain], place: int | None = None
) -> Change:
    """Add targets at a row of the queue, or at its end."""
    return Change(What.QUEUE, night, utc, {"targets": list(targets), "place": place})


def key_change(what: What, night: str, utc: datetime, key: str, **values: object) -> Change:
    """Change something about the target of that key."""
    return Change(what, night, utc, {"key": key, **values})


def mark_change(
    night: str, utc: datetime, mark: Mark, known: int | None = WHATEVER_STANDS
) -> Change:
    """Write what became of a target.

    ``known`` is the number of the event with the outcome that the person saw there, None for
    none: another one is not replaced. ``WHATEVER_STANDS`` replaces any.
    """
    return Change(What.MARK, night, utc, {"mark": to_plain(mark), "known": known})


def note_change(
    night: str, utc: datetime, text: str, target: Plain | None = None, site: Plain | None = None
) -> Change:
    """Write what was noted at a moment: of a target, ticked or not, or of the night itself."""
    key = "" if target is None else str(target["key"])
    values = {"key": key, "text": text, "target": target, "site": site}
    return Change(What.NOTE, night, utc, values)


def learn_change(
    night: str, utc: datetime, aim: str, subject: str, *, found: bool, practice: bool = False
) -> Change:
    """Write a try at a step of the road: its aim, what was to be found, and whether it was.

    ``practice`` was indoors.
    """
    values = {"aim": aim, "subject": subject, "found": found, "practice": practice}
    return Change(What.LEARN, night, utc, values)


def sight_change(night: str, utc: datetime, mount: str, sighting: Plain) -> Change:
    """Add a sighting of a mount."""
    return Change(What.SIGHT, night, utc, {"mount": mount, "sighting": dict(sighting)})


def sightings_change(night: str, utc: datetime, numbers: Sequence[int], *, aside: bool) -> Change:
    """Leave sightings out of the fit, or use them again."""
    what = What.SET_ASIDE if aside else What.BRING_BACK
    return Change(what, night, utc, {"numbers": list(numbers)})


def keep_change(night: str, utc: datetime, numbers: Sequence[int]) -> Change:
    """Let sightings count whatever is said of them."""
    return Change(What.KEEP, night, utc, {"numbers": list(numbers)})


def go_change(night: str, utc: datetime, site: Plain, before: Plain) -> Change:
    """Tell that a place is left for another, or told otherwise: it can be taken back."""
    return Change(What.GO, night, utc, {"site": dict(site), "before": dict(before)})


def setting_change(utc: datetime, name: str, value: object) -> Change:
    """Keep one setting."""
    return Change(What.SET, "", utc, {"name": name, "value": value})


def mark_of(change: Change) -> Mark:
    """Give the mark that a change writes.

    Raises
    ------
    JournalError
        If it holds none.
    """
    return from_plain(Mark, change.values.get("mark"))


# As a line of a text file, where the journal itself cannot be written.


def change_line(change: Change) -> str:
    """Give a change as one line of JSON."""
    values = {"what": str(change.what), "night": change.night, "utc": utc_text(change.utc)}
    return encoded(values | {"values": dict(change.values)})


def read_change(line: str) -> Change:
    """Read what ``change_line`` wrote.

    Raises
    ------
    JournalError
        If it is no change.
    """
    try:
        plain = json.loads(line)
        what = What(plain["what"])
        night, values = plain["night"], plain["values"]
        utc = read_utc(plain["utc"], "utc")
    except (ValueError, TypeError, KeyError, RecursionError) as error:
        raise _no_change(line) from error
    if not isinstance(night, str) or not isinstance(values, dict):
        raise _no_change(line)
    return Change(what, night, utc, values)


def _no_change(line: str) -> JournalError:
    return JournalError(f"{line[:60]!r} is not an entry.", "Leave it out.", "It was passed over.")


_WORDS: Mapping[What, str] = {
    What.QUEUE: "into the queue",
    What.REMOVE: "out of the queue",
    What.ORDER: "order of the queue",
    What.NOTE: "note",
    What.SIGHT: "sighting",
    What.SET_ASIDE: "sighting set aside",
    What.BRING_BACK: "sighting brought back",
    What.KEEP: "sighting kept",
    What.GO: "place",
    What.CARRY: "queue prepared for tonight",
    What.UNDO: "undo",
    What.REDO: "redo",
    What.LEARN: "step of the road",
    What.SET: "setting",
}


def _words(change: Change) -> str:
    values = change.values
    if change.what == What.MARK:
        mark = mark_of(change)
        note = f" ({mark.note})" if mark.note else ""
        return f"{mark.outcome}: {mark.target.get('name', '')}{note}"
    word = _WORDS[change.what]
    match change.what:
        case What.QUEUE:
            names = [str(one.get("name", "")) for one in _records(values.get("targets"))]
            return f"{word}: {', '.join(names[:3])}{' …' if len(names) > 3 else ''}"
        case What.NOTE:
            return f"{word}: {values.get('text', '')}"
        case What.SET:
            return f"{word}: {str(values.get('name', '')).replace('_', ' ')}"
        case _:
            return word


def _records(value: object) -> list[Plain]:
    return [one for one in value if isinstance(one, Mapping)] if isinstance(value, list) else []
