"""The Hipparcos stars as columns of one compact file."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from companion.arrays import FloatArray, IntArray
from companion.sky.constellation import ABBREVIATIONS
from companion.sky.resources import resource

EPOCH_YEAR = 1991.25
# Column of stars.npz -> (integer type, size of one step). Half a step is the rounding error:
# 0.15 mas in position, 0.05 mas/yr in proper motion, far below what the eye or a dial shows.
# Every brighter star is there, save a few: the survey of Hipparcos (ESA SP-1200, volume 1, 1997;
# from memory) took all to 7.3, and away from the Milky Way to 9.0; fainter ones are a selection.
STARS_COMPLETE_TO_MAG = 7.3
ENCODING: dict[str, tuple[str, float]] = {
    "ra_deg": ("u4", 360.0 / 2**32),
    "dec_deg": ("i4", 180.0 / 2**32),
    "pm_ra_mas_per_yr": ("i4", 0.1),
    "pm_dec_mas_per_yr": ("i4", 0.1),
    "parallax_mas": ("i2", 0.05),
    "parallax_error_mas": ("u2", 0.01),
    "magnitude": ("i2", 0.001),
    "colour_index": ("i2", 0.001),
    "scatter_mag": ("u1", 0.02),
}


@dataclass(frozen=True, slots=True, eq=False)
class StarColumns:
    """All stars, ascending by HIP number; every array has shape (n,).

    ``parallax_error_mas`` is one standard deviation, 0 where none was published.
    Directions are ICRS at epoch 1991.25; ``pm_ra_mas_per_yr`` is multiplied by cos(dec).
    ``magnitude`` is V, ``colour_index`` B - V, ``scatter_mag`` the standard deviation of what
    Hipparcos measured from 1989 to 1993: where it is large the star varies. ``constellation``
    numbers ``constellation.ABBREVIATIONS``.
    """

    hip: IntArray
    ra_deg: FloatArray
    dec_deg: FloatArray
    pm_ra_mas_per_yr: FloatArray
    pm_dec_mas_per_yr: FloatArray
    parallax_mas: FloatArray
    parallax_error_mas: FloatArray
    magnitude: FloatArray
    colour_index: FloatArray
    scatter_mag: FloatArray
    constellation: NDArray[np.uint8]

    def row(self, hip: int) -> int | None:
        """Give the row of a HIP number, None where the catalogue has no such star."""
        if not 0 < hip < 2**31:
            return None
        at = int(np.searchsorted(self.hip, hip))
        return at if at < len(self.hip) and int(self.hip[at]) == hip else None

    def constellation_of_row(self, row: int) -> str:
        """Give the IAU abbreviation of one star's constellation."""
        return ABBREVIATIONS[int(self.constellation[row])]

    def brighter_than(self, magnitude: float) -> IntArray:
        """Give the rows of the stars brighter than a V magnitude, brightest first."""
        rows = np.flatnonzero(self.magnitude < magnitude)
        return rows[np.argsort(self.magnitude[rows], kind="stable")].astype(np.int64)


def load_stars() -> StarColumns:
    """Read ``resources/stars.npz``."""
    with np.load(resource("stars.npz"), allow_pickle=False) as file:
        numbers = {
            name: np.multiply(file[name], step, dtype=np.float64)
            for name, (_kind, step) in ENCODING.items()
        }
        return StarColumns(
            hip=file["hip"].astype(np.int64), constellation=file["constellation"], **numbers
        )
