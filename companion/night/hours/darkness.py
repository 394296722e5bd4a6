"""What Sun and Moon leave of the night, as times."""

from dataclasses import dataclass
from datetime import datetime

from companion.night.hours.grid import NightGrid
from companion.night.hours.spans import Span, spans_above, spans_below
from companion.sky import ASTRONOMICAL_DEG, CIVIL_DEG, NAUTICAL_DEG, SUN_UP_DEG

MOONRISE_DEG = SUN_UP_DEG  # the Moon's mean semidiameter is that of the Sun


@dataclass(frozen=True, slots=True)
class Twilights:
    """Begin and end of the stretch with the Sun under one altitude; None where it has none."""

    begins_utc: datetime | None
    ends_utc: datetime | None


@dataclass(frozen=True, slots=True)
class Darkness:
    """The night from noon to noon. Times are None where the event does not happen in it.

    ``moonless`` are the stretches of full darkness without the Moon; ``words`` says what is
    unusual, such as polar day, and is empty otherwise.
    """

    sun_down: Twilights
    civil: Twilights
    nautical: Twilights
    dark: Twilights
    moonrise_utc: datetime | None
    moonset_utc: datetime | None
    moon_lit_fraction: float
    moonless: tuple[tuple[datetime, datetime], ...]
    words: str


def darkness(grid: NightGrid) -> Darkness:
    """Read the times of the night off the grid, to a few seconds."""
    moon_up = spans_above(grid.offsets_s, grid.moon.altitude_airless_deg, MOONRISE_DEG)
    start, end = float(grid.offsets_s[0]), float(grid.offsets_s[-1])
    rises = [span.start_s for span in moon_up if span.start_s > start]
    sets = [span.end_s for span in moon_up if span.end_s < end]
    return Darkness(
        sun_down=_under(grid, SUN_UP_DEG),
        civil=_under(grid, CIVIL_DEG),
        nautical=_under(grid, NAUTICAL_DEG),
        dark=_under(grid, ASTRONOMICAL_DEG),
        moonrise_utc=grid.utc(rises[0]) if rises else None,
        moonset_utc=grid.utc(sets[0]) if sets else None,
        moon_lit_fraction=float(grid.moon.lit_fraction[len(grid.offsets_s) // 2]),
        moonless=tuple(
            (grid.utc(span.start_s), grid.utc(span.end_s)) for span in _without(grid, moon_up)
        ),
        words=_unusual(grid),
    )


def _under(grid: NightGrid, limit_deg: float) -> Twilights:
    """Find the stretch around the middle of the night with the Sun under an altitude."""
    spans = spans_below(grid.offsets_s, grid.sun.altitude_airless_deg, limit_deg)
    if not spans:
        return Twilights(None, None)
    span = max(spans, key=lambda s: s.length_s)
    start, end = float(grid.offsets_s[0]), float(grid.offsets_s[-1])
    return Twilights(
        grid.utc(span.start_s) if span.start_s > start else None,
        grid.utc(span.end_s) if span.end_s < end else None,
    )


def _without(grid: NightGrid, taken: list[Span]) -> list[Span]:
    """Give the full darkness less some stretches."""
    left = spans_below(grid.offsets_s, grid.sun.altitude_airless_deg, ASTRONOMICAL_DEG)
    for gone in taken:
        pieces = [Span(part.start_s, min(part.end_s, gone.start_s)) for part in left] + [
            Span(max(part.start_s, gone.end_s), part.end_s) for part in left
        ]
        left = [piece for piece in pieces if piece.length_s > 0.0]
    return sorted(left, key=lambda span: span.start_s)


def _unusual(grid: NightGrid) -> str:
    """Say what a person would not expect of a night."""
    if grid.sun_never_sets:
        return "polar day: the Sun does not set"
    if grid.sun_never_rises:
        return "polar night: the Sun does not rise"
    lowest = float(grid.sun.altitude_airless_deg.min())
    if lowest > ASTRONOMICAL_DEG:
        return "no full darkness: twilight lasts all night"
    return ""
