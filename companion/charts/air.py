"""Directions of the frame as the air shows them."""

import numpy as np

from companion.arrays import FloatArray
from companion.finding import seen_vectors
from companion.sky import Site, air_of, refracted_deg


def lifted(airless: FloatArray, site: Site) -> FloatArray:
    """Lift directions (n, 3) of the frame by refraction."""
    altitude = np.degrees(np.arcsin(np.clip(airless[:, 2], -1.0, 1.0)))
    azimuth = np.degrees(np.arctan2(-airless[:, 1], airless[:, 0]))
    return seen_vectors(azimuth, refracted_deg(altitude, *air_of(site)))
