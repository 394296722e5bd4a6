"""Whether an instrument shows a moon beside its bright planet."""

import math

from companion.about.jupiter_moons import MoonState, PlanetMoon
from companion.about.planet import PlanetLook
from companion.about.seeing_power import Power

# What the planet's glare costs, falling with the distance in radii of its disk: so much that
# Enceladus takes 250 mm, as observers find (common practice, no source).
_GLARE_MAG, _GLARE_RADII = 6.0, 6.0
_CLEAR_OF_LIMB = 2.0  # of what the instrument resolves


def within_reach(moon: PlanetMoon, look: PlanetLook, power: Power) -> bool:
    """Tell whether a moon shows: bright enough in the glare, and clear of the planet's edge."""
    if moon.magnitude is None or moon.state is not MoonState.BESIDE:
        return False
    away_arcsec = math.hypot(moon.east_arcsec, moon.north_arcsec)
    radius_arcsec = look.diameter_arcsec / 2.0
    glare = _GLARE_MAG * math.exp(-away_arcsec / radius_arcsec / _GLARE_RADII)
    clear = away_arcsec - radius_arcsec >= _CLEAR_OF_LIMB * power.resolution_arcsec
    return clear and moon.magnitude + glare <= power.limit_magnitude
