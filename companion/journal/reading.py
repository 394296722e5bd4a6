"""Events as they are read from the file, where a stranger or a failing disk may have written."""

import json
import math
from collections.abc import Callable, Mapping
from datetime import datetime
from types import MappingProxyType

from companion.journal.errors import JournalError
from companion.journal.events import Did, Event, Flaw
from companion.journal.outcome import outcome_of
from companion.journal.plain import Plain, read_utc

EventRow = tuple[object, object, object, object, object, object, object]
"""An event as the table holds it, in the order of ``Event``; a stranger may have written it."""

COLUMNS = "number, utc, night, kind, subject, payload, cancels"


class Mended(str):
    """A text of the file in which bytes that are no UTF-8 were replaced."""

    __slots__ = ()


def text_of(data: bytes) -> str:
    """Give a text of the file, as far as it can be read."""
    try:
        return data.decode()
    except UnicodeDecodeError:
        return Mended(data.decode(errors="replace"))


def read_event(row: EventRow) -> tuple[Event | None, Flaw | None]:
    """Read a row; None instead of an event that nobody can understand, with what is wrong."""
    text = row[5]
    try:
        if not isinstance(text, str):
            raise _misfit("it is not text")
        payload, flaw = _payload(text)
        event = event_of(row, payload)
    except JournalError as error:
        return None, _flaw(row, error.wrong.rstrip("."))
    mended = any(isinstance(part, Mended) for part in row)
    why = ("bytes that are not text were replaced" if mended else "") or flaw or _misfits(event)
    return event, _flaw(row, why) if why else None


def event_of(row: EventRow, payload: Plain) -> Event:
    """Make an event of a row and the values that were read out of it.

    Raises
    ------
    JournalError
        If nobody can understand it.
    """
    number, utc, night, kind, subject, _text, cancels = row
    if not (_is_whole(number) and (cancels is None or _is_whole(cancels))):
        raise _misfit("its numbers are none")
    if not all(isinstance(one, str) for one in (night, kind, subject)):
        raise _misfit("it is not text")
    return Event(
        number,  # type: ignore[arg-type]  # looked at above
        _moment(utc),
        str(night),
        _did(kind),
        str(subject),
        payload,
        cancels,  # type: ignore[arg-type]
    )


def _moment(utc: object) -> datetime:
    moment = read_utc(utc, "its moment")
    if not 1 < moment.year < 9999:  # no clock of any site could show it
        raise _misfit(f"its moment is {utc}")
    return moment


def _misfit(what: str) -> JournalError:
    return JournalError(what, "Nothing can be done about it.")


def _flaw(row: EventRow, why: str) -> Flaw:
    number = row[0] if isinstance(row[0], int) else 0
    return Flaw(number, row[2] if isinstance(row[2], str) else "", why)


def _is_whole(value: object) -> bool:
    return isinstance(value, int) and not isinstance(value, bool)


def _did(kind: object) -> Did:
    try:
        return Did(str(kind))
    except ValueError:
        raise _misfit(f"it is of the unknown kind {str(kind)[:40]!r}") from None


def _payload(text: str) -> tuple[Plain, str]:
    """Read the values of an event, and what was wrong with them though they can be used."""
    no_numbers: list[str] = []
    try:
        payload = json.loads(text, parse_constant=no_numbers.append)
        halves = "\\u" in text and _has_halves(payload)
        if halves:
            payload = json.loads(json.dumps(payload, ensure_ascii=False).encode(errors="replace"))
    except (ValueError, RecursionError):
        raise _misfit("its values are not JSON") from None
    if not isinstance(payload, dict):
        raise _misfit("its values are not a JSON object")
    flaw = "it holds a number that is none" if no_numbers else ""
    return MappingProxyType(payload), flaw or ("it holds half a character" if halves else "")


def _has_halves(payload: object) -> bool:
    """Tell whether a text holds half a character: JSON can write it, and UTF-8 cannot."""
    try:
        json.dumps(payload, ensure_ascii=False).encode()
    except UnicodeEncodeError:
        return True
    return False


# What the values of an event must be, kind by kind.


def is_target(value: object) -> bool:
    """Tell whether this is a plain target: a record with a key and a name."""
    return isinstance(value, Mapping) and all(
        isinstance(value.get(name), str) for name in ("key", "name")
    )


def _are_targets(event: Event) -> str:
    targets, place = event.payload.get("targets"), event.payload.get("place")
    if not isinstance(targets, list) or not all(map(is_target, targets)):
        return "not all of its targets can be read"
    return "" if place is None or _is_whole(place) else "its row is not a number"


def _are_keys(event: Event) -> str:
    keys = event.payload.get("keys")
    known = isinstance(keys, list) and all(isinstance(key, str) for key in keys)
    return "" if known else "its order is not a list of keys"


def _is_mark(event: Event) -> str:
    values = event.payload
    if not is_target(values.get("target")):
        return "its target cannot be read"
    if outcome_of(values.get("outcome")) is None:
        return f"its outcome is {str(values.get('outcome'))[:40]!r}"
    if not all(isinstance(values.get(name, ""), str) for name in ("note", "instrument")):
        return "its note or its instrument is not text"
    numbers = (values.get("altitude_deg"), values.get("azimuth_deg"))
    if not all(one is None or finite(one) is not None for one in numbers):
        return "its place in the sky is not a number"
    return "" if isinstance(values.get("site", {}), dict | None) else "its site is not a record"


def _is_note(event: Event) -> str:
    known = isinstance(event.payload.get("note"), str) and _is_whole(event.payload.get("marked"))
    return "" if known else "it is not a note of an outcome"


def _is_remark(event: Event) -> str:
    target, site = event.payload.get("target"), event.payload.get("site")
    if not isinstance(event.payload.get("text"), str):
        return "its note is not text"
    if target is not None and not is_target(target):
        return "its target cannot be read"
    return "" if isinstance(site, dict | None) else "its site is not a record"


def _is_sighting(event: Event) -> str:
    known = isinstance(event.payload.get("sighting"), dict)
    return "" if known and isinstance(event.payload.get("mount"), str) else "it is not a sighting"


def _are_numbers(event: Event) -> str:
    numbers = event.payload.get("numbers")
    known = isinstance(numbers, list) and all(map(_is_whole, numbers))
    return "" if known else "its numbers are not a list of numbers"


def _cancels(event: Event) -> str:
    return "" if event.cancels is not None else "it does not say what it cancels"


def _is_lesson(event: Event) -> str:
    values = event.payload
    texts = all(isinstance(values.get(name), str) for name in ("aim", "subject"))
    known = texts and all(isinstance(values.get(name), bool) for name in ("found", "practice"))
    return "" if known else "it is not a try at a step"


def _is_horizon(event: Event) -> str:
    return "" if isinstance(event.payload.get("horizon"), list) else "it is not a horizon"


_CHECKS: Mapping[Did, Callable[[Event], str]] = {
    Did.QUEUED: _are_targets,
    Did.CARRIED: _are_targets,
    Did.ORDERED: _are_keys,
    Did.MARKED: _is_mark,
    Did.NOTED: _is_note,
    Did.REMARKED: _is_remark,
    Did.TAKEN_BACK: _cancels,
    Did.SIGHTED: _is_sighting,
    Did.SET_ASIDE: _are_numbers,
    Did.BROUGHT_BACK: _are_numbers,
    Did.KEPT: _are_numbers,
    Did.UNDONE: _cancels,
    Did.REDONE: _cancels,
    Did.LEARNED: _is_lesson,
    Did.HORIZON: _is_horizon,
}


def _misfits(event: Event) -> str:
    """Say what is wrong with the values of an event; empty where nothing is."""
    check = _CHECKS.get(event.kind)
    return "" if check is None else check(event)


def finite(value: object) -> float | None:
    """Give a finite number, None for everything else."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    try:
        return float(value) if math.isfinite(value) else None
    except OverflowError:  # a whole number of hundreds of digits
        return None
