"""The stars that a finder shows, as they stand at one moment."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from companion.arrays import BoolArray, FloatArray, IntArray
from companion.finding.guide import seen_vectors
from companion.sky import StarColumns


@dataclass(frozen=True, eq=False)
class FieldStars:
    """n stars above the horizon, brightest first."""

    hip: IntArray
    magnitude: FloatArray
    colour_index: FloatArray  # B - V
    vectors: FloatArray  # (n, 3), as seen_vectors has them
    by_eye: BoolArray  # (n,) whether the bare eye finds it: hops start there
    name_of: Callable[[int], str]  # HIP number to the name shown

    @classmethod
    def of(
        cls,
        columns: StarColumns,
        rows: IntArray,
        azimuth_deg: ArrayLike,
        altitude_deg: ArrayLike,
        name_of: Callable[[int], str] = "HIP {}".format,
        *,
        eye_limit: ArrayLike = np.inf,
    ) -> "FieldStars":
        """Keep the stars above the horizon.

        Parameters
        ----------
        columns : StarColumns
            The catalogue.
        rows : IntArray
            Its rows to use, shape (m,), as ``columns.brighter_than`` gives them.
        azimuth_deg, altitude_deg : array_like
            Where each of those rows is seen, refracted, shape (m,).
        name_of : callable, optional
            What a star is called.
        eye_limit : array_like, optional
            Magnitude of the faintest star that the bare eye finds easily where each row stands,
            shape (m,) or one for all.
        """
        up = np.asarray(altitude_deg, float) > 0.0
        found = columns.magnitude[rows] <= np.asarray(eye_limit)
        kept = rows[up]
        order = np.argsort(columns.magnitude[kept], kind="stable")
        kept = kept[order]
        vectors = seen_vectors(np.asarray(azimuth_deg, float)[up], np.asarray(altitude_deg)[up])
        return cls(
            hip=columns.hip[kept],
            magnitude=columns.magnitude[kept],
            colour_index=columns.colour_index[kept],
            vectors=vectors[order].reshape(-1, 3),
            by_eye=found[up][order],
            name_of=name_of,
        )

    def within(self, middle: FloatArray, radius_deg: float, most: int) -> IntArray:
        """Give the rows of the brightest stars around a direction, at most so many."""
        near = self.vectors @ middle > np.cos(np.radians(min(radius_deg, 180.0)))
        return np.flatnonzero(near)[:most].astype(np.int64)
