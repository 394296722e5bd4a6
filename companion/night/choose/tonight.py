"""The whole sky ranked for one night: what is worth aiming at, when, and why."""

from dataclasses import dataclass, field
from datetime import datetime

import numpy as np

from companion.arrays import BoolArray, FloatArray, RowArray
from companion.finding import Instrument, InstrumentKind
from companion.night.choose.candidates import Candidates
from companion.night.choose.filters import Filters
from companion.night.choose.reasons import Reason, reason_text
from companion.night.choose.worth import WorthFor, worth_through
from companion.night.hours.darkness import Darkness, darkness
from companion.night.hours.grid import NightGrid, night_grid
from companion.night.hours.my_hours import MyHours
from companion.night.hours.night_sky import NightSky
from companion.night.hours.places import Places, spots_at
from companion.night.hours.plan_words import stands_text
from companion.night.hours.scan import LOW_LIMIT_DEG, Scan, Scanner
from companion.night.hours.sky_source import SkySource
from companion.night.progress import Progress
from companion.night.sight.grades import grade_numbers, uncertainty_mag
from companion.night.sight.judgement import judge
from companion.night.sight.objects import NightObjects
from companion.night.sight.observer import Conditions
from companion.night.sight.reach import Reach
from companion.night.sight.views import views_of
from companion.night.sight.visibility import Visibility, visibility_of
from companion.sky import Site, Target, clock_text, zone_of

# What a grade adds to a target's worth, easy first: hard ones are for those who ask for them.
_GRADE_WORTH = np.array([3.0, 2.0, 0.0, -2.0, -8.0, -8.0])
_HIGH_WORTH, _HIGH_DEG = 1.5, 60.0  # what standing high adds, in full from this altitude on


@dataclass(frozen=True, slots=True)
class TonightRequest:
    """One question to the night.

    ``from_utc`` and ``until_utc`` cut a part out of it, and so do the person's own ``hours``.
    Targets whose keys are in ``seen_keys`` have been seen before. ``whom`` says for whom the list
    is, None for whoever uses the instrument. ``limit`` is the most rows to put into words.
    """

    site: Site
    utc: datetime  # any moment: the night it is in, or by day the coming one
    instrument: Instrument
    conditions: Conditions
    filters: Filters = field(default_factory=Filters)
    seen_keys: frozenset[str] = frozenset()
    low_limit_deg: float = LOW_LIMIT_DEG
    from_utc: datetime | None = None
    until_utc: datetime | None = None
    hours: MyHours | None = None
    whom: WorthFor | None = None
    limit: int = 60


@dataclass(frozen=True, slots=True)
class TonightRow:
    """One target at its best tonight.

    ``value`` ranks it; ``why`` and ``when`` are words for a person, ``reason`` the code of what
    there is to see.
    """

    target: Target
    visibility: Visibility
    value: float
    best_utc: datetime
    opens_utc: datetime  # of the window around the best time, to the step of the grid
    closes_utc: datetime
    transit_utc: datetime
    altitude_deg: float
    azimuth_deg: float
    seen: bool
    reason: Reason
    why: str
    when: str

    @property
    def line(self) -> str:
        """Why and when, in one line."""
        return f"{self.why}; {self.when}"


@dataclass(frozen=True, slots=True)
class Tonight:
    """The ranked list. ``words`` says why it is empty or unusual, and is empty otherwise."""

    rows: tuple[TonightRow, ...]
    darkness: Darkness
    considered: int  # candidates that passed the filters which need no computing
    passed: int  # of these, how many pass all filters; ``rows`` holds the best of them
    words: str


def rank_tonight(
    sky: SkySource,
    candidates: Candidates,
    request: TonightRequest,
    progress: Progress | None = None,
    grid: NightGrid | None = None,
) -> Tonight:
    """Rank everything for the night of a moment.

    Parameters
    ----------
    sky : SkySource
        The ephemeris.
    candidates : Candidates
        Made once a session.
    request : TonightRequest
        Where, when, with what, and what is wanted.
    progress : callable, optional
        Takes the part that is done; gives False to stop.
    grid : NightGrid, optional
        The same night's grid, where it is known already.

    Raises
    ------
    AdviceError
        If the instrument is none, or the ephemeris does not cover the night.
    Cancelled
        If ``progress`` says so.
    """
    views = views_of(request.instrument, request.conditions.observer)
    grid = grid or night_grid(sky, request.site, request.utc)
    night = darkness(grid)
    steps = np.flatnonzero(_wanted_steps(grid, request))
    rows = request.filters.rows(candidates, request.seen_keys)
    if not (rows.size and steps.size):
        return Tonight((), night, int(rows.size), 0, _why_empty(rows, steps, request))
    by_eye = request.instrument.kind is InstrumentKind.EYE
    instrument = worth_through(request.instrument.kind)
    worth = candidates.worth.values(request.whom or instrument, instrument)
    kept = ~np.isnan(worth) & (candidates.by_eye if by_eye else True)
    rows = rows[kept[rows]]
    chosen = candidates.singles if by_eye else candidates.objects
    objects = chosen.take(rows).with_magnitudes(
        {name: track.magnitude for name, track in grid.tracks.items()}
    )
    places = Places.of(sky, grid, objects.targets)
    scanner = Scanner(
        NightSky.of(grid, steps, request.conditions), request.conditions, request.low_limit_deg
    )
    scan = scanner.scan(places, objects, Reach.of(objects, views, request.conditions), progress)
    up = np.flatnonzero(scan.up)
    reasons = tuple(candidates.worth.reasons[row] for row in rows[up].tolist())
    found = _Found(worth[rows[up]], reasons, objects.take(up), places.take(up), _rows(scan, up))
    return _listed(found, request, night, int(rows.size))


@dataclass(frozen=True, slots=True, eq=False)
class _Found:
    """What comes over the horizon tonight; arrays of one length."""

    worth: FloatArray
    reasons: tuple[Reason, ...]
    objects: NightObjects
    places: Places
    scan: Scan

    def take(self, rows: RowArray) -> "_Found":
        return _Found(
            self.worth[rows],
            tuple(self.reasons[row] for row in rows.tolist()),
            self.objects.take(rows),
            self.places.take(rows),
            _rows(self.scan, rows),
        )


def _rows(scan: Scan, rows: RowArray) -> Scan:
    return Scan(scan.best[rows], scan.first[rows], scan.last[rows], scan.reach_mag[rows])


def _listed(found: _Found, request: TonightRequest, night: Darkness, considered: int) -> Tonight:
    """Grade, filter, sort, and put the best into words."""
    spots, azimuth = spots_at(found.places, found.scan.best, request.conditions)
    margin = found.scan.reach_mag - found.objects.magnitude
    margin[found.objects.always] = np.inf
    sigma = uncertainty_mag(found.objects, spots.altitude_deg, request.conditions)
    grade = grade_numbers(margin, sigma, found.objects.guessed, found.objects.brighter_mag)
    passes = request.filters.pass_at_best(grade, spots.altitude_deg, azimuth)
    value = found.worth + _GRADE_WORTH[grade]
    value += _HIGH_WORTH * np.minimum(spots.altitude_deg / _HIGH_DEG, 1.0)
    wanted = np.flatnonzero(passes)
    ranked = wanted[np.argsort(-value[wanted], kind="stable")][: max(request.limit, 0)]
    words = night.words or ("" if wanted.size else "nothing passes: ask for less")
    rows = _rows_in_words(found.take(ranked), value[ranked], request)
    return Tonight(rows, night, considered, int(wanted.size), words)


def _rows_in_words(
    found: _Found, value: FloatArray, request: TonightRequest
) -> tuple[TonightRow, ...]:
    if not len(found.places):
        return ()
    grid, scan = found.places.grid, found.scan
    spots, azimuth = spots_at(found.places, scan.best, request.conditions)
    views = views_of(request.instrument, request.conditions.observer)
    judgement = judge(found.objects, spots, views, request.conditions)
    transit = found.places.transit_offset_s()
    zone = zone_of(request.site.time_zone)
    by_eye = request.instrument.kind is InstrumentKind.EYE
    rows = []
    for row, target in enumerate(found.objects.targets):
        visibility = visibility_of(judgement, row)
        best = grid.utc(grid.offsets_s[scan.best[row]])
        clock = clock_text(best.astimezone(zone))
        stands = stands_text(float(spots.altitude_deg[row]), float(azimuth[row]))
        words = (
            reason_text(found.reasons[row], by_eye=by_eye),
            visibility.words,
        )
        rows.append(
            TonightRow(
                target=target,
                visibility=visibility,
                value=float(value[row]),
                best_utc=best,
                opens_utc=grid.utc(grid.offsets_s[scan.first[row]]),
                closes_utc=grid.utc(grid.offsets_s[scan.last[row]]),
                transit_utc=grid.utc(transit[row]),
                altitude_deg=float(spots.altitude_deg[row]),
                azimuth_deg=float(azimuth[row]),
                seen=target.key in request.seen_keys,
                reason=found.reasons[row],
                why="; ".join(filter(None, words)),
                when=f"best {clock}, {stands}",
            )
        )
    return tuple(rows)


def _wanted_steps(grid: NightGrid, request: TonightRequest) -> BoolArray:
    """Find the steps of the night that the times and the person's own hours leave."""
    wanted = grid.steps_between(request.from_utc, request.until_utc)
    if request.hours is not None:
        zone = zone_of(request.site.time_zone)
        wanted &= grid.steps_between(*request.hours.of_night(grid.middle_utc, zone))
    return wanted


def _why_empty(rows: RowArray, steps: RowArray, request: TonightRequest) -> str:
    if not steps.size and request.hours is not None:
        return f"nothing of the night is left within your hours, {request.hours.words}"
    if not steps.size:
        return "the given times are not in the night: the Sun is up then"
    return "nothing passes the filters" if not rows.size else ""
