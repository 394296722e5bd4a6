"""Why a target finds no place in an order: a stable code, and words."""

from collections.abc import Sequence
from enum import StrEnum

from companion.night.hours.grid import NightGrid
from companion.night.hours.plan import NightPlan
from companion.night.hours.spans import Span
from companion.night.order.problem import SLOT_S, OrderProblem, windows_of
from companion.sky import clock_text, zone_of

_MOST_NAMED = 2


class Loss(StrEnum):
    """Why a target finds no place, as a stable code."""

    NO_WINDOW = "no_window"  # of no use all night
    CLOSED_BEFORE = "closed_before"  # the start
    OPENS_AFTER = "opens_after"  # the end
    TOO_SHORT = "too_short"  # its window, for its minutes
    BLOCKED = "blocked"  # by breaks or clouds
    TIME_TAKEN = "time_taken"  # by others
    OUTRANKED = "outranked"  # left out before ordering: others give more all the time


def why_lost(
    problem: OrderProblem, stop: int, route: Sequence[int], starts: Sequence[int]
) -> tuple[Loss, str]:
    """Say why a stop is not in a route, the first reason that holds."""
    takes_s = float(problem.route.service[stop]) * SLOT_S
    times = problem.offset_s(0), problem.offset_s(problem.route.slots)
    free = problem.free[stop]
    unfit = why_unfit(problem.grid, problem.plans[stop], free, times, takes_s)
    return unfit or (Loss.TIME_TAKEN, _rivals(problem, free, route, starts))


def why_unfit(
    grid: NightGrid,
    plan: NightPlan,
    free: Sequence[Span],
    times_s: tuple[float, float],
    takes_s: float,
) -> tuple[Loss, str] | None:
    """Say why a target has no time in an evening, whatever else is in it; None if it has.

    Parameters
    ----------
    grid : NightGrid
        The night.
    plan : NightPlan
        The target's.
    free : sequence of Span
        What breaks and clouds leave of its windows.
    times_s : tuple of float
        Start and end of the evening.
    takes_s : float
        Time at the target.
    """
    windows, (start, end) = windows_of(grid, plan), times_s
    if not windows:
        return Loss.NO_WINDOW, plan.words
    inside = [span for span in windows if span.end_s > start and span.start_s < end]
    if not inside:
        return _outside(grid, windows, start, end)
    spans, minutes = _spans(grid, inside), takes_s / 60.0
    if not any(_fits(span, start, end, takes_s) for span in inside):
        return Loss.TOO_SHORT, f"its window {spans} is shorter than the {minutes:.0f} minutes"
    if not any(_fits(span, start, end, takes_s) for span in free):
        return Loss.BLOCKED, f"breaks or clouds leave nothing of its window {spans}"
    return None


def _fits(span: Span, start_s: float, end_s: float, takes_s: float) -> bool:
    return min(span.end_s, end_s) - max(span.start_s, start_s) >= takes_s - 1e-6


def _outside(
    grid: NightGrid, windows: Sequence[Span], start_s: float, end_s: float
) -> tuple[Loss, str]:
    if all(span.end_s <= start_s for span in windows):
        closed = _clock(grid, windows[-1].end_s)
        return Loss.CLOSED_BEFORE, f"its window closed at {closed}, before the start"
    later = next(span for span in windows if span.start_s >= end_s)
    return Loss.OPENS_AFTER, f"its window opens at {_clock(grid, later.start_s)}, after the end"


def _rivals(
    problem: OrderProblem, free: Sequence[Span], route: Sequence[int], starts: Sequence[int]
) -> str:
    """Name what takes the time of its windows."""
    others = []
    for other, slot in zip(route, starts, strict=True):
        begins = problem.offset_s(slot)
        ends = begins + float(problem.route.service[other]) * SLOT_S
        if any(begins < span.end_s and ends > span.start_s for span in free):
            others.append(problem.wishes[other].target.name)
    named = ", ".join(others[:_MOST_NAMED])
    more = len(others) - _MOST_NAMED
    rest = f" and {more} more" if more > 0 else ""
    taken = f" goes to {named}{rest}" if others else " is too short for turning there and back"
    return f"the time of its window {_spans(problem.grid, free)}{taken}"


def _spans(grid: NightGrid, spans: Sequence[Span]) -> str:
    return " and ".join(
        f"{_clock(grid, span.start_s)}–{_clock(grid, span.end_s)}" for span in spans
    )


def _clock(grid: NightGrid, offset_s: float) -> str:
    return clock_text(grid.utc(offset_s).astimezone(zone_of(grid.site.time_zone)))
