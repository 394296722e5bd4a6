"""The order of a queue: what the eye gains most from, before windows close, turns kept short."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from companion.finding import Instrument
from companion.night.hours.grid import NightGrid
from companion.night.hours.plan import NightPlan, plan_night
from companion.night.hours.scan import LOW_LIMIT_DEG
from companion.night.hours.sky_source import SkySource
from companion.night.order.problem import SLOT_S, OrderProblem, order_problem, turn_deg
from companion.night.order.route import START
from companion.night.order.route_exact import MOST_STOPS, best_route
from companion.night.order.route_search import good_route
from companion.night.order.session import Session, Wish
from companion.night.order.shortlist import MOST, shortlist
from companion.night.order.words import Loss, why_lost
from companion.night.progress import Progress
from companion.night.sight.observer import Conditions
from companion.sky import DoubleStar, Target


@dataclass(frozen=True, slots=True)
class PlannedStop:
    """One target at its turn.

    ``spare_s`` is how much later it may begin without losing another; ``gain`` is how much of it
    the eye gains then, 0 to 1 (``sight.gain``).
    """

    target: Target
    value: float
    turn_begins_utc: datetime
    start_utc: datetime
    end_utc: datetime
    waits_s: float  # after the turn, for the window to open or for a better sight
    turn_deg: float | None  # None for the first where nobody knows where the tube is
    azimuth_deg: float  # at the start
    altitude_deg: float
    closes_utc: datetime  # of the window it is seen in
    spare_s: float
    gain: float


@dataclass(frozen=True, slots=True)
class Lost:
    """A target that finds no place, and why: in words, and as a stable code."""

    target: Target
    value: float
    why: str
    code: Loss


@dataclass(frozen=True, slots=True)
class NightOrder:
    """An order of the queue. ``exact`` says that no order at all gains more.

    ``value`` is what all stops are worth together, ``gain`` the same with each as well as it shows
    at its turn: the expected visibility.
    """

    stops: tuple[PlannedStop, ...]
    lost: tuple[Lost, ...]
    value: float
    gain: float
    turned_deg: float
    exact: bool

    @property
    def keys(self) -> tuple[str, ...]:
        """Keys of the targets in their order."""
        return tuple(stop.target.key for stop in self.stops)


def order_plans(
    grid: NightGrid,
    wishes: Sequence[Wish],
    plans: Sequence[NightPlan],
    session: Session,
    *,
    before: NightOrder | None = None,
    progress: Progress | None = None,
) -> NightOrder:
    """Put targets whose night is planned into an order.

    Parameters
    ----------
    grid : NightGrid
        The night.
    wishes : sequence of Wish
        The queue; what is found already is left out by the caller.
    plans : sequence of NightPlan
        The plan of each, in the same order.
    session : Session
        Hours, breaks, clouds and pace; to plan anew in the middle of the evening, its start is
        the present moment.
    before : NightOrder, optional
        The order so far: the new one starts from it.
    progress : callable, optional
        Takes the part that is done; gives False to stop.

    Returns
    -------
    NightOrder
        For up to nine targets that can be seen the best there is; beyond, found by a search.

    Raises
    ------
    Cancelled
        If ``progress`` says so.
    """
    problem = order_problem(grid, wishes, plans, session)
    if len(problem.route.able) <= MOST_STOPS:
        return _told(problem, *best_route(problem.route, progress), exact=True)
    row = {wish.target.key: stop for stop, wish in enumerate(wishes)}
    first = [row[key] for key in before.keys if key in row] if before else []
    return _told(problem, *good_route(problem.route, first, progress), exact=False)


def order_queue(
    sky: SkySource,
    grid: NightGrid,
    wishes: Sequence[Wish],
    session: Session,
    *,
    instrument: Instrument,
    conditions: Conditions,
    doubles: Mapping[int, DoubleStar] | None = None,
    low_limit_deg: float = LOW_LIMIT_DEG,
    before: NightOrder | None = None,
    progress: Progress | None = None,
) -> NightOrder:
    """Plan the night of each target, then put them into an order; see ``order_plans``.

    Of more than ``shortlist.MOST`` the best of each half hour are ordered; the others are lost
    with a reason of their own.

    Raises
    ------
    AdviceError
        If the instrument is none, or the ephemeris does not cover the night.
    Cancelled
        If ``progress`` says so.
    """

    def plans_of(targets: Sequence[Target]) -> tuple[NightPlan, ...]:
        return plan_night(
            sky,
            grid,
            targets,
            instrument=instrument,
            conditions=conditions,
            doubles=doubles,
            low_limit_deg=low_limit_deg,
        )

    chosen, left_out = list(wishes), list[Lost]()
    if len(wishes) > MOST:
        rows, others = shortlist(plans_of, grid, wishes, session, progress)
        chosen = [wishes[row] for row in rows]
        for one in others:
            wish = wishes[one.row]
            left_out.append(Lost(wish.target, wish.value, one.words, one.code))
    plans = plans_of([wish.target for wish in chosen])
    order = order_plans(grid, chosen, plans, session, before=before, progress=progress)
    return replace(order, lost=(*order.lost, *left_out))


def _told(
    problem: OrderProblem, route: Sequence[int], starts: Sequence[int], *, exact: bool
) -> NightOrder:
    """Turn stops in slots into stops for a person."""
    latest = problem.route.latest_starts(route, starts)
    spare_s = [(late - start) * SLOT_S for late, start in zip(latest, starts, strict=True)]
    stops: list[PlannedStop] = []
    left, here, before = 0, problem.session.tube_deg, START
    for stop, start, spare in zip(route, starts, spare_s, strict=True):
        turn = problem.route.turn_to(before, stop, left)
        stops.append(_stop(problem, stop, here, (left, left + turn, start), spare))
        left, before = start + int(problem.route.service[stop]), stop
        here = problem.stands(stop, problem.offset_s(left))
    placed = set(route)
    missing = [stop for stop in range(len(problem.wishes)) if stop not in placed]
    return NightOrder(
        stops=tuple(stops),
        lost=tuple(_lost(problem, stop, route, starts) for stop in missing),
        value=sum(stop.value for stop in stops),
        gain=sum(stop.value * stop.gain for stop in stops),
        turned_deg=sum(stop.turn_deg or 0.0 for stop in stops),
        exact=exact,
    )


def _stop(
    problem: OrderProblem,
    stop: int,
    came_from: tuple[float, float] | None,
    slots: tuple[int, int, int],
    spare_s: float,
) -> PlannedStop:
    """Say one stop, by the slots in which its turn begins and ends and it is begun."""
    left_s, arrive_s, start_s = (problem.offset_s(slot) for slot in slots)
    end_s = start_s + float(problem.route.service[stop]) * SLOT_S
    place, value = problem.stands(stop, start_s), problem.wishes[stop].value
    closes = next(span.end_s for span in problem.free[stop] if span.end_s >= end_s - 1e-2)
    return PlannedStop(
        target=problem.wishes[stop].target,
        value=value,
        turn_begins_utc=problem.grid.utc(left_s),
        start_utc=problem.grid.utc(start_s),
        end_utc=problem.grid.utc(end_s),
        waits_s=start_s - arrive_s,
        turn_deg=None if came_from is None else turn_deg(came_from, place),
        azimuth_deg=place[0],
        altitude_deg=place[1],
        closes_utc=problem.grid.utc(closes),
        spare_s=spare_s,
        gain=float(problem.route.gain[stop, slots[2]]) / value,
    )


def _lost(problem: OrderProblem, stop: int, route: Sequence[int], starts: Sequence[int]) -> Lost:
    code, words = why_lost(problem, stop, route, starts)
    wish = problem.wishes[stop]
    return Lost(wish.target, wish.value, words, code)
