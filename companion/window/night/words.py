"""What the night says, in words: pure text of the facts, without a widget."""

from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, tzinfo
from itertools import pairwise
from typing import TYPE_CHECKING, TypeAlias

from companion.arrays import FloatArray
from companion.live import NightView, OrderView
from companion.sky import (
    ASTRONOMICAL_DEG,
    CIVIL_DEG,
    NAUTICAL_DEG,
    SUN_UP_DEG,
    Target,
    altitude_text,
    clock_text,
    compass_point,
    zone_of,
)
from companion.window.aim.words import Notice

if TYPE_CHECKING:
    from companion.night import NightPlan

Column: TypeAlias = "Sequence[float] | FloatArray"

_SHADES_DEG = (ASTRONOMICAL_DEG, NAUTICAL_DEG, CIVIL_DEG, SUN_UP_DEG)  # part the night
EMPTY = Notice(
    "Nothing waits in the queue.",
    "Press m for tonight's list, r for a ready-made round, or / to search. The night itself is "
    "drawn here already.",
)
COMING = Notice("The night is being worked out.", "It takes a second or two; esc stops it.")
STOPPED = Notice("The night was not worked out.", "Press 4 to ask for it again.")


@dataclass(frozen=True, slots=True)
class Shade:
    """A stretch of the night: 0 is full darkness, 4 is day."""

    begins_s: float
    ends_s: float
    level: int


def zone_of_night(view: NightView) -> tzinfo:
    """Give the zone of the site's clocks."""
    return zone_of(view.question.around.site.time_zone)


def local(view: NightView, time_s: float) -> datetime:
    """Give a time by the site's clocks."""
    return datetime.fromtimestamp(time_s, UTC).astimezone(zone_of_night(view))


def short_name(target: Target) -> str:
    """Give the name without what follows a comma."""
    return target.name.partition(",")[0]


def head(view: NightView) -> str:
    """Name the night."""
    zone = zone_of_night(view)
    begins, ends = view.begins_utc.astimezone(zone), view.ends_utc.astimezone(zone)
    if begins.month == ends.month:
        dates = f"{begins.day} to {ends.day} {ends:%B}"
    else:
        dates = f"{begins.day} {begins:%B} to {ends.day} {ends:%B}"
    return f"The night of {dates}" if begins.date() != ends.date() else f"{begins.day} {begins:%B}"


def hours_text(hours: tuple[str, ...]) -> str:
    """Write a person's hours as they can be typed; empty for the whole night."""
    return "–".join(hours)


def about(view: NightView) -> str:
    """Say when it is dark, what the Moon does, with what and under which sky it is seen."""
    night, zone = view.darkness, zone_of_night(view)

    def clock(utc: datetime) -> str:
        return clock_text(utc.astimezone(zone))

    parts = [night.words] if night.words else []
    if night.dark.begins_utc and night.dark.ends_utc:
        parts.append(f"dark {clock(night.dark.begins_utc)} to {clock(night.dark.ends_utc)}")
    parts.append(f"Moon {night.moon_lit_fraction:.0%} lit, {_moon(view, clock)}")
    parts.append(view.instrument.name)
    if view.question.around.hours:
        parts.append(f"your hours {hours_text(view.question.around.hours)}")
    parts.append(f"sky {view.zenith_mag:.1f}{', assumed' if view.sky_assumed else ''}")
    return " · ".join(parts)


def _moon(view: NightView, clock: Callable[[datetime], str]) -> str:
    """Say when the Moon comes and goes within the shown night, or that it does not."""
    night = view.darkness
    happens = sorted(
        (utc, word)
        for word, utc in (("rises", night.moonrise_utc), ("sets", night.moonset_utc))
        if utc is not None and view.begins_utc <= utc <= view.ends_utc
    )
    if happens:
        return ", ".join(f"{word} {clock(utc)}" for utc, word in happens)
    middle = (view.begins_utc.timestamp() + view.ends_utc.timestamp()) / 2.0
    up = altitude_at(view.times_s, view.moon.altitude_deg, middle) > 0.0
    return "up all night" if up else "not up"


def altitude_at(times_s: Sequence[float], altitude_deg: Column, time_s: float) -> float:
    """Read a curve off at a time."""
    at = min(max(bisect_right(times_s, time_s) - 1, 0), len(times_s) - 2)
    share = (time_s - times_s[at]) / (times_s[at + 1] - times_s[at])
    share = min(max(share, 0.0), 1.0)
    return float(altitude_deg[at] + share * (altitude_deg[at + 1] - altitude_deg[at]))


def azimuth_at(view: NightView, plan: "NightPlan", time_s: float) -> float:
    """Give the azimuth of the step nearest to a time."""
    step_s = view.times_s[1] - view.times_s[0]
    at = round((time_s - view.times_s[0]) / step_s)
    return float(plan.curve.azimuth_deg[min(max(at, 0), len(view.times_s) - 1)])


def stands(view: NightView, plan: "NightPlan", time_s: float) -> str:
    """Say where a target stands at a time: "38° up in the south"."""
    altitude = altitude_at(view.times_s, plan.curve.altitude_deg, time_s)
    if altitude < 0.0:
        return "below the horizon"
    where = compass_point(azimuth_at(view, plan, time_s), 8)
    return f"{altitude_text(altitude, 1.0)}° up, {where}"


def usable(plan: "NightPlan", time_s: float) -> bool:
    """Say whether a target is of use at a time."""
    return any(a.timestamp() <= time_s <= b.timestamp() for a, b in plan.windows)


def hint(view: NightView, plan: "NightPlan", time_s: float) -> str:
    """Say in a word how it is then: within its window, until or from when; or why not."""
    if not plan.windows:
        return "of no use tonight"
    for begins, ends in plan.windows:
        if begins.timestamp() <= time_s <= ends.timestamp():
            return f"until {clock_text(local(view, ends.timestamp()))}"
    later = [begins for begins, _ends in plan.windows if begins.timestamp() > time_s]
    if later:
        return f"from {clock_text(local(view, later[0].timestamp()))}"
    return f"over since {clock_text(local(view, plan.windows[-1][1].timestamp()))}"


def chosen_words(plan: "NightPlan", order: OrderView | None) -> str:
    """Say all about the chosen target's night, in one line."""
    lost = "" if order is None else why_lost(order, plan.target.key)
    words = [f"finds no place: {lost}"] if lost else []
    return " · ".join([plan.target.name, *words, plan.words, plan.visibility.words])


def why_lost(order: OrderView, key: str) -> str:
    """Say why a target finds no place in an order; empty if it does."""
    return next((lost.why for lost in order.order.lost if lost.target.key == key), "")


def shades(view: NightView) -> tuple[Shade, ...]:
    """Part the shown night by how deep the Sun stands."""
    found: list[Shade] = []
    begins, ends = view.begins_utc.timestamp(), view.ends_utc.timestamp()
    for at in range(len(view.times_s) - 1):
        start, end = view.times_s[at], view.times_s[at + 1]
        first, last = view.sun_altitude_deg[at], view.sun_altitude_deg[at + 1]
        cuts = [
            start + (edge - first) / (last - first) * (end - start)
            for edge in _SHADES_DEG
            if min(first, last) < edge < max(first, last)
        ]
        edges = [start, *sorted(cuts), end]
        for one, other in pairwise(edges):
            low, high = max(one, begins), min(other, ends)
            if low < high:
                sun = first + ((one + other) / 2 - start) / (end - start) * (last - first)
                _add(found, Shade(low, high, sum(sun > edge for edge in _SHADES_DEG)))
    return tuple(found)


def _add(found: list[Shade], piece: Shade) -> None:
    """Join a piece to the one before it where it is as deep."""
    if found and found[-1].level == piece.level:
        piece = Shade(found.pop().begins_s, piece.ends_s, piece.level)
    found.append(piece)


def events(view: NightView) -> tuple[tuple[float, str], ...]:
    """Give the times that are named over the chart, the weightier first."""
    night, zone = view.darkness, zone_of_night(view)
    named = (
        ("dark", night.dark.begins_utc), ("dawn", night.dark.ends_utc),
        ("sunset", night.sun_down.begins_utc), ("sunrise", night.sun_down.ends_utc),
    )  # fmt: skip
    return tuple(
        (utc.timestamp(), f"{word} {clock_text(utc.astimezone(zone))}")
        for word, utc in named
        if utc is not None
    )
