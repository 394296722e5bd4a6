"""How bright the Milky Way is, as a picture of the sky computed from the program's own stars."""

from functools import cache

import numpy as np

from companion.arrays import FloatArray
from companion.sky.resources import resource

ROWS, COLUMNS = 91, 180  # every two degrees: declination from the south pole, right ascension
STEP_DEG = 2.0


def milky_way(vectors: FloatArray) -> FloatArray:
    """Give the brightness in ICRS directions (n, 3): 0 none, 1 the brightest parts."""
    x, y, z = vectors.T
    across = np.degrees(np.arctan2(y, x)) % 360.0 / STEP_DEG
    up = (np.degrees(np.arcsin(np.clip(z, -1.0, 1.0))) + 90.0) / STEP_DEG
    column, row = across.astype(np.intp) % COLUMNS, np.minimum(up.astype(np.intp), ROWS - 2)
    right, above = (across % 1.0), up - row
    glow, beside = _glow(), (column + 1) % COLUMNS
    low = glow[row, column] * (1.0 - right) + glow[row, beside] * right
    high = glow[row + 1, column] * (1.0 - right) + glow[row + 1, beside] * right
    return np.asarray(low * (1.0 - above) + high * above)


@cache
def _glow() -> FloatArray:
    with np.load(resource("milky_way.npz"), allow_pickle=False) as file:
        return np.asarray(file["glow"], dtype=float) / 255.0
