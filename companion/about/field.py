"""The stars about a direction: how bright, how far away and in which direction from it.

Directions are astrometric, of the date. What aberration does to a field as a whole is left out: it
changes separations by 0.4″ a degree at most.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from companion.about.orientation import sky_axes
from companion.about.record import FieldStar
from companion.arrays import FloatArray, IntArray
from companion.sky import load_catalogue, load_faint_stars, moved, unit_vectors

_POLE = np.array([0.0, 0.0, 1.0])  # of 2000, as position angles of pairs are given
_HIPPARCOS_YEAR, _FAINT_YEAR = 1991.25, 2016.0
_MOVED_DEG = 0.3  # more than any star has moved by since then


@dataclass(frozen=True, slots=True, eq=False)
class Field:
    """Stars about a direction, the brightest first; every array has shape (n,).

    ``hip`` is the Hipparcos number, 0 for those that have none: their ``magnitude`` is Gaia's G,
    that of the others is V. Position angles run from north through east.
    """

    hip: IntArray
    magnitude: FloatArray
    separation_deg: FloatArray
    position_angle_deg: FloatArray

    def star(self, row: int) -> FieldStar:
        """Give one as a record."""
        hip = int(self.hip[row])
        return FieldStar(
            name=load_catalogue().star(hip).name if hip else "",
            magnitude=round(float(self.magnitude[row]), 2),
            separation_deg=float(self.separation_deg[row]),
            position_angle_deg=float(self.position_angle_deg[row]),
        )

    def taken(self, which: NDArray[np.bool_] | IntArray) -> "Field":
        """Give some of them, in their order."""
        return Field(
            self.hip[which],
            self.magnitude[which],
            self.separation_deg[which],
            self.position_angle_deg[which],
        )


def field_around(towards: FloatArray, year: float, reach_deg: float, limit: float) -> Field:
    """Give all stars of the catalogues about a direction.

    Parameters
    ----------
    towards : ndarray
        Astrometric direction on ICRS axes, (3,).
    year : float
        Julian epoch of the date.
    reach_deg : float
        How far from it a star may stand.
    limit : float
        The faintest magnitude.
    """
    here = towards / np.linalg.norm(towards)
    stars, faint = load_catalogue().stars, load_faint_stars()
    about = _bright_vectors() @ here > np.cos(np.radians(min(reach_deg + _MOVED_DEG, 180.0)))
    bright = np.flatnonzero(about & (stars.magnitude <= limit))
    dim = faint.near(here, reach_deg, limit)
    years, later = year - _HIPPARCOS_YEAR, year - _FAINT_YEAR
    vectors = np.concatenate(
        [
            moved(
                stars.ra_deg[bright],
                stars.dec_deg[bright],
                stars.pm_ra_mas_per_yr[bright] * years,
                stars.pm_dec_mas_per_yr[bright] * years,
            ),
            moved(
                faint.ra_deg[dim],
                faint.dec_deg[dim],
                faint.pm_ra_mas_per_yr[dim] * later,
                faint.pm_dec_mas_per_yr[dim] * later,
            ),
        ]
    )
    hip = np.concatenate([stars.hip[bright], np.zeros(len(dim), dtype=np.int64)])
    magnitude = np.concatenate([stars.magnitude[bright], faint.magnitude[dim].astype(float)])
    separation, angle = polar_of(here, vectors)
    kept = np.flatnonzero(separation <= reach_deg)
    kept = kept[np.argsort(magnitude[kept], kind="stable")]
    return Field(hip, magnitude, separation, angle).taken(kept)


@cache
def _bright_vectors() -> FloatArray:
    """Give where the Hipparcos stars stood in their own year, (n, 3)."""
    stars = load_catalogue().stars
    return unit_vectors(stars.ra_deg, stars.dec_deg)


def polar_of(towards: FloatArray, vectors: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Give separation and position angle, degrees, of unit vectors (n, 3) from a direction."""
    east, north, sight = sky_axes(towards, _POLE)
    x, y, along = vectors @ east, vectors @ north, vectors @ sight
    separation = np.degrees(np.arctan2(np.hypot(x, y), along))
    return np.asarray(separation), np.asarray(np.degrees(np.arctan2(x, y)) % 360.0)
