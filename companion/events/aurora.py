"""Aurora: how disturbed the field has to be for it to be seen from here, where, and how it goes.

By NOAA's table of the geomagnetic latitude to which aurorae come down for each Kp (Space Weather
Prediction Center; from memory). What Kp is now nobody here knows: a person has to say it.
"""

import math
import re
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from companion.advice import AdviceError
from companion.sky import Site, geomagnetic, year_of

# Geomagnetic latitude at which the aurora stands overhead, Kp 0 to 9.
OVERHEAD_DEG = (66.5, 64.5, 62.4, 60.4, 58.3, 56.3, 54.2, 52.2, 50.1, 48.1)
_HIGHEST_KP = 9.0
_SEEN_FROM_DEG = 1000.0 / 111.2  # NOAA: seen on the horizon from as far as 1000 km away (memory)
_LOWER_EDGE_KM, _EARTH_KM = 110.0, 6371.2
_THIRDS = {"-": -1.0 / 3.0, "−": -1.0 / 3.0, "o": 0.0, "": 0.0, "+": 1.0 / 3.0}
_KP = re.compile(r"(\d(?:\.\d{1,3})?)\s*([-−+o]?)\Z")

AURORA_ADVICE = (
    "A quiet arc low over the horizon comes first. Rays grow out of it; then it may climb,",
    "break up and fill the sky for ten minutes, and pulsate afterwards. Cap nothing and leave the",
    "telescope: look up and around. Put the phone on a tripod, several seconds a picture.",
)


@dataclass(frozen=True, slots=True)
class AuroraLook:
    """What can be expected at one Kp.

    ``kp_horizon`` and ``kp_overhead`` are the least with which an aurora is seen on the poleward
    horizon and overhead; None where none is enough. ``chance`` is a code: "overhead", "high",
    "low" or "none"; it holds only as long as Kp is what was said.
    """

    geomagnetic_latitude_deg: float
    kp_horizon: float | None
    kp_overhead: float | None
    look_azimuth_deg: float
    look_altitude_deg: float | None  # of the lower edge; None where nothing is to be expected
    kp: float | None
    chance: str
    words: str


def aurora_look(site: Site, utc: datetime, kp: float | None = None) -> AuroraLook:
    """Say what can be expected of an aurora at a site.

    Parameters
    ----------
    site : Site
        Where.
    utc : datetime
        When; the poles wander by a few kilometres a year.
    kp : float, optional
        The planetary index as published, 0 to 9.

    Raises
    ------
    AdviceError
        If the index is outside 0 to 9.
    """
    if kp is not None and not 0.0 <= kp <= _HIGHEST_KP:
        raise _refusal(f"{kp:g}")
    here = geomagnetic(site, year_of(utc))
    latitude = abs(here.latitude_deg)
    reaches = None if kp is None else boundary_deg(kp)
    altitude = None if reaches is None else altitude_deg(reaches - latitude)
    code = _chance(altitude)
    return AuroraLook(
        geomagnetic_latitude_deg=here.latitude_deg,
        kp_horizon=kp_for(latitude + _SEEN_FROM_DEG),
        kp_overhead=kp_for(latitude),
        look_azimuth_deg=here.pole_azimuth_deg,
        look_altitude_deg=altitude,
        kp=kp,
        chance=code,
        words=_WORDS[code],
    )


def parse_kp(text: str) -> float:
    """Read Kp as it is published: 5, 4.33, 5-, 5o, 5+.

    Raises
    ------
    AdviceError
        If it is none.
    """
    found = _KP.match(text.strip())
    value = float(found[1]) + _THIRDS[found[2]] if found else math.nan
    if found and not 0.0 <= value <= _HIGHEST_KP:
        value = math.nan
    if math.isnan(value):
        raise _refusal(text.strip()[:20])
    return value


def boundary_deg(kp: float) -> float:
    """Give the geomagnetic latitude at which the aurora stands overhead."""
    return float(np.interp(kp, np.arange(10.0), OVERHEAD_DEG))


def kp_for(latitude_deg: float) -> float | None:
    """Give the least Kp to bring the aurora over a geomagnetic latitude; None where none does."""
    if latitude_deg < OVERHEAD_DEG[-1]:
        return None
    return float(np.interp(-latitude_deg, [-deg for deg in OVERHEAD_DEG], np.arange(10.0)))


def altitude_deg(away_deg: float) -> float | None:
    """Give how high its lower edge stands, so many degrees away; None where it is too far."""
    if away_deg <= 0.0:
        return 90.0
    if away_deg > _SEEN_FROM_DEG:
        return None
    ratio = _EARTH_KM / (_EARTH_KM + _LOWER_EDGE_KM)
    away = math.radians(away_deg)
    return max(0.0, math.degrees(math.atan2(math.cos(away) - ratio, math.sin(away))))


def _chance(altitude: float | None) -> str:
    if altitude is None:
        return "none"
    return "overhead" if altitude >= 60.0 else "high" if altitude >= 20.0 else "low"


_WORDS = {
    "overhead": "may stand overhead, if Kp is what was said and the sky is dark and clear",
    "high": "may stand well up, if Kp is what was said and the sky is dark and clear",
    "low": "may stand low over the poleward horizon, if Kp is what was said",
    "none": "not to be expected at this Kp",
}


def _refusal(text: str) -> AdviceError:
    return AdviceError(
        f"Kp {text!r} is outside 0 to 9.", "Give it as published: 0 to 9, such as 5, 5+ or 4.33."
    )
