"""From plans and an evening to stops with windows in plain seconds."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from companion.arrays import FloatArray
from companion.night.hours.grid import NightGrid
from companion.night.hours.plan import NightPlan
from companion.night.hours.spans import Span, linear_spans
from companion.night.order.route import RouteProblem
from companion.night.order.session import Blocked, Session, Wish
from companion.sky import wrap_180

_BIN_S = 900.0  # in which the sky turns 4°: turns are taken as constant
_WORTH_WAITING_S = 900.0  # for standing at its best instead of on the horizon (our choice)
_BLOCK_STEP_S = 60.0  # between looks whether a target is behind a cloud bank


@dataclass(frozen=True, slots=True, eq=False)
class OrderProblem:
    """The route problem with what its words need; seconds count from the middle of the night.

    ``night_windows`` are each plan's own, ``free`` what breaks and clouds leave of them.
    """

    grid: NightGrid
    session: Session
    wishes: tuple[Wish, ...]
    plans: tuple[NightPlan, ...]
    night_windows: tuple[tuple[Span, ...], ...]
    free: tuple[tuple[Span, ...], ...]
    route: RouteProblem

    def stands(self, stop: int, offset_s: float) -> tuple[float, float]:
        """Azimuth and altitude of a stop at a time."""
        azimuth, altitude = _place(self.grid, self.plans[stop], np.array([offset_s]))
        return float(azimuth[0]) % 360.0, float(altitude[0])


def order_problem(
    grid: NightGrid, wishes: Sequence[Wish], plans: Sequence[NightPlan], session: Session
) -> OrderProblem:
    """Cut the windows by breaks and clouds, and tabulate the turns."""
    start, end = grid.offset_s(session.start_utc), grid.offset_s(session.end_utc)
    windows = tuple(
        tuple(Span(grid.offset_s(opens), grid.offset_s(closes)) for opens, closes in plan.windows)
        for plan in plans
    )
    breaks = [Span(grid.offset_s(a), grid.offset_s(b)) for a, b in session.breaks]
    free = tuple(
        tuple(_without(spans, [*breaks, *_clouds(grid, plan, session)]))
        for spans, plan in zip(windows, plans, strict=True)
    )
    minutes = [session.target_minutes if w.minutes is None else w.minutes for w in wishes]
    route = RouteProblem(
        values=np.array([wish.value for wish in wishes], dtype=np.float64),
        service_s=np.array(minutes, dtype=np.float64) * 60.0,
        windows=tuple(tuple((span.start_s, span.end_s) for span in spans) for spans in free),
        turn_s=_turns(grid, plans, session, start, end),
        low_s=_lows(grid, plans, windows, start, end),
        bin_s=_BIN_S,
        start_s=start,
        end_s=end,
    )
    return OrderProblem(grid, session, tuple(wishes), tuple(plans), windows, free, route)


def turn_deg(one: tuple[float, float], other: tuple[float, float]) -> float:
    """Longer way of a turn, azimuth or altitude: both axes turn at once."""
    along = abs(float(wrap_180(other[0] - one[0])))
    return max(along, abs(other[1] - one[1]))


def _turns(
    grid: NightGrid, plans: Sequence[NightPlan], session: Session, start_s: float, end_s: float
) -> FloatArray:
    """Seconds of every turn in every stretch, shape (bins, n + 1, n)."""
    middles = np.arange(start_s, end_s, _BIN_S) + _BIN_S / 2.0
    placed = [_place(grid, plan, middles) for plan in plans]
    azimuth = np.array([a for a, _ in placed]).reshape(len(plans), len(middles)).T
    altitude = np.array([h for _, h in placed]).reshape(len(plans), len(middles)).T
    ways = np.zeros((len(middles), len(plans) + 1, len(plans)))
    ways[:, 1:] = _longer(azimuth[:, :, None], altitude[:, :, None], azimuth, altitude)
    if session.tube_deg is not None:
        from_azimuth, from_altitude = (np.full((1, 1, 1), value) for value in session.tube_deg)
        ways[:, :1] = _longer(from_azimuth, from_altitude, azimuth, altitude)
    return np.asarray((session.setup_minutes + ways / session.degrees_per_minute) * 60.0)


def _lows(
    grid: NightGrid,
    plans: Sequence[NightPlan],
    windows: Sequence[Sequence[Span]],
    start_s: float,
    end_s: float,
) -> FloatArray:
    """Give what standing lower than at its best in this session costs each target, (bins, n)."""
    middles = np.arange(start_s, end_s, _BIN_S) + _BIN_S / 2.0
    lows = np.zeros((len(middles), len(plans)))
    for column, (plan, spans) in enumerate(zip(plans, windows, strict=True)):
        sine = np.sin(np.radians(_place(grid, plan, middles)[1]))
        inside = [any(span.start_s <= t <= span.end_s for span in spans) for t in middles]
        if any(inside):
            lows[:, column] = 1.0 - np.clip(sine / sine[inside].max(), 0.0, 1.0)
    return np.asarray(lows * _WORTH_WAITING_S)


def _longer(
    from_azimuth: FloatArray, from_altitude: FloatArray, azimuth: FloatArray, altitude: FloatArray
) -> FloatArray:
    along = np.abs(wrap_180(azimuth[:, None, :] - from_azimuth))
    return np.maximum(along, np.abs(altitude[:, None, :] - from_altitude))


def _place(
    grid: NightGrid, plan: NightPlan, offsets_s: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Azimuth, not wrapped, and altitude of a plan's target at some times."""
    azimuth = np.degrees(np.unwrap(np.radians(plan.curve.azimuth_deg)))
    return (
        np.interp(offsets_s, grid.offsets_s, azimuth),
        np.interp(offsets_s, grid.offsets_s, plan.curve.altitude_deg),
    )


def _clouds(grid: NightGrid, plan: NightPlan, session: Session) -> list[Span]:
    """Stretches of the session in which a target is behind a blocked part of the sky."""
    start = grid.offset_s(session.start_utc)
    hidden: list[Span] = []
    for cloud in session.blocked:
        until = grid.offset_s(cloud.until_utc)
        times = np.append(np.arange(start, until, _BLOCK_STEP_S), until)
        if until > start:
            hidden += linear_spans(times, _depth_deg(cloud, *_place(grid, plan, times)))
    return hidden


def _depth_deg(cloud: Blocked, azimuth_deg: FloatArray, altitude_deg: FloatArray) -> FloatArray:
    """How deep in the blocked part a direction lies; negative outside."""
    width = (cloud.to_azimuth_deg - cloud.from_azimuth_deg) % 360.0
    middle = cloud.from_azimuth_deg + width / 2.0
    from_edge = width / 2.0 - np.abs(wrap_180(azimuth_deg - middle))
    return np.asarray(np.minimum(from_edge, cloud.below_deg + 1e-9 - altitude_deg))


def _without(spans: Sequence[Span], gone: Sequence[Span]) -> list[Span]:
    """Give what is left of some spans."""
    left = list(spans)
    for out in gone:
        pieces = [Span(part.start_s, min(part.end_s, out.start_s)) for part in left]
        pieces += [Span(max(part.start_s, out.end_s), part.end_s) for part in left]
        left = [piece for piece in pieces if piece.length_s > 0.0]
    return sorted(set(left), key=lambda span: span.start_s)
