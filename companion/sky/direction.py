"""What people type for a position in the sky: right ascension and declination, ICRS."""

import re
import unicodedata

from companion.advice import AdviceError

LONGEST_TEXT = 80
_SIGNS = str.maketrans(
    {"−": "-", "–": "-", "—": "-", "º": "°", "˚": "°", "’": "'", "′": "'", "″": '"', "”": '"'}
)
_WORDS = re.compile(r"\b(?:r\.?a\.?|dec(?:l|lination)?\.?|right ascension|j2000(?:\.0)?|icrs)[=:]?")
_DEGREES = r"degrees?|deg|d|°"
_PART = re.compile(
    rf"(?P<sign>[+-]?)\s*(?P<first>\d{{1,3}}(?:\.\d{{0,12}})?)\s*(?P<unit>h|{_DEGREES}|:)?\s*"
    r"(?:(?P<minutes>\d{1,2}(?:\.\d{0,12})?)\s*(?:m|'|:)?\s*"
    r"(?:(?P<seconds>\d{1,2}(?:\.\d{0,12})?)\s*(?:s|\"|'')?)?)?"
    rf"\s*(?P<end>{_DEGREES})?\Z"
)
_EXAMPLE = 'Give it like "05 35.3 -05 23", "5h35m17s -5d23m" or "83.82 -5.39 deg".'


def parse_direction(text: str) -> tuple[float, float] | None:
    """Read right ascension and declination in degrees; None where the text is something else.

    Right ascension counts in hours where it has minutes or an ``h``, in degrees where it is one
    number or says so. Without a sign, a comma or units only pairs of equal length are understood
    (``05 35.3 05 23``).

    Raises
    ------
    AdviceError
        If the text is a position, but not one in the sky.
    """
    line = unicodedata.normalize("NFC", text[:LONGEST_TEXT]).translate(_SIGNS).lower()
    halves = _halves(" ".join(_WORDS.sub(" ", line).split()))
    if halves is None:
        return None
    first, second = (_PART.match(half.strip()) for half in halves)
    if not first or not second or first["sign"] or second["unit"] == "h":
        return None
    in_hours = first["unit"] == "h" or (
        first["minutes"] is not None and first["unit"] in {None, ":"} and not first["end"]
    )
    ra, dec = _value(first), _value(second)
    if ra is None or dec is None or ra >= (24.0 if in_hours else 360.0) or dec > 90.0:
        raise AdviceError(
            f'"{" ".join(text[:40].split())}" is not in the sky: right ascension runs from 0h to '
            "24h (0° to 360°), declination from −90° to 90°, minutes and seconds stay below 60.",
            _EXAMPLE,
        )
    return ra * (15.0 if in_hours else 1.0), -dec if second["sign"] == "-" else dec


def _halves(line: str) -> tuple[str, str] | None:
    """Part a line into right ascension and declination."""
    if not line or not line[0].isdigit():
        return None
    # A comma between figures is a decimal comma, unless points are decimal here already.
    line = line if "." in line else re.sub(r"(?<=\d),(?=\d)", ".", line)
    at = max(line.rfind("+"), line.rfind("-"))
    if at > 0:
        return line[:at].rstrip(" ,;"), line[at:]
    for mark in (";", ",", "s ", "m ", "h ", "deg ", "° ", "d "):
        if line.count(mark) == 1 and line.partition(mark)[2].strip():
            head, found, tail = line.partition(mark)
            return head + found.strip(" ,;"), tail
    words = line.split()
    middle = len(words) // 2
    if len(words) in {4, 6} or (len(words) == 3 and words[2].startswith("deg")):
        return " ".join(words[: middle or 1]), " ".join(words[middle:])
    return None


def _value(part: re.Match[str]) -> float | None:
    """Add a part up; None where minutes or seconds are impossible."""
    numbers = [float(part[name]) for name in ("first", "minutes", "seconds") if part[name]]
    whole = all(number.is_integer() for number in numbers[:-1])
    if not whole or any(number >= 60.0 for number in numbers[1:]):
        return None
    return sum(number / 60.0**power for power, number in enumerate(numbers))
