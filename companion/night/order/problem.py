"""From plans and an evening to stops in plain numbers: gains by slot, and turns."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from companion.arrays import FloatArray, RowArray
from companion.night.hours.grid import NightGrid
from companion.night.hours.plan import NightPlan
from companion.night.hours.spans import Span, linear_spans
from companion.night.order.route import NOT_THEN, RouteProblem
from companion.night.order.session import Blocked, Session, Wish
from companion.sky import wrap_180

SLOT_S = 30.0  # times of a plan are whole multiples of it
_STRETCH = 30  # slots in which the sky turns 4°: turns are taken as constant
# Time that is worth a target: whoever has time waits for a better sight, but not long for a little
# (our choice). Turning and waiting never take all of a gain: nothing is left out to save them.
_TURNING_S, _WAITING_S = 3600.0, 36000.0
_HAIR_S = 1e-3
_BLOCK_STEP_S = 60.0  # between looks whether a target is behind a cloud bank


@dataclass(frozen=True, slots=True, eq=False)
class OrderProblem:
    """The route problem with what its words need; seconds count from the middle of the night.

    ``free`` is what breaks and clouds leave of each plan's windows.
    """

    grid: NightGrid
    session: Session
    wishes: tuple[Wish, ...]
    plans: tuple[NightPlan, ...]
    free: tuple[tuple[Span, ...], ...]
    route: RouteProblem

    def offset_s(self, slot: int) -> float:
        """Time at which a slot begins."""
        return self.grid.offset_s(self.session.start_utc) + slot * SLOT_S

    def stands(self, stop: int, offset_s: float) -> tuple[float, float]:
        """Azimuth and altitude of a stop at a time."""
        azimuth, altitude = _place(self.grid, self.plans[stop], np.array([offset_s]))
        return float(azimuth[0]) % 360.0, float(altitude[0])


def order_problem(
    grid: NightGrid, wishes: Sequence[Wish], plans: Sequence[NightPlan], session: Session
) -> OrderProblem:
    """Cut the windows by breaks and clouds, and tabulate gains and turns."""
    start, end = grid.offset_s(session.start_utc), grid.offset_s(session.end_utc)
    free = tuple(tuple(free_of(grid, plan, session)) for plan in plans)
    service = np.array([service_of(wish, session) for wish in wishes], dtype=np.intp)
    slots = max(int((end - start) / SLOT_S), 1)
    starts_s = np.asarray(start + np.arange(slots) * SLOT_S, dtype=np.float64)
    gain = np.full((len(wishes), slots), NOT_THEN)
    for stop, plan in enumerate(plans):
        takes_s = float(service[stop]) * SLOT_S
        shows = gains(grid, plan, free[stop], starts_s, takes_s)
        gain[stop] = np.where(shows > 0.0, shows * wishes[stop].value, NOT_THEN)
        gain[stop, max(slots - int(service[stop]) + 1, 0) :] = NOT_THEN
    best = np.maximum(gain.max(axis=1, initial=0.0), 0.0)
    turn = _turns(grid, plans, session, start, end)
    longest_s = float(turn.max(initial=0)) * SLOT_S
    route = RouteProblem(
        gain=gain,
        service=service,
        turn=turn,
        stretch=_STRETCH,
        turn_price=best * SLOT_S / max(_TURNING_S, 10.0 * longest_s),
        wait_price=best * SLOT_S / max(_WAITING_S, 1.25 * (end - start)),
    )
    return OrderProblem(grid, session, tuple(wishes), tuple(plans), free, route)


def service_of(wish: Wish, session: Session) -> int:
    """Give the slots that a target takes."""
    minutes = session.target_minutes if wish.minutes is None else wish.minutes
    return math.ceil(minutes * 60.0 / SLOT_S - 1e-9)


def windows_of(grid: NightGrid, plan: NightPlan) -> list[Span]:
    """Give the windows of a target's night."""
    return [Span(grid.offset_s(opens), grid.offset_s(closes)) for opens, closes in plan.windows]


def free_of(grid: NightGrid, plan: NightPlan, session: Session) -> list[Span]:
    """Give what breaks and clouds leave of a target's windows."""
    breaks = [Span(grid.offset_s(a), grid.offset_s(b)) for a, b in session.breaks]
    return _without(windows_of(grid, plan), [*breaks, *_clouds(grid, plan, session)])


def turn_deg(one: tuple[float, float], other: tuple[float, float]) -> float:
    """Longer way of a turn, azimuth or altitude: both axes turn at once."""
    along = abs(float(wrap_180(other[0] - one[0])))
    return max(along, abs(other[1] - one[1]))


def gains(
    grid: NightGrid,
    plan: NightPlan,
    free: Sequence[Span],
    starts_s: FloatArray,
    takes_s: float,
) -> FloatArray:
    """Give the eye's gain in the middle of each stay; nothing where it does not lie in a window."""
    shows = np.interp(starts_s + takes_s / 2.0, grid.offsets_s, plan.curve.gain)
    inside = np.zeros(len(starts_s), dtype=np.bool_)
    for span in free:
        inside |= (starts_s >= span.start_s - _HAIR_S) & (
            starts_s + takes_s <= span.end_s + _HAIR_S
        )
    return np.where(inside, shows, 0.0)


def _turns(
    grid: NightGrid, plans: Sequence[NightPlan], session: Session, start_s: float, end_s: float
) -> RowArray:
    """Slots of every turn in every stretch, shape (stretches, n + 1, n)."""
    stretch_s = _STRETCH * SLOT_S
    middles = np.arange(start_s, end_s, stretch_s) + stretch_s / 2.0
    placed = [_place(grid, plan, middles) for plan in plans]
    azimuth = np.array([a for a, _ in placed]).reshape(len(plans), len(middles)).T
    altitude = np.array([h for _, h in placed]).reshape(len(plans), len(middles)).T
    ways = np.zeros((len(middles), len(plans) + 1, len(plans)))
    ways[:, 1:] = _longer(azimuth[:, :, None], altitude[:, :, None], azimuth, altitude)
    if session.tube_deg is not None:
        from_azimuth, from_altitude = (np.full((1, 1, 1), value) for value in session.tube_deg)
        ways[:, :1] = _longer(from_azimuth, from_altitude, azimuth, altitude)
    minutes = session.setup_minutes + ways / session.degrees_per_minute
    return np.ceil(minutes * 60.0 / SLOT_S).astype(np.intp)


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
