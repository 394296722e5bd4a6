"""What people type for a place: any usual notation, ISO 6709 too."""

import re
import unicodedata
from dataclasses import dataclass

from companion.advice import AdviceError

LONGEST_TEXT = 200
_SIGNS = str.maketrans({"−": "-", "–": "-", "—": "-", "º": "°", "˚": "°", ",": "."})
_MARKS = re.compile(r"[°'′’\"″”:hdms]+|deg(?:rees?)?|min(?:utes?)?|sec(?:onds?)?")
_NUMBER = re.compile(r"\d+(?:\.\d+)?")
_ISO = re.compile(
    r"(?P<lat>[+-]\d{2}(?:\d{2}){0,2}(?:\.\d+)?)(?P<lon>[+-]\d{3}(?:\d{2}){0,2}(?:\.\d+)?)"
    r"(?P<height>[+-]\d+(?:\.\d+)?)?(?:CRS[\w:]*)?/?\Z"
)


@dataclass(frozen=True, slots=True)
class _Axis:
    """What distinguishes latitude from longitude."""

    what: str
    positive: str
    negative: str
    limit_deg: float
    example: str


_LATITUDE = _Axis("latitude", "N", "S", 90.0, "45.2, 45.2N, 45°12′N or -32.4")
_LONGITUDE = _Axis("longitude", "EO", "W", 180.0, "-62.3, 62.3W, 62°18′W or 20.8")


def parse_latitude(text: str) -> float:
    """Read a latitude in degrees, north positive.

    Raises
    ------
    AdviceError
        If it is none, lies outside -90° to 90°, or its sign and its letter contradict each other.
    """
    return _parse(text, _LATITUDE)


def parse_longitude(text: str) -> float:
    """Read a longitude in degrees, east positive, from -180° to 180°; 180 to 360 counts east.

    Raises
    ------
    AdviceError
        If it is none, lies outside -180° to 360°, or its sign and letter contradict each other.
    """
    return _parse(text, _LONGITUDE)


def parse_place(text: str) -> tuple[float, float, float | None]:
    """Read latitude, longitude and, where given, height in metres from one line.

    ISO 6709 (``+45.20-062.30+120/``) or both in any notation, the latitude first or each with
    its letter, parted by a comma, a semicolon or blanks.

    Raises
    ------
    AdviceError
        If the text is no place.
    """
    plain = _plain(text.replace(",", " , ") if re.search(r",\s", text) else text)
    iso = _ISO.fullmatch(re.sub(r"\s", "", plain))
    if iso:
        height = None if iso["height"] is None else float(iso["height"])
        return _iso(iso["lat"], 2, _LATITUDE), _iso(iso["lon"], 3, _LONGITUDE), height
    first, second = _halves(text)
    if re.search(r"[EWO]\s*\Z", first, re.IGNORECASE) and "N" not in first.upper():
        first, second = second, first
    return parse_latitude(first), parse_longitude(second), None


def _halves(text: str) -> tuple[str, str]:
    """Part a line into latitude and longitude."""
    line = unicodedata.normalize("NFKC", text[:LONGEST_TEXT]).strip()
    for pattern in (r"\s*;\s*", r"\s*,\s+|\s+,\s*", r"(?<=[NSEWOnsewo])[\s,]+(?=[-+\d])", r",|\s+"):
        parts = [part for part in re.split(pattern, line) if part]
        if len(parts) == 2:
            return parts[0], parts[1]
    raise AdviceError(
        f"{_shown(text)} is not a place.",
        'Give latitude and longitude, for instance "45.2N 62.3W" or "+45.20-062.30/".',
        "The place before is kept.",
    )


def _plain(text: str) -> str:
    return unicodedata.normalize("NFKC", text[:LONGEST_TEXT]).translate(_SIGNS).strip().upper()


def _shown(text: str) -> str:
    line = " ".join(text[:60].split())
    return f'"{line}{"…" if len(text) > 60 else ""}"'


def _iso(digits: str, degrees: int, axis: _Axis) -> float:
    """Read ±DD.D, ±DDMM.M or ±DDMMSS.S (degrees with two or three figures)."""
    sign = -1.0 if digits[0] == "-" else 1.0
    whole, _point, fraction = digits[1:].partition(".")
    groups = [whole[:degrees]] + [whole[i : i + 2] for i in range(degrees, len(whole), 2)]
    groups[-1] += f".{fraction}" if fraction else ""
    return _checked(sign * _sexagesimal([float(group) for group in groups], axis), axis, digits)


def _parse(text: str, axis: _Axis) -> float:
    line = _plain(text)
    letter = "".join(re.findall(rf"[{axis.positive}{axis.negative}]", _letters(line)))
    body = re.sub(rf"[{axis.positive}{axis.negative}]", " ", _letters(line)).strip()
    signs = re.findall(r"[+-]", body)
    unsigned = body.lstrip("+-").strip()
    left = _MARKS.sub(" ", unsigned.lower())
    numbers = left.split()
    if (
        len(text) > LONGEST_TEXT
        or len(letter) > 1
        or len(signs) > 1
        or (signs and body[0] not in "+-")
        or not 1 <= len(numbers) <= 3
        or not all(_NUMBER.fullmatch(number) for number in numbers)
    ):
        raise _no_number(text, axis)
    south = letter in set(axis.negative)
    if signs == ["-"] and letter:
        raise AdviceError(
            f"The {axis.what} {_shown(text)} has a minus sign and the letter {letter}.",
            f"Give one of them: {unsigned}{letter} or {'-' if south else ''}{unsigned.strip()}.",
            f"The {axis.what} before is kept.",
        )
    value = _sexagesimal([float(number) for number in numbers], axis)
    return _checked(-value if south or signs == ["-"] else value, axis, text)


def _letters(line: str) -> str:
    """Write compass words as letters, and marks of minutes and seconds out of their way."""
    line = re.sub(r"(\d\s*M\s*[\d.]+)\s*S", r"\1 ", line)  # the s of seconds is not south
    for word, letter in (("NORTH", "N"), ("SOUTH", "S"), ("EAST", "E"), ("WEST", "W")):
        line = line.replace(word, letter)
    return re.sub(r"DEG(REES?)?|MIN(UTES?)?|SEC(ONDS?)?", " ", line)


def _sexagesimal(numbers: list[float], axis: _Axis) -> float:
    """Add degrees, minutes and seconds up; only the last may have decimals."""
    if any(number % 1 for number in numbers[:-1]) or any(number >= 60 for number in numbers[1:]):
        raise AdviceError(
            f"The {axis.what} has minutes or seconds of 60 or more, or decimals before the end.",
            f"Give the {axis.what} as {axis.example}.",
            f"The {axis.what} before is kept.",
        )
    return sum(number / 60.0**power for power, number in enumerate(numbers))


def _checked(value_deg: float, axis: _Axis, text: str) -> float:
    if axis is _LONGITUDE and 180.0 < value_deg <= 360.0:
        value_deg -= 360.0
    if not -axis.limit_deg <= value_deg <= axis.limit_deg:
        raise AdviceError(
            f"The {axis.what} {_shown(text)} is outside "
            f"-{axis.limit_deg:.0f}° to {axis.limit_deg:.0f}°.",
            f"Give the {axis.what} as {axis.example}.",
            f"The {axis.what} before is kept.",
        )
    return value_deg


def _no_number(text: str, axis: _Axis) -> AdviceError:
    return AdviceError(
        f"{_shown(text)} is not a valid {axis.what}.",
        f"Give the {axis.what} as {axis.example}.",
        f"The {axis.what} before is kept.",
    )
