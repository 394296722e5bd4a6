"""When one target rises, stands highest, sinks under a limit and sets.

Each event is sought where the target really stands at that time, so the moving Moon is right
too. Definitions are those of the US Naval Observatory (*Explanatory Supplement to the
Astronomical Almanac*, ch. 14): 34′ of refraction at the horizon, the upper limb of Sun and Moon,
the centre of everything else.
"""

import itertools
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property

import numpy as np

from companion.sky.conventions import HORIZON_REFRACTION_DEG, SUN_UP_DEG
from companion.sky.day_arc import DayArc, Sky
from companion.sky.diurnal import TURN_DEG_PER_S
from companion.sky.refraction import air_of, airless_deg
from companion.sky.site import Site
from companion.sky.sky_points import stands_still
from companion.sky.target import Target

_SAME_S = 0.05
_FLAT_DEG = 1e-5
_TURNS = 12
_DAY_S = 360.0 / TURN_DEG_PER_S
_SPAN_S = 25.0 * 3600.0  # the Moon comes back after 24 h 50 min
_GRID_S = 3.0 * 3600.0
_ARC_S = 27.0 * 3600.0  # the Moon's culmination after the next may be as late


@dataclass(frozen=True, slots=True)
class Crossings:
    """The next events after a moment; None where one does not happen within a day.

    ``never`` is "never sets here", "never rises here" or empty; for bodies that move, "does not
    set today", "does not rise today"; for what stands still over the ground, as the poles do.
    """

    rises_utc: datetime | None
    sets_utc: datetime | None
    transit_utc: datetime | None
    sinks_utc: datetime | None  # under the low limit
    climbs_utc: datetime | None  # over the low limit
    never: str


def find_crossings(
    sky: Sky, site: Site, target: Target, utc: datetime, low_limit_deg: float = 10.0
) -> Crossings:
    """Give the next events of a target.

    Parameters
    ----------
    sky : Sky
        The ephemeris.
    site : Site
        Where.
    target : Target
        Fixed, or a body of the solar system.
    utc : datetime
        Events after this moment are given.
    low_limit_deg : float
        Refracted altitude that counts as too low.

    Raises
    ------
    AdviceError
        If the ephemeris does not cover the time.
    """
    seeker = Seeker(sky, site, target, utc)
    if stands_still(target):
        return Crossings(None, None, None, None, None, seeker.never(0.0))
    horizon = seeker.horizon_deg()
    limit = float(airless_deg(low_limit_deg, *air_of(site)))
    rises, sets = seeker.upward(horizon), seeker.downward(horizon)
    return Crossings(
        rises_utc=rises,
        sets_utc=sets,
        transit_utc=seeker.transit(),
        sinks_utc=seeker.downward(limit),
        climbs_utc=seeker.upward(limit),
        never="" if rises or sets else seeker.never(horizon),
    )


class Seeker:
    """Looks for the moments at which one target crosses an altitude or the meridian.

    Between its culminations an altitude only rises or only sinks (near the poles, where the
    Moon's own motion rules, between points three hours apart), so that each crossing lies between
    two known points.
    """

    def __init__(self, sky: Sky, site: Site, target: Target, utc: datetime) -> None:
        self._sky = sky
        self._site = site
        self._target = target
        self._utc = utc
        self._arc = DayArc(sky, site, target, utc, _ARC_S)

    def horizon_deg(self) -> float:
        """Give the airless altitude of the centre at rising and setting."""
        if self._target.body == "sun":
            return SUN_UP_DEG
        if self._target.body == "moon":
            facts = self._sky.moment(self._site, self._utc).facts("moon")
            return -HORIZON_REFRACTION_DEG - facts.diameter_arcsec / 7200.0
        return -HORIZON_REFRACTION_DEG

    def upward(self, altitude_airless_deg: float) -> datetime | None:
        """Give the next moment of rising through an altitude."""
        return self._crossing(altitude_airless_deg, upward=True)

    def downward(self, altitude_airless_deg: float) -> datetime | None:
        """Give the next moment of sinking through an altitude."""
        return self._crossing(altitude_airless_deg, upward=False)

    def transit(self) -> datetime | None:
        """Give the next moment in the upper meridian."""
        return self._utc + timedelta(seconds=self._culmination(0.0))

    def never(self, altitude_airless_deg: float) -> str:
        """Say that it stays above or below an altitude."""
        above = self._arc.at(0.0)[0] > altitude_airless_deg
        if self._target.body and not stands_still(self._target):
            return "does not set today" if above else "does not rise today"
        return "never sets here" if above else "never rises here"

    def _crossing(self, altitude_deg: float, *, upward: bool) -> datetime | None:
        points = self._points
        for start, end in itertools.pairwise(points):
            low, high = self._arc.at(start)[0] - altitude_deg, self._arc.at(end)[0] - altitude_deg
            if (low < 0.0 <= high) if upward else (low >= 0.0 > high):
                return self._utc + timedelta(seconds=self._root(altitude_deg, start, end))
        return None

    @cached_property
    def _points(self) -> list[float]:
        """Seconds from the start between which the altitude has no extremes."""
        grid = np.linspace(0.0, _SPAN_S, round(_SPAN_S / _GRID_S) + 1).tolist()
        culminations = [self._culmination(hour_angle) for hour_angle in (0.0, 180.0)]
        culminations += [moment + _DAY_S for moment in culminations]
        return sorted({*grid, *(moment for moment in culminations if moment < _SPAN_S)})

    def _culmination(self, hour_angle_deg: float) -> float:
        """Turn the sky on to the meridian, again from where the target then stands."""
        seconds = self._way(0.0, hour_angle_deg) % _DAY_S
        for _ in range(_TURNS):
            step = (self._way(seconds, hour_angle_deg) + _DAY_S / 2.0) % _DAY_S - _DAY_S / 2.0
            seconds += step
            if seconds < -_SAME_S:
                seconds += _DAY_S
            elif abs(step) < _SAME_S:
                break
        return max(seconds, 0.0)

    def _way(self, seconds: float, hour_angle_deg: float) -> float:
        """Give the seconds that the sky must turn from there."""
        return (hour_angle_deg - self._arc.at(seconds)[1]) / TURN_DEG_PER_S

    def _root(self, altitude_deg: float, start: float, end: float) -> float:
        """Close in on a crossing by false position, Illinois variant (Dowell & Jarratt 1971)."""
        left, right = self._arc.at(start)[0] - altitude_deg, self._arc.at(end)[0] - altitude_deg
        for _ in range(60):
            middle = end - right * (end - start) / (right - left)
            value = self._arc.at(middle)[0] - altitude_deg
            if abs(value) < _FLAT_DEG or end - start < _SAME_S:
                return middle
            if (value < 0.0) == (left < 0.0):
                start, left, right = middle, value, right / 2.0
            else:
                end, right, left = middle, value, left / 2.0
        return (start + end) / 2.0
