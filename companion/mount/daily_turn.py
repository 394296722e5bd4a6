"""Where directions in the sky stand earlier or later: the daily turn about the pole."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

TURN_RAD_PER_S: Final = np.radians(360.98564736629) / 86400.0  # against the stars (IAU 1982)


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
    phi = np.radians(latitude_deg)
    pole = np.array([np.cos(phi), 0.0, np.sin(phi)])
    angle = np.asarray(seconds, float)[..., None, None] * TURN_RAD_PER_S
    along = (vectors @ pole)[:, None] * pole
    # (north, east, up) is left-handed: there the plain cross product turns the sky westwards.
    sideways = np.cross(pole, vectors)
    return np.asarray(along + np.cos(angle) * (vectors - along) + np.sin(angle) * sideways)


def azimuth_rate(latitude_deg: float, azimuth: FloatArray, altitude: FloatArray) -> FloatArray:
    """Give how fast stars' azimuths grow, in radians per second, from azimuth and altitude.

    ω (sin φ - cos φ cos A tan h): the derivative of the diurnal motion (Smart, *Spherical
    Astronomy*, chapter 2). It runs away towards the zenith as 1/cos h.
    """
    phi = np.radians(latitude_deg)
    tangent = np.tan(np.minimum(altitude, np.pi / 2.0 - 1e-6))
    return np.asarray(TURN_RAD_PER_S * (np.sin(phi) - np.cos(phi) * np.cos(azimuth) * tangent))
