"""The order of a queue: most value before windows close, turns kept short."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from companion.finding import Instrument
from companion.night.hours.grid import NightGrid
from companion.night.hours.plan import NightPlan, plan_night
from companion.night.hours.sky_source import SkySource
from companion.night.order.problem import OrderProblem, order_problem, turn_deg
from companion.night.order.route import MOST_STOPS, best_route
from companion.night.order.route_search import good_route
from companion.night.order.session import Session, Wish
from companion.night.order.words import why_lost
from companion.night.progress import Progress
from companion.night.sight.observer import Conditions
from companion.sky import DoubleStar, Target


@dataclass(frozen=True, slots=True)
class PlannedStop:
    """One target at its turn. ``spare_s`` is how much later it may begin without loss."""

    target: Target
    value: float
    turn_begins_utc: datetime
    start_utc: datetime
    end_utc: datetime
    waits_s: float  # between the turn's end and the window's opening
    turn_deg: float | None  # None for the first where nobody knows where the tube is
    azimuth_deg: float  # at the start
    altitude_deg: float
    closes_utc: datetime  # of the window it is seen in
    spare_s: float


@dataclass(frozen=True, slots=True)
class Lost:
    """A target that finds no place, and why."""

    target: Target
    value: float
    why: str


@dataclass(frozen=True, slots=True)
class NightOrder:
    """An order of the queue. ``exact`` says that no order at all is worth more."""

    stops: tuple[PlannedStop, ...]
    lost: tuple[Lost, ...]
    value: float
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
        For up to eleven targets that can be seen the best there is; beyond, found by insertion,
        ruin and repair.

    Raises
    ------
    Cancelled
        If ``progress`` says so.
    """
    problem = order_problem(grid, wishes, plans, session)
    able = [stop for stop in range(len(wishes)) if problem.route.starts[stop]]
    exact = len(able) <= MOST_STOPS
    if exact:
        route = best_route(problem.route, progress)
    else:
        row = {wish.target.key: stop for stop, wish in enumerate(wishes)}
        first = [row[key] for key in before.keys if key in row] if before else []
        route = good_route(problem.route, first, progress)
    return _told(problem, route, exact=exact)


def order_queue(
    sky: SkySource,
    grid: NightGrid,
    wishes: Sequence[Wish],
    session: Session,
    *,
    instrument: Instrument,
    conditions: Conditions,
    doubles: Mapping[int, DoubleStar] | None = None,
    before: NightOrder | None = None,
    progress: Progress | None = None,
) -> NightOrder:
    """Plan the night of each target, then put them into an order; see ``order_plans``.

    Raises
    ------
    AdviceError
        If the instrument is none, or the ephemeris does not cover the night.
    Cancelled
        If ``progress`` says so.
    """
    plans = plan_night(
        sky,
        grid,
        [wish.target for wish in wishes],
        instrument=instrument,
        conditions=conditions,
        doubles=doubles,
    )
    return order_plans(grid, wishes, plans, session, before=before, progress=progress)


def _told(problem: OrderProblem, route: list[int], *, exact: bool) -> NightOrder:
    """Turn stops in seconds into stops for a person."""
    times = problem.route.schedule(route) or []
    latest = problem.route.latest_starts(route, times)
    stops: list[PlannedStop] = []
    left_s, here = problem.route.start_s, problem.session.tube_deg
    for number, stop in enumerate(route):
        start, end = times[number]
        place = problem.stands(stop, start)
        turn_s = problem.route.turn(route[number - 1] if number else -1, stop, left_s)
        closes = next(span.end_s for span in problem.free[stop] if span.end_s >= end - 1e-3)
        stops.append(
            PlannedStop(
                target=problem.wishes[stop].target,
                value=problem.wishes[stop].value,
                turn_begins_utc=problem.grid.utc(left_s),
                start_utc=problem.grid.utc(start),
                end_utc=problem.grid.utc(end),
                waits_s=max(start - left_s - turn_s, 0.0),
                turn_deg=None if here is None else turn_deg(here, place),
                azimuth_deg=place[0],
                altitude_deg=place[1],
                closes_utc=problem.grid.utc(closes),
                spare_s=latest[number] - start,
            )
        )
        left_s, here = end, problem.stands(stop, end)
    missing = [stop for stop in range(len(problem.wishes)) if stop not in set(route)]
    return NightOrder(
        stops=tuple(stops),
        lost=tuple(
            Lost(
                problem.wishes[stop].target,
                problem.wishes[stop].value,
                why_lost(problem, stop, route, times),
            )
            for stop in missing
        ),
        value=problem.route.value(route),
        turned_deg=sum(stop.turn_deg or 0.0 for stop in stops),
        exact=exact,
    )
