"""Plausible fixed facts of a night: nothing here is computed, nothing is a check value."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from math import sin
from pathlib import Path
from typing import Any

import numpy as np
from PySide6.QtCore import Signal

from companion.journal import Entry, Held, Lifetime, Night, Outcome, SeenTarget, Tick, to_plain
from companion.live import (
    Around,
    BodyCurve,
    FamousLists,
    ImportQuestion,
    ImportView,
    ListQuestion,
    ListView,
    NightModel,
    NightQuestion,
    Nights,
    NightView,
    OrderQuestion,
    OrderView,
    OrderWishes,
    Wanted,
)
from companion.night import (
    Curve,
    Darkness,
    Grade,
    ImportedList,
    Loss,
    Lost,
    NightOrder,
    NightPlan,
    PlannedStop,
    Reason,
    Tonight,
    TonightRow,
    Twilights,
    Visibility,
    find_instrument,
)
from companion.sky import LOON_BARRENS, Site, Target
from window.standing_in import StandIn

NOON = datetime(2026, 10, 10, 16, 0, tzinfo=UTC)
STEPS = 289
NOW = datetime(2026, 10, 10, 23, 14, 7, tzinfo=UTC)
AROUND = Around(LOON_BARRENS, NOW, None, 10.0)


def at(hours: float) -> datetime:
    return NOON + timedelta(hours=hours)


def heights(top_h: float, highest: float) -> tuple[float, ...]:
    return tuple(highest - abs(step / 12 - top_h) * 11.0 + 2.0 * sin(step) for step in range(STEPS))


def seen(words: str = "easy at 48×, 3.7 magnitudes to spare") -> Visibility:
    return Visibility(Grade.EASY, 3.7, 0.4, 48.0, "25 mm", ("rings plain",), words)


def plan(target: Target, number: int, *, never: bool = False) -> NightPlan:
    top = 6.0 + number % 9
    altitude = np.array(heights(top, 40.0 + (number * 13) % 50))
    curve = Curve(
        altitude,
        np.linspace(90.0, 270.0, STEPS),
        altitude * 0 + 8,
        altitude * 0 + 2,
        altitude * 0 + 4,
        np.clip(altitude / 90.0, 0.0, 1.0),
    )
    windows = () if never else ((at(max(6.5, top - 3)), at(min(17.0, top + 3))),)
    return NightPlan(
        target=target,
        windows=windows,
        best_utc=None if never else at(top),
        best_altitude_deg=50.0,
        best_azimuth_deg=180.0,
        transit_utc=at(top),
        rises_utc=None,
        sets_utc=None,
        visibility=seen(),
        words="not tonight: it stays below the horizon" if never else "19:24–05:43, best 00:34",
        curve=curve,
    )


DARK = Darkness(
    sun_down=Twilights(at(5.5), at(18.3)),
    civil=Twilights(at(6.0), at(17.8)),
    nautical=Twilights(at(6.6), at(17.2)),
    dark=Twilights(at(7.2), at(16.7)),
    moonrise_utc=None,
    moonset_utc=at(9.0),
    moon_lit_fraction=0.31,
    moonless=((at(9.0), at(16.7)),),
    words="",
)


def view(targets: Sequence[Target], **changes: Any) -> NightView:
    times = tuple(NOON.timestamp() + 300.0 * step for step in range(STEPS))
    base = NightView(
        question=NightQuestion(AROUND, tuple(targets)),
        begins_utc=at(4.8),
        ends_utc=at(19.0),
        times_s=times,
        sun_altitude_deg=tuple(abs(step / 12 - 12.0) * 8.0 - 51.0 for step in range(STEPS)),
        moon=BodyCurve("Moon", "moon", heights(4.0, 30.0), 0.31, -11.0),
        planets=(BodyCurve("Jupiter", "jupiter", heights(17.0, 45.0), 1.0, -2.3),),
        plans=tuple(plan(one, number, never=number == 3) for number, one in enumerate(targets)),
        darkness=DARK,
        instrument=find_instrument("150"),
        zenith_mag=21.0,
        sky_assumed=True,
    )
    return replace(base, **changes)


def order(targets: Sequence[Target], *, lost: int = 2) -> OrderView:
    stops = tuple(
        PlannedStop(
            target=target,
            value=1.0,
            turn_begins_utc=at(7.0 + number / 6),
            start_utc=at(7.0 + number / 6 + 0.03),
            end_utc=at(7.0 + number / 6 + 0.16),
            waits_s=0.0,
            turn_deg=None if number == 0 else 23.0,
            azimuth_deg=171.0,
            altitude_deg=41.0,
            closes_utc=at(12.0 + number / 6),
            spare_s=1800.0,
            gain=0.9,
        )
        for number, target in enumerate(targets[: len(targets) - lost])
    )
    gone = tuple(
        Lost(one, 1.0, "it sets at 20:41, before its turn", Loss.TIME_TAKEN)
        for one in targets[len(targets) - lost :]
    )
    made = NightOrder(stops, gone, float(len(stops)), 0.9 * len(stops), 213.0, exact=False)
    return OrderView(OrderQuestion(AROUND, tuple(targets), None, 8.0), made)


def ranked(targets: Sequence[Target], *, words: str = "", site: Site = LOON_BARRENS) -> ListView:
    rows = tuple(
        TonightRow(
            target=target,
            visibility=seen(),
            value=9.0 - number,
            best_utc=at(9.0),
            opens_utc=at(7.0),
            closes_utc=at(12.0),
            transit_utc=at(9.0),
            altitude_deg=47.0,
            azimuth_deg=180.0,
            seen=number == 1,
            reason=Reason.BALL,
            why="easy at 48×, 3.7 magnitudes to spare; larger than the field",
            when="best 00:34, 47° up",
        )
        for number, target in enumerate(targets)
    )
    tonight = Tonight(rows, DARK, 14440, len(rows), words)
    return ListView(
        ListQuestion(replace(AROUND, site=site), Wanted(), frozenset()),
        tonight,
        find_instrument("150"),
    )


def imported(*, remarks: int) -> ImportView:
    lines = [f"Line {n}: “xyz {n}” left out. Nothing is called exactly so." for n in range(remarks)]
    return ImportView(ImportQuestion(Path("winter.csv")), ImportedList((), tuple(lines), 40))


class FakeNight(StandIn):
    """A night over fixed facts; it keeps what it was told."""

    real = NightModel
    own = frozenset({"shares"})

    changed = Signal()

    def __init__(self, targets: Sequence[Target]) -> None:
        super().__init__()
        self.view: NightView | None = view(targets)
        self.list: ListView | None = None
        self.round: ListView | None = None
        self.order: OrderView | None = None
        self.report: Any = None
        self.wanted = Wanted()
        self.accepted = False
        self.planned: dict[str, datetime] = {}
        self.wishes = OrderWishes()
        self.order_words: tuple[str, ...] = ("8 minutes each", "clouds in the west until 20:44")
        self.shares: dict[type, float] = {}

    def share(self, kind: type) -> float | None:
        return self.shares.get(kind)

    def want(self, wanted: Wanted) -> None:
        self.wanted = wanted
        self.told.append(("want", wanted))
        self.changed.emit()

    def cancel(self) -> bool:
        self.told.append(("cancel",))
        busy = bool(self.shares)
        self.shares.clear()
        self.changed.emit()
        return busy


def tick(number: int, target: Target, night: str, outcome: Outcome, note: str = "") -> Tick:
    return Tick(
        number=number,
        night=night,
        utc=NOW + timedelta(minutes=number),
        key=target.key,
        name=target.name,
        outcome=outcome,
        note=note,
        instrument="10×50",
        target=to_plain(target),
        site=to_plain(LOON_BARRENS),
        altitude_deg=41.0,
        azimuth_deg=171.0,
    )


def journal(targets: Sequence[Target]) -> tuple[Lifetime, dict[Held, Tick]]:
    outcomes = [Outcome.FOUND, Outcome.FOUND, Outcome.NOT_SEEN, Outcome.SKIPPED]
    nights = ("2026-10-10", "2026-09-12")
    ticks = [
        tick(
            number,
            target,
            nights[number % 2],
            outcomes[number % 4],
            "a smoke ring, plain at 48× once the eye had rested" if number == 2 else "",
        )
        for number, target in enumerate(targets)
    ]
    known = {Held(one.number, one.key, one.outcome, None, bool(one.note)): one for one in ticks}
    held = {
        night: tuple(one for one, tick in known.items() if tick.night == night) for night in nights
    }
    found = [one for night in nights for one in reversed(held[night])]
    seen = tuple(SeenTarget(one, 1) for one in found if one.outcome is Outcome.FOUND)
    counted = (Night(nights[0], 3, 3, 0), Night(nights[1], 3, 0, 3))
    return Lifetime(counted, held, seen), known


class FakeNights(StandIn):
    """All nights of a journal, read already."""

    real = Nights

    changed = Signal()

    def __init__(self, view: Lifetime | None, entries: Mapping[Held, Entry | None]) -> None:
        super().__init__()
        self.view = view
        self._entries = entries
        self.lists = FamousLists(frozenset({"ngc:M 13"}), frozenset())

    def load(self, held: Sequence[Held]) -> None:
        assert all(one in self._entries for one in held)

    def entry(self, held: Held) -> Entry | None:
        return self._entries.get(held)

    def knows(self, held: Held) -> bool:
        return held in self._entries
