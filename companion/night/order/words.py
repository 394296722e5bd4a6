"""Why a target finds no place in an order."""

from collections.abc import Sequence

from companion.night.hours.spans import Span
from companion.night.order.problem import OrderProblem
from companion.sky import clock_text, zone_of

_MOST_NAMED = 2


def why_lost(
    problem: OrderProblem,
    stop: int,
    route: Sequence[int],
    times: Sequence[tuple[float, float]],
) -> str:
    """Say why a stop is not in a route, the first reason that holds."""
    windows, free = problem.night_windows[stop], problem.free[stop]
    if not windows:
        return problem.plans[stop].words
    start, end = problem.route.start_s, problem.route.end_s
    inside = [span for span in windows if span.end_s > start and span.start_s < end]
    if not inside:
        return _outside(problem, windows)
    minutes = float(problem.route.service_s[stop]) / 60.0
    if not any(_fits(span, start, end, minutes) for span in inside):
        return f"its window {_spans(problem, inside)} is shorter than the {minutes:.0f} minutes"
    if not any(_fits(span, start, end, minutes) for span in free):
        return f"breaks or clouds leave nothing of its window {_spans(problem, inside)}"
    return _rivals(problem, free, route, times)


def _fits(span: Span, start_s: float, end_s: float, minutes: float) -> bool:
    return min(span.end_s, end_s) - max(span.start_s, start_s) >= minutes * 60.0 - 1e-6


def _outside(problem: OrderProblem, windows: Sequence[Span]) -> str:
    if all(span.end_s <= problem.route.start_s for span in windows):
        return f"its window closed at {_clock(problem, windows[-1].end_s)}, before the start"
    later = next(span for span in windows if span.start_s >= problem.route.end_s)
    return f"its window opens at {_clock(problem, later.start_s)}, after the end"


def _rivals(
    problem: OrderProblem,
    free: Sequence[Span],
    route: Sequence[int],
    times: Sequence[tuple[float, float]],
) -> str:
    """Name what takes the time of its windows."""
    others = [
        problem.wishes[other].target.name
        for other, (start, end) in zip(route, times, strict=True)
        if any(start < span.end_s and end > span.start_s for span in free)
    ]
    named = ", ".join(others[:_MOST_NAMED])
    more = len(others) - _MOST_NAMED
    rest = f" and {more} more" if more > 0 else ""
    taken = f" goes to {named}{rest}" if others else " is too short for turning there and back"
    return f"the time of its window {_spans(problem, free)}{taken}"


def _spans(problem: OrderProblem, spans: Sequence[Span]) -> str:
    return " and ".join(
        f"{_clock(problem, span.start_s)}–{_clock(problem, span.end_s)}" for span in spans
    )


def _clock(problem: OrderProblem, offset_s: float) -> str:
    local = problem.grid.utc(offset_s).astimezone(zone_of(problem.grid.site.time_zone))
    return clock_text(local)
