"""The order of a queue: windows kept, value first, clouds and breaks, and what is lost."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import pairwise, permutations

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from companion.advice import AdviceError
from companion.night.hours.grid import NightGrid
from companion.night.hours.plan import NightPlan, plan_night
from companion.night.order.order import NightOrder, order_plans, order_queue
from companion.night.order.route import RouteProblem, best_route
from companion.night.order.route_search import good_route
from companion.night.order.session import Blocked, Session, Wish
from companion.night.progress import Cancelled
from companion.night.sight.instruments import find_instrument
from companion.night.sight.observer import Conditions
from companion.sky import Ephemeris, SearchIndex, Target, load_catalogue

NAMES = (
    "m 13", "m 57", "m 27", "albireo", "m 31", "m 33", "double cluster", "almach", "saturn",
    "m 15", "m 2", "uranus", "m 45", "m 42", "vega", "m 11", "canopus",
)  # fmt: skip
DUSK = datetime(2026, 10, 10, 23, 15, tzinfo=UTC)


@pytest.fixture(scope="module")
def targets() -> tuple[Target, ...]:
    search = SearchIndex(load_catalogue())
    return tuple(search.resolve(name) for name in NAMES)


@pytest.fixture(scope="module")
def plans(
    ephemeris: Ephemeris, autumn: NightGrid, targets: tuple[Target, ...]
) -> tuple[NightPlan, ...]:
    return plan_night(
        ephemeris,
        autumn,
        targets,
        instrument=find_instrument("150"),
        conditions=Conditions.at(autumn.site),
        doubles=load_catalogue().names.doubles,
    )


def wishes(targets: tuple[Target, ...]) -> list[Wish]:
    return [Wish(target, 1.0 + number % 4) for number, target in enumerate(targets)]


def check(order: NightOrder, plans: tuple[NightPlan, ...], session: Session) -> None:
    """Hold an order against everything it promises."""
    by_key = {plan.target.key: plan for plan in plans}
    assert len(set(order.keys)) == len(order.keys)
    assert {*order.keys, *(lost.target.key for lost in order.lost)} == set(by_key)
    for stop in order.stops:
        plan = by_key[stop.target.key]
        assert session.start_utc <= stop.turn_begins_utc <= stop.start_utc < stop.end_utc
        assert stop.end_utc <= session.end_utc + timedelta(milliseconds=1)
        assert any(
            opens - timedelta(milliseconds=1) <= stop.start_utc
            and stop.end_utc <= closes + timedelta(milliseconds=1)
            for opens, closes in plan.windows
        )
        for begins, ends in session.breaks:
            assert stop.end_utc <= begins or stop.start_utc >= ends
        assert stop.spare_s >= -1e-3
    for one, other in pairwise(order.stops):
        assert one.end_utc == other.turn_begins_utc
        turn_s = (other.start_utc - one.end_utc).total_seconds()
        assert turn_s >= session.setup_minutes * 60.0 - 1e-3
    assert all(lost.why for lost in order.lost)


def test_an_evening_is_ordered(
    autumn: NightGrid, targets: tuple[Target, ...], plans: tuple[NightPlan, ...]
) -> None:
    session = Session(DUSK, DUSK + timedelta(hours=6), tube_deg=(180.0, 30.0))
    order = order_plans(autumn, wishes(targets), plans, session)
    check(order, plans, session)
    assert not order.exact
    lost = {entry.target.name: entry.why for entry in order.lost}
    assert lost == {"Canopus": "does not rise here"}
    assert order.turned_deg < 1000.0
    # What sinks in the west comes before what rises in the east.
    assert order.keys.index(targets[0].key) < order.keys.index(targets[12].key)


def test_nobody_waits_while_there_is_something_to_see(
    autumn: NightGrid, targets: tuple[Target, ...], plans: tuple[NightPlan, ...]
) -> None:
    session = Session(DUSK, DUSK + timedelta(hours=9))
    order = order_plans(autumn, wishes(targets)[:6], plans[:6], session)
    assert order.exact
    assert sum(stop.waits_s for stop in order.stops) < 60.0
    assert order.stops[0].start_utc < DUSK + timedelta(minutes=5)


def test_a_short_evening_keeps_the_worthiest_and_says_what_is_lost(
    autumn: NightGrid, targets: tuple[Target, ...], plans: tuple[NightPlan, ...]
) -> None:
    session = Session(DUSK, DUSK + timedelta(minutes=60))
    order = order_plans(autumn, wishes(targets), plans, session)
    check(order, plans, session)
    assert 4 <= len(order.stops) <= 7
    kept = [stop.value for stop in order.stops]
    assert sum(kept) / len(kept) > 2.5
    words = " ".join(entry.why for entry in order.lost)
    assert "goes to" in words
    assert "after the end" in words
    assert order.stops[0].turn_deg is None


def test_clouds_in_the_west_turn_the_order_east(
    autumn: NightGrid, targets: tuple[Target, ...], plans: tuple[NightPlan, ...]
) -> None:
    session = Session(DUSK, DUSK + timedelta(hours=3))
    west = Blocked(200.0, 345.0, DUSK + timedelta(minutes=90))
    clouded = replace(session, blocked=(west,))
    before = order_plans(autumn, wishes(targets), plans, session)
    order = order_plans(autumn, wishes(targets), plans, clouded, before=before)
    check(order, plans, clouded)
    for stop in order.stops:
        if stop.start_utc < west.until_utc:
            assert not 200.5 < stop.azimuth_deg < 344.5
    for_good = replace(session, blocked=(replace(west, until_utc=session.end_utc),))
    lost = order_plans(autumn, wishes(targets), plans, for_good).lost
    assert any("breaks or clouds leave nothing" in entry.why for entry in lost)
    low = replace(session, blocked=(replace(west, until_utc=session.end_utc, below_deg=15.0),))
    assert len(order_plans(autumn, wishes(targets), plans, low).lost) < len(lost)


def test_breaks_are_kept_free(
    autumn: NightGrid, targets: tuple[Target, ...], plans: tuple[NightPlan, ...]
) -> None:
    tea = (DUSK + timedelta(hours=1), DUSK + timedelta(hours=1, minutes=30))
    session = Session(DUSK, DUSK + timedelta(hours=3), breaks=(tea,))
    order = order_plans(autumn, wishes(targets), plans, session)
    check(order, plans, session)
    assert order.stops


def test_falling_behind_is_planned_anew(
    autumn: NightGrid, targets: tuple[Target, ...], plans: tuple[NightPlan, ...]
) -> None:
    session = Session(DUSK, DUSK + timedelta(hours=3))
    order = order_plans(autumn, wishes(targets), plans, session)
    now = order.stops[2].end_utc + timedelta(minutes=45)
    done = set(order.keys[:3])
    left = [number for number, target in enumerate(targets) if target.key not in done]
    later = replace(session, start_utc=now)
    some = [wishes(targets)[number] for number in left]
    again = order_plans(autumn, some, tuple(plans[n] for n in left), later, before=order)
    check(again, tuple(plans[number] for number in left), later)
    assert again.stops[0].turn_begins_utc == now
    assert not done & set(again.keys)
    assert len(again.lost) > len(order.lost)


def test_few_targets_get_the_best_order_there_is(
    autumn: NightGrid, targets: tuple[Target, ...], plans: tuple[NightPlan, ...]
) -> None:
    session = Session(DUSK, DUSK + timedelta(hours=1))
    order = order_plans(autumn, wishes(targets)[:8], plans[:8], session)
    assert order.exact
    check(order, plans[:8], session)


def test_one_call_does_it_all(
    ephemeris: Ephemeris, autumn: NightGrid, targets: tuple[Target, ...]
) -> None:
    session = Session(DUSK, DUSK + timedelta(hours=2))
    order = order_queue(
        ephemeris,
        autumn,
        wishes(targets)[:4],
        session,
        instrument=find_instrument("150"),
        conditions=Conditions.at(autumn.site),
    )
    assert len(order.stops) == 4
    empty = order_queue(
        ephemeris, autumn, [], session, instrument=find_instrument("eye"), conditions=Conditions()
    )
    assert (empty.stops, empty.lost, empty.value) == ((), (), 0.0)


def test_ordering_is_stopped(
    autumn: NightGrid, targets: tuple[Target, ...], plans: tuple[NightPlan, ...]
) -> None:
    session = Session(DUSK, DUSK + timedelta(hours=6))
    for count in (6, len(targets)):
        told: list[float] = []

        def listen(done: float, into: list[float] = told) -> bool:
            into.append(done)
            return done < 0.05

        with pytest.raises(Cancelled):
            order_plans(autumn, wishes(targets)[:count], plans[:count], session, progress=listen)
        assert told == sorted(told)


def small(seed: int, count: int) -> RouteProblem:
    luck = np.random.default_rng(seed)
    opens = luck.uniform(-2000.0, 5000.0, count)
    return RouteProblem(
        values=luck.integers(1, 6, count).astype(np.float64),
        service_s=luck.uniform(300.0, 900.0, count),
        windows=tuple(
            ((float(a), float(a + length)),)
            for a, length in zip(opens, luck.uniform(500.0, 5000.0, count), strict=True)
        ),
        turn_s=luck.uniform(30.0, 300.0, (1, count + 1, count)),
        low_s=luck.uniform(0.0, 300.0, (1, count)),
        bin_s=6000.0,
        start_s=0.0,
        end_s=6000.0,
    )


@given(st.integers(0, 10_000))
@settings(max_examples=12, deadline=None)
def test_the_exact_order_beats_every_other(seed: int) -> None:
    problem = small(seed, 5)
    route = best_route(problem)
    assert problem.schedule(route) is not None
    best = max(
        problem.value(other)
        for length in range(6)
        for other in permutations(range(5), length)
        if problem.schedule(other) is not None
    )
    assert problem.value(route) == pytest.approx(best)


@given(st.integers(0, 10_000))
@settings(max_examples=8, deadline=None)
def test_the_search_comes_close_and_keeps_the_windows(seed: int) -> None:
    problem = small(seed, 8)
    found, best = good_route(problem), best_route(problem)
    assert problem.schedule(found) is not None
    assert problem.value(found) >= 0.85 * problem.value(best)
    latest = problem.latest_starts(found, problem.schedule(found) or [])
    assert all(
        late >= start - 1e-6
        for late, (start, _end) in zip(latest, problem.schedule(found) or [], strict=True)
    )


def test_a_route_that_is_too_late_is_trimmed() -> None:
    problem = small(3, 8)
    whole = list(range(8))
    assert problem.schedule(whole) is None
    assert problem.schedule(problem.trimmed(whole)) is not None
    assert good_route(problem, whole)


@pytest.mark.parametrize(
    ("change", "text"),
    [
        ({"end_utc": DUSK}, "is no evening"),
        ({"end_utc": DUSK + timedelta(hours=30)}, "is no evening"),
        ({"target_minutes": 0.0}, "outside 0.5 to 600"),
        ({"setup_minutes": -1.0}, "is no pace"),
        ({"degrees_per_minute": 0.0}, "is no pace"),
        ({"breaks": ((DUSK + timedelta(hours=1), DUSK),)}, "ends before it begins"),
    ],
)
def test_no_such_evening(change: dict[str, object], text: str) -> None:
    with pytest.raises(AdviceError, match=text):
        replace(Session(DUSK, DUSK + timedelta(hours=1)), **change)  # type: ignore[arg-type]


def test_no_such_wish_or_cloud(targets: tuple[Target, ...]) -> None:
    for values in ({"value": 0.0}, {"value": float("nan")}, {"minutes": 0.0}):
        with pytest.raises(AdviceError, match="outside"):
            Wish(targets[0], **values)
    with pytest.raises(AdviceError, match="same direction"):
        Blocked(90.0, 450.0, DUSK)
