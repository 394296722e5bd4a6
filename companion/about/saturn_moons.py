"""The moons of Saturn that a telescope may reach.

Their places come from the package ``ephem`` (MIT), which carries tables of the Bureau des
Longitudes for 1999 to 2039; what it gives outside those years misses by degrees of orbit, and is
not used. Error: some tenths of an arcsecond.
"""

import math
from collections.abc import Iterable
from typing import Final

import numpy as np

from companion.about.jupiter_moons import MoonState, PlanetMoon
from companion.about.orientation import point_below, position_angle_of
from companion.about.planet import FLATTENING, heliocentric_au
from companion.arrays import FloatArray
from companion.sky import Aspect, body_axes

# Magnitudes at 1 au from Sun and Earth: Astronomical Almanac (from memory). Iapetus changes by
# two magnitudes: its darker face is turned to us when it stands east of Saturn.
_MAGNITUDES: Final = {
    "Titan": -1.28, "Rhea": 0.1, "Tethys": 0.6, "Dione": 0.8, "Iapetus": 1.5, "Enceladus": 2.1,
    "Mimas": 3.3, "Hyperion": 4.6,
}  # fmt: skip
_IAPETUS_HALF_RANGE = 0.9
_DAY_S = 86400.0
_DAYS_FROM_1900 = 36525.0  # from the library's own epoch, noon of 1899 December 31, to J2000
_FIRST_DAY, _LAST_DAY = -365.5, 14609.5  # 1999 January 1 to 2040 January 1, from J2000
# The radius in which the tables count: from the orbits of Tethys, Dione and Rhea, to 0.1 percent.
_TABLE_RADIUS_KM = 60000.0
_ARCSEC = math.degrees(1.0) * 3600.0


def saturn_moons(aspect: Aspect) -> tuple[PlanetMoon, ...]:
    """Give where the moons stand, the brightest first; nothing outside the years of the tables."""
    import ephem  # compiled: read by threads and commands only

    days = aspect.days + aspect.light_time_s / _DAY_S  # it takes the light's time off by itself
    if not _FIRST_DAY <= days < _LAST_DAY:
        return ()
    date = ephem.Date(days + _DAYS_FROM_1900)
    radius_arcsec = _TABLE_RADIUS_KM / aspect.distance_km * _ARCSEC
    away = 5.0 * math.log10(heliocentric_au(aspect) * aspect.distance_au)
    shrink = _TABLE_RADIUS_KM / aspect.radius_km
    found = []
    for name, magnitude in _MAGNITUDES.items():
        moon = getattr(ephem, name)(date)
        east, north = float(moon.x), -float(moon.y)  # in radii; its y counts southward
        state = _state(aspect, east * shrink, north * shrink, in_front=float(moon.z) > 0.0)
        shift = _IAPETUS_HALF_RANGE * _side(east) if name == "Iapetus" else 0.0
        found.append(
            PlanetMoon(
                name=name,
                east_arcsec=east * radius_arcsec,
                north_arcsec=north * radius_arcsec,
                magnitude=None if state is MoonState.BEHIND else round(magnitude + shift + away, 1),
                state=state,
            )
        )
    return tuple(found)


def titan_places(days: Iterable[float]) -> FloatArray:
    """Give where Titan stands from the middle of Saturn (k, 3), km; NaN outside the tables' years.

    Parameters
    ----------
    days : iterable of float
        Days (k,) since J2000 at which it is seen from the Earth.

    Returns
    -------
    ndarray
        Towards the east of the sky, its north, and the Earth.
    """
    import ephem  # compiled: read by threads and commands only

    found = []
    for day in days:
        if _FIRST_DAY <= day < _LAST_DAY:
            titan = ephem.Titan(ephem.Date(day + _DAYS_FROM_1900))
            found.append((float(titan.x), -float(titan.y), float(titan.z)))
        else:
            found.append((math.nan, math.nan, math.nan))
    return np.array(found).reshape(-1, 3) * _TABLE_RADIUS_KM


def _side(east: float) -> float:
    """Give how far Iapetus is on the side where it is dark, -1 to 1."""
    return max(-1.0, min(1.0, east / 59.0))


def _state(aspect: Aspect, east: float, north: float, *, in_front: bool) -> MoonState:
    """Give where a moon stands; the disk is an ellipse, flattened towards its poles."""
    axes = body_axes("saturn", aspect.days)
    angle = math.radians(position_angle_of(aspect, axes[2]))
    tilt = math.radians(point_below(axes, -aspect.to_body_km).latitude_deg)
    along = east * math.cos(angle) - north * math.sin(angle)
    across = east * math.sin(angle) + north * math.cos(angle)
    flat = FLATTENING["saturn"]
    polar = math.sqrt(1.0 - flat * (2.0 - flat) * math.cos(tilt) ** 2)
    if along**2 + (across / polar) ** 2 >= 1.0:
        return MoonState.BESIDE
    return MoonState.IN_FRONT if in_front else MoonState.BEHIND
