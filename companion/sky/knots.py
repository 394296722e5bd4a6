"""Values at equal steps of time, and what lies between them."""

import math
from dataclasses import dataclass

import numpy as np

from companion.arrays import FloatArray

POINTS = 6  # of the polynomial


@dataclass(frozen=True, slots=True, eq=False)
class Knots:
    """Values (n, m) at equal steps, and what lies between them."""

    start_s: float
    step_s: float
    values: FloatArray

    def at(self, seconds: FloatArray) -> FloatArray:
        """Give the values at moments (k,), shape (k, m)."""
        x = (seconds - self.start_s) / self.step_s
        first = np.clip(np.floor(x).astype(np.intp) - 2, 0, len(self.values) - POINTS)
        away = (x - first) - _PLACES[:, None]  # (points, k), of the moment from each knot
        weights = np.tile(_LAGRANGE[:, None], len(seconds))
        weights[1:] *= np.multiply.accumulate(away[:-1])
        weights[:-1] *= np.multiply.accumulate(away[:0:-1])[::-1]
        near = self.values[first + _PLACES[:, None]]
        return np.asarray(np.einsum("jk,jkm->km", weights, near))


_PLACES = np.arange(POINTS)
_LAGRANGE = np.array(
    [
        (-1.0) ** (POINTS - 1 - j) / (math.factorial(j) * math.factorial(POINTS - 1 - j))
        for j in range(POINTS)
    ]
)
