"""One scale of a mount: its reading for an angle, the angle for a reading, and both as text.

Angles are what the scale stands for, in degrees: turn from north through east, or height above
the horizon. Knows neither numpy nor the ephemeris, so that a panel can use it at once.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from companion.advice import AdviceError
from companion.mount.records import CountedFrom, Dial
from companion.sky import altitude_text

LONGEST_TEXT = 60
_FULL_TURN_DEG = 360.0
_SLACK_DEG = 1e-9  # rounding of readings that stand exactly on the end of a scale
_FRACTIONS = {
    "¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅓": " 1/3", "⅔": " 2/3",
    "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8",
}  # fmt: skip
_PLAIN = str.maketrans(
    {"−": "-", "–": "-", "—": "-", ",": ".", "º": "°", "˚": "°", "’": "′", "'": "′", '"': "″"}
    | {"”": "″", "⁄": "/"}
)
_WHOLE = re.compile(
    r"(?P<sign>[-+]?)\s*(?P<whole>\d{1,4}(?:\.\d{0,18})?|\.\d{1,18})?\s*°?"
    r"(?:(?:(?<=[\s°])|^)\s*(?P<top>\d{1,2})\s*/\s*(?P<bottom>\d{1,2}))?\s*°?"
)
_MINUTES = re.compile(
    r"(?P<sign>[-+]?)\s*(?P<whole>\d{1,4})\s*[°:\s]\s*(?P<minutes>\d{1,2}(?:\.\d{0,18})?)\s*[′:]?"
    r"(?:\s*(?P<seconds>\d{1,2}(?:\.\d{0,18})?)\s*″?)?"
)


@dataclass(frozen=True, slots=True)
class Shown:
    """A reading as the dial can show it.

    ``remainder`` says in words what lies between the marks: "a hair over" means that the pointer
    stands a little beyond the mark, where readings grow. It is empty on the mark and for a dial
    with digits, which shows nothing between them.
    """

    reading_deg: float
    text: str
    remainder: str


def scale_of(dial: Dial) -> tuple[float, float]:
    """Give offset (degrees) and slope (1 or -1) of ``reading = offset + slope · angle``."""
    slope = 1.0 if dial.clockwise else -1.0
    if dial.counted_from is CountedFrom.ZENITH:
        return dial.zero_deg + 90.0 * slope, -slope
    return dial.zero_deg, slope


def reading_of(dial: Dial, angle_deg: float) -> float:
    """Give the reading for an angle, brought by whole turns into the dial's range.

    Where no whole turn brings it in, the reading nearest to the range is given: ``is_on_dial``
    tells.
    """
    offset, slope = scale_of(dial)
    return _into_range(dial, offset + slope * angle_deg)


def readings_of(dial: Dial, angles_deg: Sequence[float]) -> list[float]:
    """Give the readings for many angles; see ``reading_of``."""
    offset, slope = scale_of(dial)
    low, high = dial.low_deg, dial.high_deg
    plain = [offset + slope * angle for angle in angles_deg]
    return [one if low <= one < high else _into_range(dial, one) for one in plain]


def angle_of(dial: Dial, reading_deg: float) -> float:
    """Give the angle, from -180° up to 180°, that a reading stands for."""
    offset, slope = scale_of(dial)
    return ((reading_deg - offset) * slope + 180.0) % _FULL_TURN_DEG - 180.0


def is_on_dial(dial: Dial, reading_deg: float) -> bool:
    """Tell whether the dial has this reading."""
    return dial.low_deg - _SLACK_DEG <= reading_deg <= dial.high_deg + _SLACK_DEG


def shown_step_deg(dial: Dial) -> float:
    """Give the finest step that can be set: a digit, or half the gap between two marks.

    The middle between two marks is easily judged by eye (common practice, no source).
    """
    return dial.step_deg if dial.digital else dial.step_deg / 2.0


def shown(dial: Dial, reading_deg: float) -> Shown:
    """Round a reading to what the dial can show, and say what remains."""
    step_deg = shown_step_deg(dial)
    rounded = round(reading_deg / step_deg) * step_deg
    on_dial = _into_range(dial, rounded) if is_on_dial(dial, reading_deg) else rounded
    remainder = "" if dial.digital else _remainder((reading_deg - rounded) / step_deg)
    return Shown(on_dial, altitude_text(on_dial, step_deg), remainder)


def parse_reading(dial: Dial, text: str, what: str = "azimuth") -> float:
    """Read what a person typed: 142½, 142 1/2, 142.5, 142,5 or 142°30′.

    Parameters
    ----------
    dial : Dial
        The scale that was read.
    text : str
        What was typed.
    what : str
        "azimuth" or "altitude", for the error.

    Raises
    ------
    AdviceError
        If it is no number, or the dial has no such reading.
    """
    value = _number(text)
    if value is None:
        line = " ".join(text[:LONGEST_TEXT].split())
        raise AdviceError(
            f'"{line}" is not a valid {what} reading.',
            "Type what the dial shows, for instance 142½, 142 1/2, 142.5 or 142°30′.",
            "The reading before is kept.",
        )
    return checked_reading(dial, value, what)


def checked_reading(dial: Dial, reading_deg: float, what: str = "azimuth") -> float:
    """Give the reading back if the dial has it, the end of a full circle as its beginning.

    Raises
    ------
    AdviceError
        If it lies outside the dial's range, not-a-number included.
    """
    if not is_on_dial(dial, reading_deg):
        raise AdviceError(
            f"The {what} reading {reading_deg:g}° is not on this dial, which goes from "
            f"{dial.low_deg:g}° to {dial.high_deg:g}°.",
            f"Read the {what} dial again, or correct its range in the mount.",
            "The reading before is kept.",
        )
    return _into_range(dial, reading_deg)


def _into_range(dial: Dial, reading_deg: float) -> float:
    """Bring a reading by whole turns into the range, or as near to it as they can."""
    if dial.low_deg <= reading_deg < dial.high_deg:
        return reading_deg
    inside = dial.low_deg + (reading_deg - dial.low_deg) % _FULL_TURN_DEG
    over = inside - dial.high_deg
    if over <= 0.0:
        return dial.low_deg if inside - dial.low_deg >= _FULL_TURN_DEG else inside
    under = dial.low_deg - (inside - _FULL_TURN_DEG)
    return inside - _FULL_TURN_DEG if under < over else inside


def _remainder(steps: float) -> str:
    """Say how far beyond the mark, in shares of the finest step that can be set."""
    if abs(steps) < 0.125:
        return ""
    return f"{'a hair' if abs(steps) < 0.375 else 'a little'} {'over' if steps > 0 else 'under'}"


def _number(text: str) -> float | None:
    """Give the number that a text stands for, None if it is none."""
    if len(text) > LONGEST_TEXT or not text.isprintable():
        return None
    line = text
    for glyph, fraction in _FRACTIONS.items():
        line = line.replace(glyph, fraction)
    line = line.translate(_PLAIN).strip()
    return _whole_and_fraction(line) if "/" in line or _WHOLE.fullmatch(line) else _minutes(line)


def _whole_and_fraction(line: str) -> float | None:
    found = _WHOLE.fullmatch(line)
    if found is None or (found["whole"] is None and found["top"] is None):
        return None
    value = float(found["whole"] or 0.0)
    if found["top"] is not None:
        top, bottom = int(found["top"]), int(found["bottom"])
        if value % 1.0 or top >= bottom:
            return None
        value += top / bottom
    return -value if found["sign"] == "-" else value


def _minutes(line: str) -> float | None:
    found = _MINUTES.fullmatch(line)
    if found is None:
        return None
    minutes, seconds = float(found["minutes"]), float(found["seconds"] or 0.0)
    if minutes >= 60.0 or seconds >= 60.0 or (minutes % 1.0 and seconds):
        return None
    value = float(found["whole"]) + minutes / 60.0 + seconds / 3600.0
    return -value if found["sign"] == "-" else value
