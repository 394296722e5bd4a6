"""Make resources/milky_way.npz: how bright the Milky Way is, from the stars that the program has.

The light of all stars from magnitude 6 to 10 is added up every two degrees and smoothed over
three; what the poles of the Galaxy have as well is taken away. Fainter stars, which give most of
the real light, and dust are missing: it is a likeness for finding one's way, no photometry.
"""

import numpy as np
from build_faint_stars import read_gaia
from build_tables import save_arrays
from scipy.spatial import cKDTree

from companion.arrays import FloatArray
from companion.sky.milky_way import COLUMNS, ROWS, STEP_DEG
from companion.sky.vectors import unit_vectors

_GALACTIC_NORTH_POLE = (192.85948, 27.12825)  # right ascension, declination (IAU 1958, in ICRS)
_BRIGHTEST, _FAINTEST = 6.0, 10.0
_SMOOTH_DEG = 3.0
_FARTHEST = 3.0  # smoothing lengths
_POLAR_DEG = 45.0  # from here to the Galaxy's poles the sky counts as empty


def build() -> tuple[int, int]:
    """Write the file: bytes, 0 none to 255 the brightest; give its rows and columns."""
    gaia = read_gaia()
    kept = gaia[(gaia["g"] > _BRIGHTEST) & (gaia["g"] < _FAINTEST)]
    tree = cKDTree(unit_vectors(kept["ra"], kept["dec"]))
    light = 10.0 ** (-0.4 * (kept["g"] - _FAINTEST))
    places = unit_vectors(*(part.ravel() for part in _grid_places()))
    width = np.radians(_SMOOTH_DEG)
    near = tree.query_ball_point(places, _FARTHEST * width)
    stars = np.asarray(tree.data)
    glow = np.zeros(len(places))
    for at, (place, rows) in enumerate(zip(places, near, strict=True)):
        apart = np.sum((stars[rows] - place) ** 2, axis=1)
        glow[at] = light[rows] @ np.exp(-0.5 * apart / width**2)
    pole = unit_vectors(*_GALACTIC_NORTH_POLE)
    latitude_deg = np.degrees(np.arcsin(np.clip(places @ pole.ravel(), -1.0, 1.0)))
    empty = float(np.quantile(glow[np.abs(latitude_deg) > _POLAR_DEG], 0.9))
    above = np.clip(glow - empty, 0.0, None)
    scaled = np.clip(above / np.quantile(above, 0.995), 0.0, 1.0)
    save_arrays(
        "milky_way.npz", {"glow": np.rint(255.0 * scaled).astype("u1").reshape(ROWS, COLUMNS)}
    )
    return ROWS, COLUMNS


def _grid_places() -> tuple[FloatArray, FloatArray]:
    """Give right ascension and declination of all points of the picture (rows, columns)."""
    dec, ra = np.meshgrid(
        np.arange(ROWS) * STEP_DEG - 90.0, np.arange(COLUMNS) * STEP_DEG, indexing="ij"
    )
    return ra, dec
