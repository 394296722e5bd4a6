"""Reading and checking the numbers of elements, whatever format they come in."""

import math
from collections.abc import Mapping
from datetime import UTC, datetime

from companion.events.elements.record import Elements, Family, NoElementsError

_GAUSS = 0.01720209895  # of the Sun's mass, rad per day, au
_MONTHS = "123456789ABC"
_DAYS = "123456789ABCDEFGHIJKLMNOPQRSTUV"
_CENTURIES = {"I": 1800, "J": 1900, "K": 2000, "L": 2100}
_FIRST_YEAR, _LAST_YEAR = 1700, 2200
_LONGEST_NAME = 60
_RANGES = {
    "perihelion_au": (0.001, 100.0),
    "eccentricity": (0.0, 10.0),
    "inclination_deg": (0.0, 180.0),
    "node_deg": (-360.0, 360.0),
    "argument_deg": (-360.0, 360.0),
    "magnitude": (-10.0, 40.0),
    "slope": (-2.0, 40.0),
}


def number(text: object, what: str) -> float:
    """Read a finite number.

    Raises
    ------
    NoElementsError
        If it is none.
    """
    try:
        value = math.nan if isinstance(text, bool) else float(str(text).strip())
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise NoElementsError(f"the {what} {str(text).strip()[:20]!r} is not a number")
    return value


def maybe(text: object, what: str) -> float | None:
    """Read a number that may be missing."""
    return None if text is None or not str(text).strip() else number(text, what)


def julian_day(year: object, month: object, day: object) -> float:
    """Give the Julian day of a date of the Gregorian calendar, its day with decimals."""
    y, m, d = number(year, "year"), number(month, "month"), number(day, "day")
    if not (_FIRST_YEAR <= y <= _LAST_YEAR and 1 <= m <= 12 and 0.0 <= d < 32.0):
        raise NoElementsError("the date is none, or outside 1700 to 2200")
    start = datetime(int(y), int(m), 1, tzinfo=UTC)
    return (start - datetime(2000, 1, 1, 12, tzinfo=UTC)).total_seconds() / 86400.0 + 2451544.0 + d


def packed_day(text: str) -> float:
    """Give the Julian day of a packed date such as K259L."""
    try:
        year = _CENTURIES[text[0]] + int(text[1:3])
        return julian_day(year, _MONTHS.index(text[3]) + 1, _DAYS.index(text[4]) + 1)
    except (KeyError, IndexError, ValueError):
        raise NoElementsError(f"the epoch {text[:10]!r} is not a packed date") from None


def perihelion_of_anomaly(
    semimajor_au: float, eccentricity: float, anomaly_deg: float, epoch_jd: float
) -> tuple[float, float]:
    """Give perihelion distance and day of what is told by its mean anomaly at an epoch."""
    if not (semimajor_au > 0.0 and 0.0 <= eccentricity < 1.0):
        raise NoElementsError("the orbit is not an ellipse, yet has a mean anomaly")
    motion = math.degrees(_GAUSS / semimajor_au**1.5)
    ahead = (anomaly_deg + 180.0) % 360.0 - 180.0
    return semimajor_au * (1.0 - eccentricity), epoch_jd - ahead / motion


def orbit(
    family: Family,
    designation: str,
    name: str,
    epoch_jd: float,
    numbers: Mapping[str, float | None],
) -> Elements:
    """Make elements of numbers that lie in their ranges.

    Raises
    ------
    NoElementsError
        If one does not, or there is no name.
    """
    if not designation.strip():
        raise NoElementsError("it has no designation")
    known = {key: value for key, value in numbers.items() if value is not None}
    for key, value in known.items():
        low, high = _RANGES.get(key, (-math.inf, math.inf))
        if not low <= value <= high:
            raise NoElementsError(
                f"{key.replace('_', ' ')} {value:g} is outside {low:g} to {high:g}"
            )
    return Elements(family, clean(designation), clean(name or designation), epoch_jd, known)


def clean(text: str) -> str:
    """Keep what can be shown of a name, on one line."""
    shown = "".join(char if char.isprintable() else " " for char in text)
    return " ".join(shown.split())[:_LONGEST_NAME]
