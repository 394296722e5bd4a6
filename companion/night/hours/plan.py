"""The night of single targets: windows, best time, transit, and their curves."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from companion.arrays import BoolArray, FloatArray, RowArray
from companion.finding import Instrument, InstrumentKind
from companion.night.hours.grid import NightGrid
from companion.night.hours.night_sky import NightSky
from companion.night.hours.places import Places, spots_at
from companion.night.hours.plan_words import PlanFacts, plan_words
from companion.night.hours.scan import LOW_LIMIT_DEG, Curves, Scanner, window_floor
from companion.night.hours.sky_source import SkySource
from companion.night.hours.spans import Span, linear_spans, spans_above
from companion.night.hours.turning import refracted
from companion.night.sight.gain import eye_gain
from companion.night.sight.judgement import Judgement, judge
from companion.night.sight.objects import NightObjects
from companion.night.sight.observer import Conditions
from companion.night.sight.reach import Reach
from companion.night.sight.views import views_of
from companion.night.sight.visibility import Visibility, visibility_of
from companion.sky import HORIZON_REFRACTION_DEG, DoubleStar, Target, horizon_altitude_deg

Window = tuple[datetime, datetime]

_MAG_PER_DEG = 10.0  # brings magnitudes and degrees to one scale: only the sign counts


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """One target over the whole grid of the night, noon to noon; arrays of shape (steps,).

    ``reach_mag`` is the faintest magnitude that would show in its place, ``margin_mag`` how much
    brighter than that the target is: NaN where its brightness is not known. ``gain`` is how much
    of it the eye gains, 0 to 1, whether or not it is of use then.
    """

    altitude_deg: FloatArray
    azimuth_deg: FloatArray
    reach_mag: FloatArray
    margin_mag: FloatArray
    horizon_deg: FloatArray  # the site's own, in the target's direction
    gain: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class NightPlan:
    """One target's night. ``windows`` are empty and ``best_utc`` is None where it has no use.

    ``windows`` hold while the target is over horizon and low limit, the sky is dark enough and it
    shows through the instrument; of what never shows, while it would show best.
    """

    target: Target
    windows: tuple[Window, ...]
    best_utc: datetime | None
    best_altitude_deg: float
    best_azimuth_deg: float
    transit_utc: datetime
    rises_utc: datetime | None  # within the grid; None where it does not
    sets_utc: datetime | None
    visibility: Visibility  # at the best time, else where it stands highest in the night
    words: str
    curve: Curve


def plan_night(
    sky: SkySource,
    grid: NightGrid,
    targets: Sequence[Target],
    *,
    instrument: Instrument,
    conditions: Conditions,
    doubles: Mapping[int, DoubleStar] | None = None,
    low_limit_deg: float = LOW_LIMIT_DEG,
) -> tuple[NightPlan, ...]:
    """Plan the night of some targets, in their order.

    Raises
    ------
    AdviceError
        If the instrument is none, or the ephemeris does not cover the night.
    """
    if not targets:
        return ()
    views = views_of(instrument, conditions.observer)
    # Nobody expects the bare eye to part double stars.
    pairs = None if instrument.kind is InstrumentKind.EYE else doubles
    objects = NightObjects.of(targets, pairs).with_magnitudes(
        {name: track.magnitude for name, track in grid.tracks.items()}
    )
    places = Places.of(sky, grid, objects.targets)
    steps = np.arange(len(grid.offsets_s))
    scanner = Scanner(NightSky.of(grid, steps, conditions), conditions, low_limit_deg)
    curves = scanner.curves(places, Reach.of(objects, views, conditions))
    used, best = _best(grid, curves)
    spots, azimuth = spots_at(places, best, conditions)
    judgement = judge(objects, spots, views, conditions)
    plans = _Plans(
        grid=grid,
        low_limit_deg=low_limit_deg,
        curves=curves,
        drawn=_drawn(places, judgement, curves, steps),
        used=used,
        best=best,
        best_azimuth_deg=azimuth,
        transit_s=places.transit_offset_s(),
        judgement=judgement,
    )
    return tuple(plans.plan(row) for row in range(len(targets)))


def _best(grid: NightGrid, curves: Curves) -> tuple[BoolArray, RowArray]:
    """Say whether each target is of use at all, and give its best step."""
    night = curves.usable & grid.night[:, None]
    used = np.logical_or.reduce(night, axis=0)
    # What is of no use is judged where it stands highest in the night.
    highest = np.where(grid.night[:, None], curves.sine, -np.inf)
    quality = np.where(night, curves.reach_mag + 1e-3 * curves.sine, -np.inf)
    return used, np.where(used, quality.argmax(axis=0), highest.argmax(axis=0))


@dataclass(frozen=True, slots=True, eq=False)
class _Plans:
    """Everything computed for all targets at once; gives the plan of one."""

    grid: NightGrid
    low_limit_deg: float
    curves: Curves
    drawn: list[Curve]
    used: BoolArray
    best: RowArray
    best_azimuth_deg: FloatArray
    transit_s: FloatArray
    judgement: Judgement

    def plan(self, row: int) -> NightPlan:
        """Put one target's night together."""
        grid, curve = self.grid, self.drawn[row]
        facts = self._facts(row)
        transit = float(self.transit_s[row])
        rises, sets = _rising_and_setting(grid, self.curves.sine[:, row])
        return NightPlan(
            target=facts.target,
            windows=facts.windows,
            best_utc=facts.best_utc,
            best_altitude_deg=facts.best_altitude_deg,
            best_azimuth_deg=facts.best_azimuth_deg,
            transit_utc=grid.utc(transit),
            rises_utc=rises,
            sets_utc=sets,
            visibility=visibility_of(self.judgement, row),
            words=plan_words(facts),
            curve=curve,
        )

    def _facts(self, row: int) -> PlanFacts:
        grid, used, best = self.grid, bool(self.used[row]), int(self.best[row])
        floor = window_floor(
            self.curves.reach_mag[best, row], self.judgement.objects.magnitude[row]
        )
        spans = self._spans(row, float(floor)) if used else []
        return PlanFacts(
            target=self.judgement.objects.targets[row],
            grid=grid,
            altitude_deg=self.drawn[row].altitude_deg,
            low_limit_deg=self.low_limit_deg,
            usable=used,
            too_bright=not self._dark_while_up(row),
            windows=tuple((grid.utc(span.start_s), grid.utc(span.end_s)) for span in spans),
            best_utc=grid.utc(grid.offsets_s[best]) if used else None,
            best_altitude_deg=float(self.judgement.spots.altitude_deg[row]),
            best_azimuth_deg=float(self.best_azimuth_deg[row]),
        )

    def _dark_while_up(self, row: int) -> bool:
        """Say whether the sky is ever dark enough for a target while it is over the low limit."""
        over = self.drawn[row].altitude_deg > max(self.low_limit_deg, 0.0)
        return bool((over & (self.curves.over_dusk[:, row] > 0.0)).any())

    def _spans(self, row: int, floor_mag: float) -> list[Span]:
        """Stretches of the night in which a target is of use, their ends between the steps."""
        grid, curve = self.grid, self.drawn[row]
        over = curve.altitude_deg - np.maximum(curve.horizon_deg, max(self.low_limit_deg, 0.0))
        shows = (curve.reach_mag - floor_mag + 1e-9) * _MAG_PER_DEG
        open_by = np.minimum(np.minimum(over, shows), self.curves.over_dusk[:, row])
        return linear_spans(grid.offsets_s, open_by)


def _drawn(places: Places, judgement: Judgement, curves: Curves, steps: RowArray) -> list[Curve]:
    altitude = refracted(np.degrees(np.arcsin(np.clip(curves.sine, -1.0, 1.0))))
    gain = eye_gain(judgement, altitude, curves.reach_mag)
    azimuth = places.azimuth_deg(steps)
    horizon = horizon_altitude_deg(places.grid.site.horizon, azimuth)
    return [
        Curve(
            altitude_deg=altitude[:, n],
            azimuth_deg=azimuth[:, n],
            reach_mag=curves.reach_mag[:, n],
            margin_mag=curves.reach_mag[:, n] - judgement.objects.magnitude[n],
            horizon_deg=horizon[:, n],
            gain=gain[:, n],
        )
        for n in range(altitude.shape[1])
    ]


def _rising_and_setting(
    grid: NightGrid, sine: FloatArray
) -> tuple[datetime | None, datetime | None]:
    """First rising and setting of the grid."""
    spans = spans_above(grid.offsets_s, sine, float(np.sin(np.radians(-HORIZON_REFRACTION_DEG))))
    start, end = float(grid.offsets_s[0]), float(grid.offsets_s[-1])
    rises = [span.start_s for span in spans if span.start_s > start]
    sets = [span.end_s for span in spans if span.end_s < end]
    return (
        grid.utc(rises[0]) if rises else None,
        grid.utc(sets[0]) if sets else None,
    )
