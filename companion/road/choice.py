"""Which targets an evening has for visitors, in the night's own best order."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Final

from companion.finding import InstrumentKind
from companion.night import (
    Candidates,
    Darkness,
    Filters,
    Grade,
    NightGrid,
    NightOrder,
    PlannedStop,
    Session,
    TonightRequest,
    TonightRow,
    Wish,
    WorthFor,
    darkness,
    night_grid,
    order_queue,
    rank_tonight,
)
from companion.road.stops import HostRequest
from companion.sky import CIVIL_DEG, Catalogue, Ephemeris, Kind, Target, TargetTable

GUESTS_FIRST: Final = ("moon", "venus", "jupiter", "saturn", "mars")  # as guests see them at dusk
BODY_HIGH_DEG, HIGH_DEG = 10.0, 25.0  # no stooping, little air; what shines may stand lower
_OF_A_KIND: Final = 2
_TO_CHOOSE_FROM: Final = 120
_AROUND: Final = timedelta(minutes=20)  # windows are known to the step of the grid
_NOT_SHOWN: Final = frozenset({Kind.DARK_NEBULA, Kind.REMNANT, Kind.OTHER, Kind.PLACE, Kind.SUN})
_ROUNDS: Final = 12
_MOST_WAITING_S: Final = 120.0
_SPARES, _SPARES_A_QUARTER = 8, 2
_LEAST_VALUE: Final = 0.1
# Minutes to set dials and find, degrees a minute, and the most minutes that a turn takes then:
# eyes turn at once (common practice, no source).
_PACE: Final = {
    InstrumentKind.EYE: (0.5, 360.0, 1.5),
    InstrumentKind.BINOCULARS: (0.5, 180.0, 2.0),
    InstrumentKind.TELESCOPE: (1.5, 60.0, 4.0),
}


@dataclass(frozen=True, slots=True)
class Choice:
    """The turns in their order; ``words`` says why there are fewer than were asked for."""

    begins_utc: datetime
    stops: tuple[PlannedStop, ...]
    spares: tuple[Target, ...]
    views: dict[str, str]  # by key: what suits it
    words: str


def choose(ephemeris: Ephemeris, catalogue: Catalogue, wanted: HostRequest) -> Choice:
    """Choose for an evening from now on, or from dusk, the best that fits.

    At most two of a kind. What guests see first comes first, however low; the rest stands in the
    order that gains the eye most before windows close, with short turns.

    Raises
    ------
    AdviceError
        If the instrument is none, or the ephemeris does not cover the night.
    """
    asked = wanted.asked
    grid = night_grid(ephemeris, asked.site, asked.utc)
    night = darkness(grid)
    span = _span(ephemeris, night, wanted)
    if span is None:
        words = night.words or "the night is over"
        return Choice(asked.utc, (), (), {}, f"It is not dark enough: {words}.")
    begins, ends = span
    request = replace(
        asked,
        from_utc=begins - _AROUND,
        until_utc=ends + _AROUND,
        filters=Filters(grades=frozenset({Grade.EASY, Grade.FAIR})),
        whom=None if asked.instrument.kind is InstrumentKind.EYE else WorthFor.VISITORS,
        limit=_TO_CHOOSE_FROM,
    )
    ranked = rank_tonight(ephemeris, Candidates.of(catalogue), request, None, grid)
    rows = tuple(row for row in ranked.rows if row.target.kind not in _NOT_SHOWN)
    planner = _Planner(ephemeris, catalogue, wanted, grid, begins, ends)
    stops = planner.stops(rows)
    keys = {stop.target.key for stop in stops}
    spares = planner.spares([row for row in rows if row.target.key not in keys])
    short = wanted.targets - len(stops)
    words = f"Only {len(stops)} of {wanted.targets} stand well then." if short else ""
    views = {row.target.key: row.visibility.view for row in rows}
    return Choice(begins, stops, spares, views, words if stops else ranked.words or words)


def begin_of(ephemeris: Ephemeris, wanted: HostRequest) -> datetime | None:
    """Give when the evening begins, None where no night is left."""
    asked = wanted.asked
    span = _span(ephemeris, darkness(night_grid(ephemeris, asked.site, asked.utc)), wanted)
    return None if span is None else span[0]


def _span(
    ephemeris: Ephemeris, night: Darkness, wanted: HostRequest
) -> tuple[datetime, datetime] | None:
    """Give from when to when the evening goes at most, or None where no night is left."""
    asked = wanted.asked
    dusk = night.nautical.begins_utc or night.civil.begins_utc
    dawn = night.nautical.ends_utc or night.civil.ends_utc
    if dusk is None and _sun_deg(ephemeris, asked) > CIVIL_DEG:
        return None
    begins = asked.utc if dusk is None else max(asked.utc, dusk)
    ends = begins + evening_of(wanted.targets, wanted)
    if dawn is not None:
        ends = min(ends, dawn)
    return (begins, ends) if ends > begins else None


def evening_of(targets: int, wanted: HostRequest) -> timedelta:
    """Give how long so many targets take at most, with the turns between them."""
    turn = _PACE[wanted.asked.instrument.kind][2]
    return timedelta(minutes=targets * (wanted.minutes + turn))


def _sun_deg(ephemeris: Ephemeris, asked: TonightRequest) -> float:
    return ephemeris.moment(asked.site, asked.utc).body("sun").altitude_airless_deg


@dataclass(frozen=True, slots=True)
class _Planner:
    """The evening that everything has to fit into."""

    ephemeris: Ephemeris
    catalogue: Catalogue
    wanted: HostRequest
    grid: NightGrid
    begins: datetime
    ends: datetime

    def stops(self, rows: Sequence[TonightRow]) -> tuple[PlannedStop, ...]:
        """Give what guests see first, then the rest."""
        guests = self._guests_first(rows)
        # At once: a wait for a better sight is for those who come alone.
        until = min(self.begins + evening_of(len(guests), self.wanted), self.ends)
        first = self._prompt(guests, (self.begins, until), BODY_HIGH_DEG, None)
        stops = () if first is None else first.stops
        begins = stops[-1].end_utc if stops else self.begins
        left = self.wanted.targets - len(stops)
        taken = {stop.target.key for stop in stops}
        rest = [row for row in rows if row.target.key not in taken]
        counts = Counter(stop.target.kind for stop in stops)
        return (*stops, *self._rest(rest, begins, left, counts, stops[-1:]))

    def _guests_first(self, rows: Sequence[TonightRow]) -> list[TonightRow]:
        """Give Moon and bright planets that stand at the beginning, two planets at most."""
        bodies = [row for row in rows if row.target.body in GUESTS_FIRST and self._opens(row)]
        bodies.sort(key=lambda row: GUESTS_FIRST.index(row.target.body))
        counts: Counter[Kind] = Counter()
        return _capped(bodies, counts, self.wanted.targets)

    def _opens(self, row: TonightRow) -> bool:
        """Say whether a window is open at the beginning, as long as somebody looks."""
        until = self.begins + timedelta(minutes=self.wanted.minutes)
        return row.opens_utc <= self.begins and row.closes_utc >= until

    def _rest(
        self,
        rows: Sequence[TonightRow],
        begins: datetime,
        left: int,
        counts: Counter[Kind],
        last: Sequence[PlannedStop],
    ) -> tuple[PlannedStop, ...]:
        """Order the best that fit; what finds no place makes room for the next best."""
        if left <= 0 or begins >= self.ends:
            return ()
        tube = (last[0].azimuth_deg, last[0].altitude_deg) if last else None
        lost: set[str] = set()
        best: tuple[PlannedStop, ...] = ()
        for _round in range(_ROUNDS):
            chosen = _capped([r for r in rows if r.target.key not in lost], counts, left)
            made = self._prompt(chosen, (begins, self.ends), HIGH_DEG, tube)
            if made is None:
                break
            best = max(best, made.stops, key=_worth_queueing)
            # Nobody queues for what comes up later: it makes room, too.
            late = [stop.target.key for stop in made.stops if _is_late(stop)]
            gone = {*(one.target.key for one in made.lost), *late}
            if not gone:
                break
            lost |= gone
        return best

    def _prompt(
        self,
        rows: Sequence[TonightRow],
        span: tuple[datetime, datetime],
        lowest_deg: float,
        tube_deg: tuple[float, float] | None,
    ) -> NightOrder | None:
        """Give the night's own order, in less time where it only waits for a better sight."""
        made = self._order(rows, span, lowest_deg, tube_deg)
        waits_s = 0.0 if made is None else sum(stop.waits_s for stop in made.stops)
        if made is None or waits_s <= _MOST_WAITING_S:
            return made
        until = made.stops[-1].end_utc - timedelta(seconds=waits_s)
        again = self._order(rows, (span[0], until), lowest_deg, tube_deg)
        return again if again is not None and len(again.stops) == len(made.stops) else made

    def _order(
        self,
        rows: Sequence[TonightRow],
        span: tuple[datetime, datetime],
        lowest_deg: float,
        tube_deg: tuple[float, float] | None,
    ) -> NightOrder | None:
        """Give the night's own order of some targets."""
        if not rows:
            return None
        asked = self.wanted.asked
        setup, speed, _most = _PACE[asked.instrument.kind]
        return order_queue(
            self.ephemeris,
            self.grid,
            [Wish(row.target, max(row.value, _LEAST_VALUE)) for row in rows],
            Session(
                *span,
                target_minutes=self.wanted.minutes,
                setup_minutes=setup,
                degrees_per_minute=speed,
                tube_deg=tube_deg,
            ),
            instrument=asked.instrument,
            conditions=asked.conditions,
            doubles=self.catalogue.names.doubles,
            low_limit_deg=max(lowest_deg, asked.low_limit_deg),
        )

    def spares(self, rows: Sequence[TonightRow]) -> tuple[Target, ...]:
        """Give the next best in each quarter of the sky, in the middle of the evening."""
        if not rows:
            return ()
        middle = self.begins + (self.ends - self.begins) / 2
        table = TargetTable.of(tuple(row.target for row in rows), middle)
        there = self.ephemeris.moment(self.wanted.asked.site, middle).horizontal(table)
        found: list[Target] = []
        counts: Counter[int] = Counter()
        for at, row in enumerate(rows):
            quarter = int(there.azimuth_deg[at] // 90.0)
            high = there.altitude_deg[at] >= HIGH_DEG
            open_then = row.opens_utc <= middle <= row.closes_utc
            if high and open_then and counts[quarter] < _SPARES_A_QUARTER:
                counts[quarter] += 1
                found.append(row.target)
        return tuple(found[:_SPARES])


def _is_late(stop: PlannedStop) -> bool:
    return stop.waits_s > _MOST_WAITING_S


def _worth_queueing(stops: Sequence[PlannedStop]) -> tuple[int, float]:
    """Give how many come one after the other, and how little is waited."""
    return sum(not _is_late(stop) for stop in stops), -sum(stop.waits_s for stop in stops)


def _capped(rows: Sequence[TonightRow], before: Counter[Kind], most: int) -> list[TonightRow]:
    """Give the best with at most two of a kind, those before counted."""
    counts, chosen = before.copy(), list[TonightRow]()
    for row in rows:
        if len(chosen) < most and counts[row.target.kind] < _OF_A_KIND:
            counts[row.target.kind] += 1
            chosen.append(row)
    return chosen
