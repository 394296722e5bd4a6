"""Two-line elements and orbit mean-elements messages (CCSDS 502.0-B) of satellites."""

import re
from collections.abc import Iterator, Mapping
from datetime import UTC, datetime, timedelta

from companion.events.elements.fields import clean, maybe, number
from companion.events.elements.record import Elements, Family, NoElementsError

_LENGTH = 69
_JD_1950 = 2433281.5  # 1949 December 31, 0h
_ALPHA = "ABCDEFGHJKLMNPQRSTUVWXYZ"  # first letter of numbers past 99,999: 10 to 33
_FIELDS = {
    "MEAN_MOTION": (0.05, 20.0),
    "ECCENTRICITY": (0.0, 0.999),
    "INCLINATION": (0.0, 180.0),
    "RA_OF_ASC_NODE": (-360.0, 360.0),
    "ARG_OF_PERICENTER": (-360.0, 360.0),
    "MEAN_ANOMALY": (-360.0, 360.0),
    "BSTAR": (-10.0, 10.0),
    "MEAN_MOTION_DOT": (-10.0, 10.0),
    "MEAN_MOTION_DDOT": (-10.0, 10.0),
}
_MAY_LACK = frozenset({"BSTAR", "MEAN_MOTION_DOT", "MEAN_MOTION_DDOT"})
_TAG = re.compile(r"<([A-Z_0-9]{3,24})(?:\s[^<>]{0,80})?>([^<>]{0,80})</\1>")
_PAIR = re.compile(r"\s*([A-Z_0-9]{3,24})\s*=\s*(.{0,80}?)\s*(?:\[[^\]]*\])?\s*\Z")


def checksum(line: str) -> int:
    """Give the sum of the digits of the first 68 columns, a minus counted as one, modulo ten."""
    return sum(int(c) if c.isdigit() else c == "-" for c in line[:68] if c.isascii()) % 10


def of_two_lines(name: str, first: str, second: str) -> Elements:
    """Read two-line elements.

    Raises
    ------
    NoElementsError
        If a line is cut, its checksum fails, the two are of different satellites, or a column
        holds something else.
    """
    for which, line in (("first", first), ("second", second)):
        if len(line) != _LENGTH:
            raise NoElementsError(f"the {which} line has {len(line)} columns, not {_LENGTH}")
        if not line[68].isdigit() or checksum(line) != int(line[68]):
            raise NoElementsError(f"the checksum of the {which} line is not {checksum(line)}")
    if first[2:7] != second[2:7]:
        raise NoElementsError("the two lines are of different satellites")
    year = int(number(first[18:20], "year of the epoch"))
    year += 1900 if year >= 57 else 2000
    start = datetime(year, 1, 1, tzinfo=UTC)
    epoch = start + timedelta(days=number(first[20:32], "day of the epoch") - 1.0)
    return _elements(
        _satellite_number(first[2:7]),
        name,
        epoch,
        {
            "MEAN_MOTION_DOT": number(first[33:43], "change of motion"),
            "MEAN_MOTION_DDOT": _exponent(first[44:52], "second change of motion"),
            "BSTAR": _exponent(first[53:61], "drag"),
            "INCLINATION": number(second[8:16], "inclination"),
            "RA_OF_ASC_NODE": number(second[17:25], "node"),
            "ECCENTRICITY": number("0." + second[26:33].strip(), "eccentricity"),
            "ARG_OF_PERICENTER": number(second[34:42], "argument of perigee"),
            "MEAN_ANOMALY": number(second[43:51], "mean anomaly"),
            "MEAN_MOTION": number(second[52:63], "mean motion"),
        },
    )


def _satellite_number(text: str) -> int:
    head = text[0]
    if head in _ALPHA:
        return (_ALPHA.index(head) + 10) * 10000 + int(number(text[1:], "satellite number"))
    return int(number(text, "satellite number"))


def _exponent(text: str, what: str) -> float:
    """Read " 12345-3", which is 0.12345e-3."""
    found = re.match(r"\s*([-+ ]?)(\d{1,5})([-+ ]\d)\s*\Z", text)
    if not found:
        raise NoElementsError(f"the {what} {text.strip()!r} is not a number")
    return float(f"{found[1].strip()}0.{found[2]}e{found[3].replace(' ', '+')}")


def of_message(fields: Mapping[str, object]) -> Elements:
    """Read the fields of an orbit mean-elements message.

    Raises
    ------
    NoElementsError
        If one is missing or holds something else.
    """
    written = str(fields.get("EPOCH", ""))
    try:
        epoch = datetime.fromisoformat(written[:26].rstrip("Z")).replace(tzinfo=UTC)
    except ValueError:
        raise NoElementsError(f"the epoch {written[:30]!r} is not a date") from None
    numbers = {
        key: maybe(fields.get(key), key) or 0.0
        if key in _MAY_LACK
        else number(fields.get(key), key)
        for key in _FIELDS
    }
    which = int(number(fields.get("NORAD_CAT_ID"), "satellite number"))
    return _elements(which, str(fields.get("OBJECT_NAME", "")), epoch, numbers)


def _elements(which: int, name: str, epoch: datetime, numbers: dict[str, float]) -> Elements:
    for key, value in numbers.items():
        low, high = _FIELDS[key]
        if not low <= value <= high:
            said = key.lower().replace("_", " ")
            raise NoElementsError(f"the {said} {value:g} is outside {low:g} to {high:g}")
    days = (epoch - datetime(1949, 12, 31, tzinfo=UTC)).total_seconds() / 86400.0
    plain = clean(name.removeprefix("0 ")) or f"Satellite {which}"
    return Elements(Family.SATELLITE, str(which), plain, days + _JD_1950, numbers)


def messages_of_xml(text: str) -> Iterator[dict[str, object]]:
    """Give the fields of each message of an XML file, read as plain text: no entities, no links."""
    yield from _grouped((found[1], found[2]) for found in _TAG.finditer(text))


def messages_of_pairs(text: str) -> Iterator[dict[str, object]]:
    """Give the fields of each message of a file of KEY = VALUE lines."""
    matches = (_PAIR.match(line) for line in text.splitlines())
    yield from _grouped((found[1], found[2]) for found in matches if found)


def _grouped(pairs: Iterator[tuple[str, str]]) -> Iterator[dict[str, object]]:
    fields: dict[str, object] = {}
    for key, value in pairs:
        if key in fields and key in {"OBJECT_NAME", "EPOCH"}:
            yield fields
            fields = {}
        fields[key] = value.strip()
    if "EPOCH" in fields:
        yield fields
