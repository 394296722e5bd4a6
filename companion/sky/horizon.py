"""The site's own horizon: trees, roofs and hills as a line of altitudes."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from companion.arrays import FloatArray

Points = Sequence[tuple[float, float]]


def horizon_altitude_deg(points: Points, azimuth_deg: ArrayLike) -> FloatArray:
    """Altitude of the horizon in each direction; 0 where nothing was drawn.

    Parameters
    ----------
    points : sequence of (azimuth_deg, altitude_deg)
        Ascending in azimuth, joined by straight lines, closed over north.
    azimuth_deg : array_like
        Directions asked for.
    """
    azimuth = np.asarray(azimuth_deg, dtype=np.float64)
    if not points:
        return np.zeros_like(azimuth)
    line = np.asarray(points, dtype=np.float64)
    return np.asarray(np.interp(azimuth % 360.0, line[:, 0], line[:, 1], period=360.0))
