"""A target's night in one line."""

from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from companion.arrays import FloatArray
from companion.night.hours.grid import NightGrid
from companion.sky import Target, clock_text, compass_point, zone_of

_OVERHEAD_DEG = 82.0  # up there a direction says nothing
_WHOLE_NIGHT = timedelta(minutes=10)  # a window that misses less than this holds all night


@dataclass(frozen=True, slots=True, eq=False)
class PlanFacts:
    """What the line is made from."""

    target: Target
    grid: NightGrid
    altitude_deg: FloatArray  # over the grid
    low_limit_deg: float
    usable: bool
    too_bright: bool  # the sky, whenever it is over the low limit
    windows: tuple[tuple[datetime, datetime], ...]
    best_utc: datetime | None
    best_altitude_deg: float
    best_azimuth_deg: float


def stands_text(altitude_deg: float, azimuth_deg: float) -> str:
    """Say roughly where something stands."""
    if altitude_deg >= _OVERHEAD_DEG:
        return "almost overhead"
    return f"{altitude_deg:.0f}° up in the {compass_point(azimuth_deg, 8)}"


def plan_words(facts: PlanFacts) -> str:
    """Say when a target is of use, or why it is not."""
    if not facts.usable or facts.best_utc is None:
        return _why_not(facts)
    zone = zone_of(facts.grid.site.time_zone)
    best = clock_text(facts.best_utc.astimezone(zone))
    spans = " and ".join(
        f"{clock_text(opens.astimezone(zone))}–{clock_text(closes.astimezone(zone))}"
        for opens, closes in facts.windows
    )
    when = "all night" if _all_night(facts) else spans
    stands = stands_text(facts.best_altitude_deg, facts.best_azimuth_deg)
    return f"{when}, best {best}, {stands}" if when else f"best {best}, {stands}"


def _all_night(facts: PlanFacts) -> bool:
    grid = facts.grid
    steps = np.flatnonzero(grid.night)
    if len(facts.windows) != 1 or (np.diff(steps) > 1).any():
        return False
    opens, closes = facts.windows[0]
    first, last = (grid.utc(grid.offsets_s[step]) for step in (steps[0], steps[-1]))
    return opens - first < _WHOLE_NIGHT and last - closes < _WHOLE_NIGHT


def _why_not(facts: PlanFacts) -> str:
    """Say what keeps a target from any use tonight."""
    night = facts.altitude_deg[facts.grid.night]
    if facts.altitude_deg.max() <= 0.0:
        return "does not rise here"
    if night.max() <= 0.0:
        return "up by day only"
    if night.max() < facts.low_limit_deg:
        return f"never over {facts.low_limit_deg:.0f}° tonight, {night.max():.0f}° at most"
    if facts.grid.sun_never_sets:
        return "by day only: the Sun does not set"
    if facts.too_bright:
        return "the night stays too bright for it"
    return "behind your horizon all night"
