"""What printed pages show: the sky at each target's own time, and where it stands meanwhile."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta, tzinfo
from enum import StrEnum

import numpy as np

from companion.charts.frame import DialTexts, SkyFrame
from companion.charts.maker import SkyFrameMaker
from companion.finding import seen_vectors
from companion.instant import Choices
from companion.night import (
    Conditions,
    NightGrid,
    NightPlan,
    find_instrument,
    night_grid,
    plan_night,
)
from companion.sky import (
    SUN_DANGER_DEG,
    SUN_UP_DEG,
    Ephemeris,
    Moment,
    Target,
    TargetTable,
    load_catalogue,
    ra_dec_of,
    zone_of,
)

_USUAL = "10×50"  # for somebody who named no instrument
_STEPS_MINUTES = (10, 15, 20, 30, 60, 120)
_MOST_HOURS = 12
_EPOCH = datetime(2000, 1, 1, 12, tzinfo=UTC)


class PageTime(StrEnum):
    """Why a page is for its time."""

    PLANNED = "planned"  # the order of the night has its turn then
    NOW = "now"  # it can be seen at this moment
    BEST = "best"  # it shows best then
    UNSEEN = "unseen"  # this night it cannot be seen: the page is for now


@dataclass(frozen=True, slots=True)
class PageHour:
    """Where the target stands at a time, refracted; ``dials`` is None without an aligned mount."""

    utc: datetime
    altitude_deg: float
    azimuth_deg: float
    dials: DialTexts | None


@dataclass(frozen=True, slots=True, eq=False)
class SkyPage:
    """One page: the sky of its time, the times of its window, and the catalogues' place.

    ``ra_deg`` and ``dec_deg`` are ICRS: of a fixed target at J2000.0, of what moves as seen from
    the site at the page's time (``moves``).
    """

    sky: SkyFrame
    time: PageTime
    hours: tuple[PageHour, ...]
    ra_deg: float
    dec_deg: float
    moves: bool
    words: str  # of its night: from when to when, or why not


def sky_pages(
    choices: Choices,
    targets: Sequence[Target],
    utc: datetime,
    planned: Mapping[str, datetime],
) -> tuple[SkyPage, ...]:
    """Give a page for each of several targets.

    Works with an ephemeris of its own, in whichever thread it is called.

    Parameters
    ----------
    choices : Choices
        Site, instrument and mount; its target does not matter.
    targets : sequence of Target
        What the pages are about.
    utc : datetime
        Now: a page is for its target's planned time, else for now if it can be seen, else for when
        it shows best.
    planned : mapping of str to datetime
        When the order of the night has the turn of a target, by its key.

    Raises
    ------
    AdviceError
        If the ephemeris does not cover the night.
    """
    ephemeris = Ephemeris.load()
    try:
        grid = night_grid(ephemeris, choices.site, utc)
        catalogue = load_catalogue()
        plans = plan_night(
            ephemeris,
            grid,
            targets,
            instrument=choices.instrument or find_instrument(_USUAL),
            conditions=Conditions.at(choices.site),
            doubles=catalogue.names.doubles,
            low_limit_deg=choices.low_limit_deg,
        )
        maker = SkyFrameMaker(ephemeris, catalogue)
        asked = replace(choices, pointed_deg=None)
        pages = _Pages(ephemeris, grid, maker, utc)
        return tuple(
            pages.page(replace(asked, target=plan.target), plan, planned.get(plan.target.key))
            for plan in plans
        )
    finally:
        ephemeris.close()


def page_time(
    plan: NightPlan, utc: datetime, planned: datetime | None
) -> tuple[PageTime, datetime]:
    """Say which time a page is for, and why."""
    if planned is not None and planned >= utc:
        return PageTime.PLANNED, planned
    if any(begins <= utc < ends for begins, ends in plan.windows):
        return PageTime.NOW, utc
    if plan.best_utc is not None and plan.best_utc > utc:
        return PageTime.BEST, plan.best_utc
    later = [begins for begins, _ends in plan.windows if begins > utc]
    return (PageTime.BEST, min(later)) if later else (PageTime.UNSEEN, utc)


def page_times(plan: NightPlan, utc: datetime, own: datetime, zone: tzinfo) -> tuple[datetime, ...]:
    """Give round times of the site's clocks through what is left of the windows, and its own."""
    left = [(max(begins, utc), ends) for begins, ends in plan.windows if ends > utc]
    for minutes in _STEPS_MINUTES:
        found = [at for begins, ends in left for at in _round(begins, ends, minutes, zone)]
        if len(found) < _MOST_HOURS:
            break
    return tuple(sorted({*found[: _MOST_HOURS - 1], own}))


def _round(begins: datetime, ends: datetime, minutes: int, zone: tzinfo) -> list[datetime]:
    step_s = 60.0 * minutes
    offset = begins.astimezone(zone).utcoffset() or timedelta()
    ahead_s = offset.total_seconds()
    first = np.ceil((begins.timestamp() + ahead_s) / step_s) * step_s - ahead_s
    return [
        datetime.fromtimestamp(float(at), UTC) for at in np.arange(first, ends.timestamp(), step_s)
    ]


@dataclass(frozen=True, slots=True, eq=False)
class _Pages:
    """The night that the pages belong to."""

    ephemeris: Ephemeris
    grid: NightGrid
    maker: SkyFrameMaker
    utc: datetime

    def page(self, choices: Choices, plan: NightPlan, planned: datetime | None) -> SkyPage:
        """Give the page of a target."""
        why, own = page_time(plan, self.utc, planned)
        sky = self.maker.frame(choices, own)
        ra_deg, dec_deg = self._place(plan.target, own)
        hours = () if sky.caution else self._hours(sky, plan, own)
        moves = bool(plan.target.body)
        return SkyPage(sky, why, hours, ra_deg, dec_deg, moves, plan.words)

    def _hours(self, sky: SkyFrame, plan: NightPlan, own: datetime) -> tuple[PageHour, ...]:
        found = []
        for utc in page_times(plan, self.utc, own, zone_of(self.grid.site.time_zone)):
            moment = self.ephemeris.moment(self.grid.site, utc)
            place = moment.horizontal(TargetTable.of([plan.target], utc))
            altitude, azimuth = float(place.altitude_deg[0]), float(place.azimuth_deg[0])
            if altitude > 0.0 and not _near_sun(moment, azimuth, altitude):
                found.append(PageHour(utc, altitude, azimuth, sky.readings(azimuth, altitude)))
        return tuple(found)

    def _place(self, target: Target, utc: datetime) -> tuple[float, float]:
        """Give right ascension and declination on the catalogues' axes."""
        if target.body:
            moment = self.ephemeris.moment(self.grid.site, utc)
            place = moment.horizontal(TargetTable.of([target], utc))
            ra, dec = moment.icrs_of(place.azimuth_deg, place.altitude_deg)
        else:
            ra, dec = ra_dec_of(TargetTable.of([target], _EPOCH).vectors)
        return float(ra[0]), float(dec[0])


def _near_sun(moment: Moment, azimuth_deg: float, altitude_deg: float) -> bool:
    """Tell whether a direction lies where nobody should look."""
    sun = moment.body("sun")
    if sun.altitude_airless_deg <= SUN_UP_DEG:
        return False
    there = seen_vectors(azimuth_deg, altitude_deg)
    away = np.degrees(
        np.arccos(np.clip(there @ seen_vectors(sun.azimuth_deg, sun.altitude_deg), -1.0, 1.0))
    )
    return bool(away < SUN_DANGER_DEG)
