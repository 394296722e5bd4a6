"""When something stands well on an evening again: simple formulae, good to a few minutes.

Sun and Moon: the low-precision formulae of the *Astronomical Almanac* (page C5 since 1984, and
Meeus, *Astronomical Algorithms*, 2nd ed., chapter 47 with its largest terms): 0.01° and about 1°.
"""

from datetime import datetime, timedelta
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from companion.arrays import BoolArray, FloatArray
from companion.sky import SUN_UP_DEG, Site, Target

_J2000: Final = datetime.fromisoformat("2000-01-01T12:00:00+00:00")
_OBLIQUITY_DEG: Final = 23.44
_STEP_MIN: Final = 30
_SETS_WITHIN: Final = 4  # steps
_DAYS: Final = (*range(15), *range(15, 400, 3))
_EVENING_HOURS: Final = 6.5  # before and after midnight by the Sun a beginner is not asked out
DARK_ENOUGH_DEG: Final = -9.0
_NIGHT_DEG: Final = -15.0


class Season:
    """The evenings of the year that follows, at one site; made once for many questions.

    Parameters
    ----------
    site : Site
        Where.
    utc : datetime
        From when on.
    """

    def __init__(self, site: Site, utc: datetime) -> None:
        minutes = [
            day * 1440 + step * _STEP_MIN for day in _DAYS for step in range(1440 // _STEP_MIN)
        ]
        self._utc = utc
        self._site = site
        self._minutes = np.array(minutes, float)
        days = (utc - _J2000).total_seconds() / 86400.0 + self._minutes / 1440.0
        self._days = days
        self._local_deg = (280.46062 + 360.98564737 * days + site.longitude_deg) % 360.0
        sun_ra, sun_dec = _equatorial(_sun_longitude_deg(days), 0.0)
        self._sun_hour_deg = (self._local_deg - sun_ra) % 360.0
        self._sun_deg = self._altitude_deg(sun_ra, sun_dec)

    def when(
        self, targets: tuple[Target, ...], lowest_deg: float, *, faint: bool = False
    ) -> datetime | None:
        """Give the first dark evening moment at which one of some fixed targets stands so high.

        For ``faint`` ones it is night by then, and the Moon is down.
        """
        up = np.zeros(len(self._days), bool)
        for target in targets:
            if target.ra_deg is not None and target.dec_deg is not None:
                up |= self._altitude_deg(target.ra_deg, target.dec_deg) >= lowest_deg
        if faint:
            return self._first(up & self._moon_down, _NIGHT_DEG)
        return self._first(up, DARK_ENOUGH_DEG)

    def when_dark(self, sun_deg: float = DARK_ENOUGH_DEG) -> datetime | None:
        """Give the first moment with the Sun so low, in the evening where there is one."""
        return self._first(np.ones(len(self._days), bool), sun_deg)

    def when_moon(
        self, lowest_deg: float = 12.0, thinnest_deg: float = 30.0, fullest_deg: float = 200.0
    ) -> datetime | None:
        """Give the first evening with the Moon up, and so far ahead of the Sun."""
        longitude, latitude = _moon_deg(self._days)
        ahead = (longitude - _sun_longitude_deg(self._days)) % 360.0
        up = self._altitude_deg(*_equatorial(longitude, latitude)) >= lowest_deg
        return self._first(up & (ahead > thinnest_deg) & (ahead < fullest_deg), -4.0)

    def when_moonless(self) -> datetime | None:
        """Give the first dark evening moment without the Moon."""
        return self._first(self._moon_down, _NIGHT_DEG)

    @cached_property
    def _moon_down(self) -> BoolArray:
        altitude_deg = self._altitude_deg(*_equatorial(*_moon_deg(self._days)))
        return np.asarray(altitude_deg < -2.0)

    def when_sunset(self) -> datetime | None:
        """Give a moment in the hour before the next sunset."""
        sets = np.roll(self._sun_deg, -_SETS_WITHIN) < SUN_UP_DEG
        low = (self._sun_deg > 0.0) & (self._sun_deg < 10.0)
        before = low & sets & (self._sun_hour_deg < 180.0)
        rows = np.flatnonzero(before)
        return self._utc + timedelta(minutes=float(self._minutes[rows[0]])) if len(rows) else None

    def when_planet(self, body: str, lowest_deg: float = 20.0) -> datetime | None:
        """Give the first dark evening moment with a planet so high."""
        up = self._altitude_deg(*_equatorial(*_planet_deg(body, self._days))) >= lowest_deg
        return self._first(up, -4.0)

    def _first(self, fits: np.ndarray, sun_deg: float) -> datetime | None:
        dark = fits & (self._sun_deg <= sun_deg)
        evening = dark & (self._sun_hour_deg > 60.0) & (self._sun_hour_deg < 195.0)
        for mask in (evening, dark):
            rows = np.flatnonzero(mask)
            if len(rows):
                return self._utc + timedelta(minutes=float(self._minutes[rows[0]]))
        return None

    def _altitude_deg(self, ra_deg: ArrayLike, dec_deg: ArrayLike) -> FloatArray:
        phi, dec = np.radians(self._site.latitude_deg), np.radians(dec_deg)
        hour = np.radians(self._local_deg - np.asarray(ra_deg))
        sine = np.sin(phi) * np.sin(dec) + np.cos(phi) * np.cos(dec) * np.cos(hour)
        return np.asarray(np.degrees(np.arcsin(np.clip(sine, -1.0, 1.0))))


def _sun_longitude_deg(days: FloatArray) -> FloatArray:
    anomaly = np.radians(357.528 + 0.9856003 * days)
    mean = 280.460 + 0.9856474 * days
    return np.asarray(mean + 1.915 * np.sin(anomaly) + 0.020 * np.sin(2.0 * anomaly))


def _moon_deg(days: FloatArray) -> tuple[FloatArray, FloatArray]:
    anomaly = np.radians(134.963 + 13.064993 * days)
    sun_anomaly = np.radians(357.528 + 0.9856003 * days)
    apart = np.radians(297.850 + 12.190749 * days)
    node = np.radians(93.272 + 13.229350 * days)
    longitude = 218.316 + 13.176396 * days + 6.289 * np.sin(anomaly)
    longitude += 1.274 * np.sin(2.0 * apart - anomaly) + 0.658 * np.sin(2.0 * apart)
    longitude -= 0.186 * np.sin(sun_anomaly)
    return np.asarray(longitude), np.asarray(5.128 * np.sin(node))


# Mean elements: a in au, e, mean longitude and its daily motion, longitude of perihelion, degrees
# (E. M. Standish, *Keplerian elements for approximate positions of the major planets*, JPL).
_ELEMENTS: Final = {
    "venus": (0.72334, 0.00678, 181.97910, 1.60213034, 131.60247),
    "earth": (1.00000, 0.01671, 100.46457, 0.98560911, 102.93768),
    "mars": (1.52371, 0.09339, 355.44657, 0.52403298, 336.05637),
    "jupiter": (5.20289, 0.04839, 34.39644, 0.08308676, 14.72848),
    "saturn": (9.53668, 0.05386, 49.95424, 0.03347006, 92.59888),
}


def _planet_deg(body: str, days: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Give a planet's longitude to a degree or so; it is taken to keep to the ecliptic."""
    (x, y), (x_earth, y_earth) = _heliocentric(body, days), _heliocentric("earth", days)
    longitude = np.degrees(np.arctan2(y - y_earth, x - x_earth))
    return np.asarray(longitude), np.zeros_like(days)


def _heliocentric(body: str, days: FloatArray) -> tuple[FloatArray, FloatArray]:
    axis, eccentric, mean_deg, motion_deg, perihelion_deg = _ELEMENTS[body]
    anomaly = np.radians((mean_deg + motion_deg * days - perihelion_deg) % 360.0)
    centre = 2.0 * eccentric * np.sin(anomaly) + 1.25 * eccentric**2 * np.sin(2.0 * anomaly)
    true = anomaly + centre
    far = axis * (1.0 - eccentric**2) / (1.0 + eccentric * np.cos(true))
    longitude = true + np.radians(perihelion_deg)
    return np.asarray(far * np.cos(longitude)), np.asarray(far * np.sin(longitude))


def _equatorial(longitude_deg: ArrayLike, latitude_deg: ArrayLike) -> tuple[FloatArray, FloatArray]:
    lon, lat, tilt = np.radians(longitude_deg), np.radians(latitude_deg), np.radians(_OBLIQUITY_DEG)
    sine = np.sin(lat) * np.cos(tilt) + np.cos(lat) * np.sin(tilt) * np.sin(lon)
    across = np.sin(lon) * np.cos(tilt) - np.tan(lat) * np.sin(tilt)
    ra = np.degrees(np.arctan2(across, np.cos(lon))) % 360.0
    return np.asarray(ra), np.asarray(np.degrees(np.arcsin(np.clip(sine, -1.0, 1.0))))
