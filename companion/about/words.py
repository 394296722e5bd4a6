"""Numbers as one says them aloud: few digits, units written out."""

import math

_MINUTE_S, _HOUR_S, _DAY_S, _YEAR_S = 60.0, 3600.0, 86400.0, 31557600.0
_WORD_UNITS = ((1e9, "billion"), (1e6, "million"))


def figures(value: float, digits: int = 2) -> str:
    """Round to some significant digits: 368,000; 1.3; 0.052; 2.5 million."""
    if value == 0.0 or not math.isfinite(value):
        return "0"
    for size, word in _WORD_UNITS:
        if abs(value) >= size:
            return f"{figures(value / size, digits)} {word}"
    places = digits - 1 - math.floor(math.log10(abs(value)))
    rounded = round(value, places)
    return f"{rounded:,.{max(places, 0)}f}"


def light_time(seconds: float) -> str:
    """Say how long light takes: "1.3 seconds", "43 minutes", "25 years"."""
    for longest, unit_s, unit in (
        (100.0, 1.0, "second"),
        (100.0 * _MINUTE_S, _MINUTE_S, "minute"),
        (48.0 * _HOUR_S, _HOUR_S, "hour"),
        (_YEAR_S, _DAY_S, "day"),
    ):
        if seconds < longest:
            return counted(figures(seconds / unit_s), unit)
    return counted(figures(seconds / _YEAR_S), "year")


def signed(magnitude: float) -> str:
    """Say a magnitude to a tenth: "1.8", "−1.5"."""
    return f"{magnitude:.1f}".replace("-", "−")


def counted(number: str, unit: str) -> str:
    """Put a unit after a number: "1 minute", "2 minutes"."""
    return f"{number} {unit}" if number in {"1", "1.0"} else f"{number} {unit}s"


def percent(part: float) -> str:
    """Say a fraction: "68 percent"."""
    return f"{part * 100.0:.0f} percent"


def listed(names: tuple[str, ...]) -> str:
    """Say a list: "Io, Europa and Callisto"."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def through(name: str, kind: str) -> str:
    """Say what is looked through: "by eye", "in 10×50", "in the 150 mm f/8"."""
    if kind == "eye":
        return "by eye"
    return f"in {name}" if kind == "binoculars" else f"in the {name}"


def a(what: str) -> str:
    """Put the article before a word: "an orange star"."""
    return f"{'an' if what[:1] in 'aeiou' else 'a'} {what}"
