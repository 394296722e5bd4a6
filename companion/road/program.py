"""The host's evening: so many targets for a group, so many minutes each, in a good order."""

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Final

from companion.advice import AdviceError, check_within
from companion.finding import Instrument, InstrumentKind, Viewing, seen_vectors, stand_words
from companion.night import (
    Candidates,
    Filters,
    Grade,
    TonightRequest,
    TonightRow,
    WorthFor,
    darkness,
    night_grid,
    rank_tonight,
)
from companion.road.evening import Evening
from companion.road.looks import LOOKS, USUAL
from companion.road.things import Saying, saying_of
from companion.sky import Catalogue, Ephemeris, Kind, Target, TargetTable

MOST_TARGETS: Final = 20
_LONGEST_MIN: Final = 120.0
_FIRST: Final = ("moon", "venus", "jupiter", "saturn", "mars")  # as guests see them at dusk
_OF_A_KIND: Final = 2
_HIGH_DEG: Final = 25.0  # no stooping, little air
_BODY_HIGH_DEG: Final = 10.0
_TO_CHOOSE_FROM: Final = 120
_AROUND: Final = timedelta(minutes=20)
_ANOTHER_PART_DEG: Final = 75.0
_NOT_SHOWN: Final = frozenset({Kind.DARK_NEBULA, Kind.REMNANT, Kind.OTHER, Kind.PLACE, Kind.SUN})
_CHILD_M, _STEP_M = 1.15, 1.65


@dataclass(frozen=True, slots=True)
class Stop:
    """One target of the evening at its turn, with all that is said.

    ``eye`` is what those who wait look at. ``if_clouds`` is the name of what stands in another part
    of the sky, empty where nothing does. ``eyepiece_m`` is the eyepiece's height above the ground;
    None without a telescope, or where nobody said how high its altitude axis is.
    """

    target: Target
    begins_utc: datetime
    azimuth_deg: float
    altitude_deg: float
    where: str
    saying: Saying
    eye: str
    if_clouds: str
    eyepiece_m: float | None
    stand: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """What visitors take home: the sky as they stand, what they saw, three things for next week."""

    group: str
    points: tuple[str, ...]
    saw: tuple[str, ...]
    next_week: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Program:
    """The host's evening; ``words`` says what is short of what was asked."""

    begins_utc: datetime
    minutes: float
    stops: tuple[Stop, ...]
    sheet: Sheet
    words: str


def program(
    ephemeris: Ephemeris,
    catalogue: Catalogue,
    asked: TonightRequest,
    *,
    targets: int,
    minutes: float,
    axis_m: float | None = None,
) -> Program:
    """Give a program of so many targets with so many minutes each, from now or from dusk on.

    At most two of a kind; what guests see first comes first, then what goes down before its turn
    would come, then what is nearest to turn to. Nothing in it sets before its turn is over.
    ``axis_m`` is the height of the mount's altitude axis, where somebody measured it.

    Raises
    ------
    AdviceError
        If the numbers are none that an evening has.
    """
    if not 1 <= targets <= MOST_TARGETS:
        raise AdviceError(f"{targets} targets are not an evening.", f"Give 1 to {MOST_TARGETS}.")
    if not 1.0 <= minutes <= _LONGEST_MIN:
        raise AdviceError(f"{minutes:g} minutes a target is not a pace.", "Give 1 to 120 minutes.")
    if axis_m is not None:
        check_within("height of the axis", axis_m, 0.1, 5.0, " m")
    grid = night_grid(ephemeris, asked.site, asked.utc)
    night = darkness(grid)
    starts = night.nautical.begins_utc or night.civil.begins_utc
    begins = asked.utc if starts is None else max(asked.utc, starts)
    until = begins + timedelta(minutes=targets * minutes)
    request = replace(
        asked,
        from_utc=begins - _AROUND,  # windows are known to the step of the grid
        until_utc=until + _AROUND,
        filters=Filters(grades=frozenset({Grade.EASY, Grade.FAIR})),
        whom=WorthFor.VISITORS,
        limit=_TO_CHOOSE_FROM,
    )
    found = rank_tonight(ephemeris, Candidates.of(catalogue), request, None, grid)
    evening = Evening(catalogue, ephemeris.moment(asked.site, begins), asked.conditions)
    slots = [begins + timedelta(minutes=minutes * row) for row in range(targets)]
    placed = _placed(ephemeris, asked, found.rows, slots, minutes)
    stops = _told(evening, asked.instrument, placed, axis_m)
    short = targets - len(stops)
    words = f"Only {len(stops)} of {targets} stand well then." if short else ""
    return Program(begins, minutes, stops, _sheet(evening, stops), found.words or words)


@dataclass(frozen=True, slots=True)
class _Placed:
    row: TonightRow
    begins_utc: datetime
    azimuth_deg: float
    altitude_deg: float


def _placed(
    ephemeris: Ephemeris,
    asked: TonightRequest,
    rows: Sequence[TonightRow],
    slots: Sequence[datetime],
    minutes: float,
) -> list[_Placed]:
    """Fill the turns one after the other."""
    chosen: list[_Placed] = []
    left = [row for row in rows if row.target.kind not in _NOT_SHOWN]
    counts: Counter[Kind] = Counter()
    for slot in slots:
        left = [row for row in left if counts[row.target.kind] < _OF_A_KIND]
        here = _where(ephemeris, asked, left, slot, slot + timedelta(minutes=minutes))
        if not here:
            continue
        before = chosen[-1] if chosen else None
        best = min(here, key=lambda one: _worse(one, before, counts, slots[-1]))
        chosen.append(best)
        counts[best.row.target.kind] += 1
        left.remove(best.row)
    return chosen


def _where(
    ephemeris: Ephemeris,
    asked: TonightRequest,
    rows: Sequence[TonightRow],
    begins: datetime,
    ends: datetime,
) -> list[_Placed]:
    """Give what stands well from the beginning of a turn to its end, at its beginning."""
    if not rows:
        return []
    table = TargetTable.of(tuple(row.target for row in rows), begins)
    first = ephemeris.moment(asked.site, begins).horizontal(table)
    last = ephemeris.moment(asked.site, ends).horizontal(table)
    found = []
    for at, row in enumerate(rows):
        low = min(float(first.altitude_deg[at]), float(last.altitude_deg[at]))
        clear = row.opens_utc <= begins and row.closes_utc >= ends
        if clear and low >= (_BODY_HIGH_DEG if row.target.body else _HIGH_DEG):
            azimuth, altitude = float(first.azimuth_deg[at]), float(first.altitude_deg[at])
            found.append(_Placed(row, begins, azimuth, altitude))
    return found


def _worse(
    one: _Placed, before: _Placed | None, counts: Counter[Kind], last: datetime
) -> tuple[int, int, float]:
    """Give what the better next target has less of."""
    target = one.row.target
    if target.body in _FIRST:
        return 0, _FIRST.index(target.body), 0.0
    goes = 1 if one.row.closes_utc < last else 2
    turn = 0.0 if before is None else abs((one.azimuth_deg - before.azimuth_deg + 180) % 360 - 180)
    return goes, counts[target.kind], turn / 60.0 - one.row.value


def _told(
    evening: Evening,
    instrument: Instrument,
    placed: Sequence[_Placed],
    axis_m: float | None,
) -> tuple[Stop, ...]:
    eyes = _eye_targets(evening)
    stops = []
    for row, one in enumerate(placed):
        height = _eyepiece_m(instrument, one.altitude_deg, axis_m)
        vector = seen_vectors(one.azimuth_deg, one.altitude_deg)
        stops.append(
            Stop(
                one.row.target,
                one.begins_utc,
                one.azimuth_deg,
                one.altitude_deg,
                stand_words(vector),
                saying_of(one.row.target),
                eyes[row % len(eyes)] if eyes else "",
                _elsewhere(one, placed),
                height,
                _stand(height),
            )
        )
    return tuple(stops)


def _eye_targets(evening: Evening) -> list[str]:
    """Give what people look at by eye while they queue."""
    found = [f"{target.name}, {stand_words(place.vector)}" for target, place in evening.planets[:2]]
    if evening.group is not None:
        found.append(f"{evening.group.called}: {LOOKS.get(evening.group.key, USUAL)[0]}")
    found += [lead.sentence for lead in evening.leads]
    return found


def _elsewhere(one: _Placed, placed: Sequence[_Placed]) -> str:
    """Name what of the program stands in another part of the sky."""
    for other in placed:
        apart = abs((other.azimuth_deg - one.azimuth_deg + 180.0) % 360.0 - 180.0)
        if apart >= _ANOTHER_PART_DEG:
            return other.row.target.name
    return ""


def _eyepiece_m(instrument: Instrument, altitude_deg: float, axis_m: float | None) -> float | None:
    """Give the eyepiece's height: at the upper end of a Newtonian, at the lower end of others.

    How far it is from the axis is common practice, no source: 0.6 and 0.5 of the focal length.
    """
    if (
        axis_m is None
        or instrument.kind is not InstrumentKind.TELESCOPE
        or instrument.focal_mm is None
    ):
        return None
    tube_m = instrument.focal_mm / 1000.0
    at_the_top = instrument.viewing is Viewing.TURNED
    arm_m = 0.6 * tube_m if at_the_top else -0.5 * min(tube_m, 1.2)
    return max(axis_m + arm_m * math.sin(math.radians(altitude_deg)), 0.3)


def _stand(height_m: float | None) -> str:
    """Say who needs what to look in."""
    if height_m is None:
        return ""
    if height_m < _CHILD_M:
        return "children stand, adults bend or sit"
    if height_m < _STEP_M:
        return "adults stand, a child needs a step; hold it"
    return "a broad step for everybody, lit red, one hand on it"


def _sheet(evening: Evening, stops: Sequence[Stop]) -> Sheet:
    group = evening.group
    name = "" if group is None else group.called
    week = [f"{t.name}: the steady light {stand_words(p.vector)}" for t, p in evening.planets[:1]]
    week += [lead.sentence for lead in evening.leads[: 3 - len(week)]]
    if len(week) < 3:
        week.append("The Moon: which side of it is lit?")
    if len(week) < 3 and name:
        week.append(f"{name}: where does it stand at the same hour?")
    if len(week) < 3:
        week.append("Where the Sun sets: what on the horizon marks it?")
    return Sheet(
        name,
        tuple(lead.sentence for lead in evening.leads[:3]),
        tuple(stop.target.name for stop in stops),
        tuple(week[:3]),
    )
