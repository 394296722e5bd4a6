"""Geomagnetic latitude: how far a place is from the poles of the Earth's field as a dipole.

The three first coefficients of the carried World Magnetic Model, brought to the year by their
yearly change, are the dipole whose axis aurorae ring (Chulliat et al. 2025, technical report of
WMM2025).
"""

import math
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np
import pygeomag

from companion.arrays import FloatArray
from companion.sky.site import Site

_FLATTENING = 1.0 / 298.257223563  # WGS 84
_EPOCH = 2025.0


@dataclass(frozen=True, slots=True)
class Geomagnetic:
    """Where a place stands towards the dipole."""

    latitude_deg: float  # north positive
    pole_azimuth_deg: float  # way to the pole of its own hemisphere, from true north


def geomagnetic(site: Site, year: float) -> Geomagnetic:
    """Give the geomagnetic latitude of a site, and the way to the nearer geomagnetic pole."""
    pole = dipole_axis(round(year, 2))
    phi = math.atan((1.0 - _FLATTENING) ** 2 * math.tan(math.radians(site.latitude_deg)))
    lon = math.radians(site.longitude_deg)
    up = np.array([math.cos(phi) * math.cos(lon), math.cos(phi) * math.sin(lon), math.sin(phi)])
    sine = float(up @ pole)
    toward = pole if sine >= 0.0 else -pole
    east = np.array([-math.sin(lon), math.cos(lon), 0.0])
    north = np.cross(up, east)
    azimuth = math.degrees(math.atan2(float(toward @ east), float(toward @ north))) % 360.0
    return Geomagnetic(math.degrees(math.asin(max(-1.0, min(1.0, sine)))), azimuth)


@lru_cache(maxsize=8)
def dipole_axis(year: float) -> FloatArray:
    """Give the unit vector towards the northern geomagnetic pole, on axes that turn with us."""
    terms = {}
    path = Path(pygeomag.__file__).parent / "wmm" / "WMM_2025.COF"
    for line in path.read_text(encoding="ascii").splitlines()[1:3]:
        n, m, g, h, g_change, h_change = (float(part) for part in line.split()[:6])
        later = year - _EPOCH
        terms[int(n), int(m)] = (g + g_change * later, h + h_change * later)
    axis = -np.array([terms[1, 1][0], terms[1, 1][1], terms[1, 0][0]])
    return np.asarray(axis / np.linalg.norm(axis))
