"""Angles, times and places as text: one place, so that an angle looks the same everywhere.

Knows neither numpy nor the ephemeris, so that the window can use it before they are loaded.
"""

import math
from datetime import datetime

from companion.sky.hand import HAND, USUAL_FIST_DEG

_QUARTERS = {0: "", 1: "¼", 2: "½", 3: "¾"}
_POINTS = (
    "north", "north-north-east", "north-east", "east-north-east",
    "east", "east-south-east", "south-east", "south-south-east",
    "south", "south-south-west", "south-west", "west-south-west",
    "west", "west-north-west", "north-west", "north-north-west",
)  # fmt: skip
_NUMBERS = (
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
    "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen",
)  # fmt: skip
# Width that is said, and the angle below which it is, for a fist of 10°.
_FINGERS = ((0.3, 0.5), (1.0, 1.5), (2.0, 2.25))
_FINGER_WORDS = ("less than a finger", "a finger", "two fingers")
_SMALL = (
    "", "a quarter of a fist", "half a fist", "three quarters of a fist",
    "a fist", "a fist and a quarter", "a fist and a half", "a fist and three quarters",
)  # fmt: skip
_AND = ("", " and a quarter", " and a half", " and three quarter")
MINUS = "−"


def altitude_text(altitude_deg: float, step_deg: float = 0.1) -> str:
    """Write an altitude as a dial with that step shows it, without the degree sign."""
    return _stepped(altitude_deg, step_deg)


def azimuth_text(azimuth_deg: float, step_deg: float = 0.5) -> str:
    """Write an azimuth from 0 to 360 as a dial with that step shows it, without the sign."""
    rounded = round(azimuth_deg / step_deg) * step_deg
    return _stepped(rounded % 360.0, step_deg)


def _stepped(value_deg: float, step_deg: float) -> str:
    """Write a rounded value: quarters as fractions, finer steps as decimals."""
    count = round(value_deg / step_deg)
    quarters = count * step_deg * 4.0
    sign = MINUS if count < 0 else ""
    if step_deg >= 0.25 and abs(quarters - round(quarters)) < 1e-9:
        whole, rest = divmod(abs(round(quarters)), 4)
        return f"{sign}{whole or ('' if rest else 0)}{_QUARTERS[rest]}"
    digits = max(1, math.ceil(-math.log10(step_deg) - 1e-9))
    return f"{sign}{abs(count * step_deg):.{digits}f}"


def signed_text(value: float, digits: int = 1) -> str:
    """Write a number with its sign; nothing is written as minus zero."""
    rounded = round(value, digits)
    return f"{'+' if rounded > 0 else MINUS if rounded < 0 else ''}{abs(rounded):.{digits}f}"


def angle_text(angle_deg: float) -> str:
    """Write an angle of any size in the unit that suits it: 12°, 1.2°, 12′, 18″."""
    size, sign = abs(angle_deg), MINUS if angle_deg < 0 else ""
    if size >= 9.95:
        return f"{sign}{size:.0f}°"
    if size >= 0.995:
        return f"{sign}{size:.1f}°"
    if size >= 9.95 / 60.0:
        return f"{sign}{size * 60.0:.0f}′"
    if size >= 0.995 / 60.0:
        return f"{sign}{size * 60.0:.1f}′"
    return f"{sign}{size * 3600.0:.0f}″" if size >= 0.95 / 3600.0 else f"{size * 3600.0:.1f}″"


def duration_text(seconds: float) -> str:
    """Write a length of time: 25 s, 42 min, 3h10."""
    if seconds < 99.5:
        return f"{max(seconds, 0.0):.0f} s"
    minutes = round(seconds / 60.0)
    return f"{minutes} min" if minutes < 100 else f"{minutes // 60}h{minutes % 60:02d}"


def clock_text(moment: datetime) -> str:
    """Write the time of day to the minute, as the moment's own zone has it."""
    return f"{moment:%H:%M}"


def zone_text(local: datetime) -> str:
    """Write the name of a moment's time zone, or its offset where it has no name."""
    name = local.tzname() or ""
    if name and name[0] not in "+-":
        return name
    return f"UTC{local:%z}"[:6].replace("-", MINUS)


def as_fists(angle_deg: float) -> float:
    """Round an angle to what a hand at arm's length measures, in degrees: what ``fists_text`` says.

    A fist is 10°, the little finger 1° (common practice, no source), or as wide as somebody has
    measured (``HAND``); knuckles part a fist into quarters.
    """
    own = HAND.fist_deg / USUAL_FIST_DEG
    size, quarter = abs(angle_deg), HAND.fist_deg / 4.0
    fingers = next((width * own for width, below in _FINGERS if size < below * own), None)
    return quarter * round(size / quarter) if fingers is None else fingers


def fists_text(angle_deg: float) -> str:
    """Write an angle in fingers, or in quarters of a fist, at arm's length; see ``as_fists``."""
    own = HAND.fist_deg / USUAL_FIST_DEG
    words = zip(_FINGER_WORDS, _FINGERS, strict=True)
    fingers = next((said for said, (_width, below) in words if abs(angle_deg) < below * own), None)
    if fingers is not None:
        return fingers
    whole, quarters = divmod(round(as_fists(angle_deg) / HAND.fist_deg * 4.0), 4)
    if whole < 2:
        return _SMALL[4 * whole + quarters]
    return f"{_number(whole)}{_AND[quarters]} fists"


def _number(count: int) -> str:
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)


def compass_point(azimuth_deg: float, points: int = 16) -> str:
    """Name the direction of an azimuth, by 16, 8 or 4 points."""
    count = round((azimuth_deg % 360.0) / 360.0 * points) % points
    return _POINTS[count * (16 // points)]


def position_text(latitude_deg: float, longitude_deg: float) -> str:
    """Write a place: 45.20° N 62.30° W."""
    north = "N" if latitude_deg >= 0 else "S"
    east = "E" if longitude_deg >= 0 else "W"
    return f"{abs(latitude_deg):.2f}° {north} {abs(longitude_deg):.2f}° {east}"


def magnitude_text(magnitude: float | None) -> str:
    """Write a magnitude; one that is not known is said to be."""
    if magnitude is None or math.isnan(magnitude):
        return "brightness unknown"
    return f"mag {magnitude:.1f}".replace("-", MINUS)


def right_ascension_text(ra_deg: float) -> str:
    """Write a right ascension in hours, minutes and tenths: 5h35.3m."""
    tenths = round((ra_deg % 360.0) / 15.0 * 600.0) % 14400
    hours, rest = divmod(tenths, 600)
    return f"{hours}h{rest / 10:04.1f}m"


def declination_text(dec_deg: float) -> str:
    """Write a declination in degrees and minutes: −5°23′."""
    minutes = round(abs(dec_deg) * 60.0)
    sign = MINUS if dec_deg < 0 and minutes else "+"
    return f"{sign}{minutes // 60}°{minutes % 60:02d}′"


def size_text(major_arcmin: float | None, minor_arcmin: float | None) -> str:
    """Write how large something is: 178′ × 63′, 1.4′, 18″; nothing where it is unknown."""
    if not major_arcmin:
        return ""
    major = angle_text(major_arcmin / 60.0)
    if not minor_arcmin or abs(minor_arcmin - major_arcmin) < 0.05 * major_arcmin:
        return major
    return f"{major} × {angle_text(minor_arcmin / 60.0)}"
