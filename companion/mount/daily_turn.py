"""Where directions in the sky stand earlier or later: the daily turn about the pole."""

import numpy as np

from companion.arrays import FloatArray
from companion.sky import TURN_RAD_PER_S, equator_axes, turned_west


def turned_with_sky(vectors: FloatArray, latitude_deg: float, seconds: FloatArray) -> FloatArray:
    """Give airless directions (north, east, up) of stars some seconds later.

    Parameters
    ----------
    vectors : (n, 3) array
        Unit vectors now.
    latitude_deg : float
        Of the site, north positive.
    seconds : (...) array
        How much later; earlier where negative. The answer has the shape (..., n, 3).
    """
    axes = equator_axes(latitude_deg)
    later = turned_west(vectors @ axes, np.asarray(seconds, float)[..., None])
    return np.asarray(later @ axes)


def azimuth_rate(latitude_deg: float, azimuth: FloatArray, altitude: FloatArray) -> FloatArray:
    """Give how fast stars' azimuths grow, in radians per second, from azimuth and altitude.

    ω (sin φ - cos φ cos A tan h): the derivative of the diurnal motion (Smart, *Spherical
    Astronomy*, chapter 2). It runs away towards the zenith as 1/cos h.
    """
    phi = np.radians(latitude_deg)
    tangent = np.tan(np.minimum(altitude, np.pi / 2.0 - 1e-6))
    return np.asarray(TURN_RAD_PER_S * (np.sin(phi) - np.cos(phi) * np.cos(azimuth) * tangent))
