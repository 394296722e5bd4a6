"""When one target rises, stands highest, sinks under a limit and sets.

Each event is found by the closed form for a fixed direction and then again from where the target
really stands at that time, until it keeps still: so the moving Moon is right too. Definitions are
those of the US Naval Observatory (*Explanatory Supplement to the Astronomical Almanac*, ch. 14):
34′ of refraction at the horizon, the upper limb of Sun and Moon, the centre of everything else.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Protocol

import numpy as np

from companion.sky.diurnal import TURN_DEG_PER_S, Diurnal
from companion.sky.moment import Moment
from companion.sky.refraction import air_of, airless_deg
from companion.sky.site import Site
from companion.sky.table import TargetTable
from companion.sky.target import Target

HORIZON_REFRACTION_DEG = 34.0 / 60.0
SUN_LIMB_DEG = 0.8333  # with its mean semidiameter
_SAME_S = 0.05
_TURNS = 12
_DAY_S = 360.0 / TURN_DEG_PER_S


class Sky(Protocol):
    """Gives the sky over a site at any moment; ``Ephemeris`` does."""

    def moment(self, site: Site, utc: datetime) -> Moment:
        """Give one moment."""
        ...


@dataclass(frozen=True, slots=True)
class Crossings:
    """The next events after a moment; None where one does not happen within a day.

    ``never`` is "never sets here", "never rises here" or empty; for bodies that move, "does not
    set today", "does not rise today".
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
    """Looks for the moments at which one target crosses an altitude or the meridian."""

    def __init__(self, sky: Sky, site: Site, target: Target, utc: datetime) -> None:
        self._sky = sky
        self._site = site
        self._target = target
        self._utc = utc
        self._table = TargetTable.of([target], utc)
        self._seen: dict[datetime, Diurnal] = {}

    def horizon_deg(self) -> float:
        """Give the airless altitude of the centre at rising and setting."""
        if self._target.body == "sun":
            return -SUN_LIMB_DEG
        if self._target.body == "moon":
            look = self._sky.moment(self._site, self._utc).body("moon")
            return -HORIZON_REFRACTION_DEG - look.diameter_arcsec / 7200.0
        return -HORIZON_REFRACTION_DEG

    def upward(self, altitude_airless_deg: float) -> datetime | None:
        """Give the next moment of rising through an altitude."""
        return self._seek(altitude_airless_deg, -1.0)

    def downward(self, altitude_airless_deg: float) -> datetime | None:
        """Give the next moment of sinking through an altitude."""
        return self._seek(altitude_airless_deg, 1.0)

    def transit(self) -> datetime | None:
        """Give the next moment in the upper meridian."""
        return self._seek(None, 0.0)

    def never(self, altitude_airless_deg: float) -> str:
        """Say that it stays above or below an altitude."""
        above = float(self._diurnal(self._utc).cosine_at(altitude_airless_deg)[0]) <= -1.0
        if self._target.body:
            return "does not set today" if above else "does not rise today"
        return "never sets here" if above else "never rises here"

    def _seek(self, altitude_deg: float | None, side: float) -> datetime | None:
        """Turn the sky on to the event, again and again from where the target then stands."""
        ahead = self._way(self._utc, altitude_deg, side)
        if ahead is None:
            return None
        found = self._settle(ahead % _DAY_S, altitude_deg, side)
        # A body that moves may have been met just before the start: take the next turn.
        if found is not None and found < -_SAME_S:
            found = self._settle(found + _DAY_S, altitude_deg, side)
        elif found is not None and found > _DAY_S and self._target.body:
            earlier = self._settle(found - _DAY_S, altitude_deg, side)
            found = earlier if earlier is not None and earlier > 0.0 else found
        return None if found is None else self._utc + timedelta(seconds=found)

    def _settle(self, seconds: float, altitude_deg: float | None, side: float) -> float | None:
        for _ in range(_TURNS):
            way = self._way(self._utc + timedelta(seconds=seconds), altitude_deg, side)
            if way is None:
                return None
            step = (way + _DAY_S / 2.0) % _DAY_S - _DAY_S / 2.0
            seconds += step
            if abs(step) < _SAME_S:
                return seconds
        return None

    def _way(self, utc: datetime, altitude_deg: float | None, side: float) -> float | None:
        """Give the seconds that the sky must turn from there; None if it never gets there."""
        diurnal = self._diurnal(utc)
        goal_deg = 0.0
        if altitude_deg is not None:
            cosine = float(diurnal.cosine_at(altitude_deg)[0])
            if not -1.0 < cosine < 1.0:
                return None
            goal_deg = side * float(np.degrees(np.arccos(cosine)))
        return (goal_deg - float(diurnal.hour_angle_deg[0])) / TURN_DEG_PER_S

    def _diurnal(self, utc: datetime) -> Diurnal:
        if utc not in self._seen:
            seen = self._sky.moment(self._site, utc).horizontal(self._table)
            self._seen[utc] = Diurnal.of(
                self._site.latitude_deg, seen.azimuth_deg, seen.altitude_airless_deg
            )
        return self._seen[utc]
