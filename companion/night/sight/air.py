"""What the air takes away: airmass and extinction."""

import numpy as np
from numpy.typing import ArrayLike

from companion.arrays import FloatArray

# Zenith extinction in V by its parts, sea level, mag (Schaefer 1993, Vistas in Astronomy 36,
# 311, section 3; from memory): molecules, ozone, dust and smoke of a clear night.
_MOLECULES, _OZONE, _DUST = 0.1066, 0.031, 0.120
_MOLECULES_SCALE_M, _DUST_SCALE_M = 8200.0, 1500.0
EXTINCTION_SIGMA = 0.06  # how far one clear night's coefficient lies from the usual one


def airmass(altitude_deg: ArrayLike) -> FloatArray:
    """Air between us and the stars, in units of that at the zenith (Kasten & Young 1989).

    Parameters
    ----------
    altitude_deg : array_like
        Altitude as seen (refracted). Below the horizon the value of the horizon is given.
    """
    h = np.maximum(np.asarray(altitude_deg, dtype=np.float64), 0.0)
    return np.asarray(1.0 / (np.sin(np.radians(h)) + 0.50572 * (h + 6.07995) ** -1.6364))


def usual_extinction(elevation_m: float) -> float:
    """Zenith extinction of a clear night in V, mag per airmass, at a height above the sea."""
    height = max(elevation_m, 0.0)
    return float(
        _OZONE
        + _MOLECULES * np.exp(-height / _MOLECULES_SCALE_M)
        + _DUST * np.exp(-height / _DUST_SCALE_M)
    )
