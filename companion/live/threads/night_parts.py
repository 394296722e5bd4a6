"""Small parts of the planner's answers: spans of a night, filters, curves.

Imported only in the planner's thread: it brings numpy.
"""

from datetime import datetime, timedelta

from companion.finding import Instrument
from companion.live.night_questions import Around, BodyCurve, Ease, Seen, Wanted
from companion.night import (
    Darkness,
    Filters,
    Grade,
    MyHours,
    NightGrid,
    Track,
    darkness,
    find_instrument,
)
from companion.sky import zone_of

USUAL = "10×50"  # for somebody who named no instrument
_MARGIN = timedelta(minutes=40)  # of daylight at both ends of the drawing
EASY = frozenset({Grade.EASY})
OFFERED, OFFERED_BY_EYE = 5, 2  # rows for somebody who begins, and how many of them by eye
OFFERED_FOR = timedelta(hours=1)
OFFERED_FROM_DEG = 20.0  # altitude: no stooping, little air
_EASES = {
    Ease.EASY: EASY,
    Ease.FAIR: frozenset({Grade.EASY, Grade.FAIR}),
    Ease.ALL: frozenset({Grade.EASY, Grade.FAIR, Grade.HARD, Grade.DOUBTFUL}),
}
SEEN = {Seen.ALL: None, Seen.NEVER: False, Seen.BEFORE: True}


def instrument_of(around: Around) -> Instrument:
    """Give the instrument of a question, or the usual binoculars."""
    return around.instrument or find_instrument(USUAL)


def filters_of(wanted: Wanted) -> Filters:
    """Turn what a person wants into filters."""
    return Filters(
        kinds=wanted.kinds.members,
        constellations=frozenset({wanted.constellation} if wanted.constellation else ()),
        azimuths_deg=wanted.side.azimuths_deg,
        lowest_deg=wanted.lowest_deg,
        grades=_EASES[wanted.ease],
        seen=SEEN[wanted.seen],
    )


def curve_of(name: str, track: Track) -> BodyCurve:
    """Turn a body's track into what is drawn."""
    return BodyCurve(
        name,
        track.body,
        tuple(track.altitude_deg.tolist()),
        float(track.lit_fraction[len(track.lit_fraction) // 2]),
        track.magnitude,
    )


def shown_span(grid: NightGrid, night: Darkness) -> tuple[datetime, datetime]:
    """Bound the drawing by sunset and sunrise; all of noon to noon where there is none."""
    first, last = grid.utc(grid.offsets_s[0]), grid.utc(grid.offsets_s[-1])
    down = night.sun_down
    begins = first if down.begins_utc is None else max(first, down.begins_utc - _MARGIN)
    ends = last if down.ends_utc is None else min(last, down.ends_utc + _MARGIN)
    return begins, ends


def holds(grid: NightGrid, utc: datetime) -> bool:
    """Say whether a grid is that of the night a moment belongs to, dawn and dusk included."""
    begins, ends = shown_span(grid, darkness(grid))
    return begins <= utc <= ends


def evening_of(grid: NightGrid, around: Around) -> tuple[datetime, datetime]:
    """Give when observing begins and ends: now or at dusk, at dawn, within the person's hours.

    Raises
    ------
    AdviceError
        If the hours leave nothing of the night.
    """
    night = darkness(grid)
    dusk = night.nautical.begins_utc or night.sun_down.begins_utc or around.utc
    start = max(around.utc, dusk)
    end = _dawn_of(night, start)
    hours = MyHours.of(around.hours)
    if hours is None:
        return start, end
    return hours.left_of(start, end, grid.middle_utc, zone_of(around.site.time_zone))


def _dawn_of(night: Darkness, utc: datetime) -> datetime:
    """Give when a night's observing ends at the latest."""
    for ends in (night.nautical.ends_utc, night.sun_down.ends_utc):
        if ends is not None and ends > utc:
            return ends
    return utc + timedelta(hours=8)
