"""The order of a queue: windows kept, value first, clouds and breaks, and what is lost."""

import tracemalloc
from collections import Counter
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import pairwise

import numpy as np
import pytest

from companion.advice import AdviceError
from companion.night.hours.grid import NightGrid, night_grid
from companion.night.hours.plan import NightPlan, plan_night
from companion.night.order.order import NightOrder, order_plans, order_queue
from companion.night.order.session import Blocked, Session, Wish
from companion.night.order.words import Loss
from companion.night.progress import Cancelled
from companion.night.sight.instruments import find_instrument
from companion.night.sight.observer import Conditions
from companion.sky import LOON_BARRENS, Ephemeris, SearchIndex, Target, load_catalogue

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
    waits = [stop.waits_s for stop in order.stops]
    assert waits[:5] == [0.0] * 5
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


def test_nothing_is_taken_low_while_time_would_raise_it(
    ephemeris: Ephemeris, search: SearchIndex
) -> None:
    """Jupiter and M 42 are up at 10° already, and hours are left."""
    winter = night_grid(ephemeris, LOON_BARRENS, datetime(2026, 12, 10, 23, tzinfo=UTC))
    found = {}
    for name in ("m 42", "jupiter"):
        (plan,) = plan_night(
            ephemeris,
            winter,
            [search.resolve(name)],
            instrument=find_instrument("150"),
            conditions=Conditions.at(LOON_BARRENS),
        )
        opens = plan.windows[0][0]
        session = Session(opens, opens + timedelta(hours=3, minutes=30))
        (stop,) = order_plans(winter, [Wish(plan.target)], [plan], session).stops
        at_once = float(plan.curve.gain[int(winter.offset_s(opens) / 300.0) + 144])
        found[name] = (stop.altitude_deg, stop.gain - at_once)
    assert found["m 42"][0] > 15.0
    assert found["jupiter"][0] > 30.0
    assert all(more > 0.1 for _altitude, more in found.values())


def test_of_equal_targets_the_sinking_one_comes_first_and_the_rising_one_last(
    autumn: NightGrid, targets: tuple[Target, ...], plans: tuple[NightPlan, ...]
) -> None:
    rows = [NAMES.index(name) for name in ("m 42", "m 31", "m 13")]
    session = Session(DUSK, DUSK + timedelta(hours=8))
    order = order_plans(autumn, [Wish(targets[n]) for n in rows], [plans[n] for n in rows], session)
    assert [stop.target.name for stop in order.stops] == ["M 13", "M 31", "M 42"]
    assert order.gain == pytest.approx(sum(stop.gain for stop in order.stops))
    assert order.value == 3.0
    for stop in order.stops:
        curve = next(plan.curve for plan in plans if plan.target.key == stop.target.key)
        middle = stop.start_utc + (stop.end_utc - stop.start_utc) / 2
        shows = np.interp(autumn.offset_s(middle), autumn.offsets_s, curve.gain)
        assert stop.gain == pytest.approx(float(shows), abs=1e-9)


def test_of_a_long_list_the_best_of_each_half_hour_are_ordered(
    ephemeris: Ephemeris, autumn: NightGrid
) -> None:
    many = load_catalogue().deep_sky.targets[:700]
    session = Session(DUSK, DUSK + timedelta(hours=2))
    tracemalloc.start()
    order = order_queue(
        ephemeris,
        autumn,
        [Wish(target) for target in many],
        session,
        instrument=find_instrument("150"),
        conditions=Conditions.at(autumn.site),
    )
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert most < 80e6
    assert len(order.stops) + len(order.lost) == len(many)
    assert len(order.stops) >= 11
    codes = Counter(lost.code for lost in order.lost)
    assert codes[Loss.OUTRANKED] > 50
    assert codes[Loss.NO_WINDOW] > 10
    assert {lost.why for lost in order.lost if lost.code is Loss.OUTRANKED} == {
        "others show better, or are worth more, all the time it is up"
    }
    kept = sum(stop.gain for stop in order.stops) / len(order.stops)
    assert kept > 0.6


def test_clouds_hold_for_a_long_list_too(ephemeris: Ephemeris, autumn: NightGrid) -> None:
    many = load_catalogue().deep_sky.targets[:400]
    end = DUSK + timedelta(hours=1)
    session = Session(DUSK, end, blocked=(Blocked(100.0, 20.0, end),))
    order = order_queue(
        ephemeris,
        autumn,
        [Wish(target) for target in many],
        session,
        instrument=find_instrument("150"),
        conditions=Conditions.at(autumn.site),
    )
    assert order.stops
    assert all(19.5 < stop.azimuth_deg < 100.5 for stop in order.stops)
    assert any(lost.code is Loss.BLOCKED for lost in order.lost)


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


@pytest.mark.parametrize(
    ("change", "text"),
    [
        ({"end_utc": DUSK}, "is not an evening"),
        ({"end_utc": DUSK + timedelta(hours=30)}, "is not an evening"),
        ({"target_minutes": 0.0}, "outside 0.5 to 600"),
        ({"setup_minutes": -1.0}, "is not a pace"),
        ({"degrees_per_minute": 0.0}, "is not a pace"),
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
