"""Many targets as columns, with proper motion applied once a night."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np

from companion.arrays import FloatArray
from companion.sky.target import Target
from companion.sky.vectors import unit_vectors

_MAS_RAD = np.pi / 180.0 / 3600.0 / 1000.0
_J2000 = datetime(2000, 1, 1, 12, tzinfo=UTC)


def julian_year(utc: datetime) -> float:
    """Give the moment as a Julian epoch, close enough for proper motion."""
    return 2000.0 + (utc - _J2000).total_seconds() / 86400.0 / 365.25


@dataclass(frozen=True, slots=True)
class TargetTable:
    """Columns for n targets.

    ``vectors`` are ICRS unit vectors (n, 3) at the epoch of date; rows of bodies hold any and are
    filled in for every moment. ``bodies`` lists (row, name) of those.
    """

    targets: tuple[Target, ...]
    vectors: FloatArray
    parallax_rad: FloatArray
    magnitudes: FloatArray  # NaN where unknown
    bodies: tuple[tuple[int, str], ...]

    @classmethod
    def of(cls, targets: Sequence[Target], utc: datetime) -> "TargetTable":
        """Make the table of these targets for the night around ``utc``."""
        year = julian_year(utc)
        columns = np.array(
            [
                (
                    t.ra_deg or 0.0,
                    t.dec_deg or 0.0,
                    t.pm_ra_mas_per_yr * (year - t.epoch_year),
                    t.pm_dec_mas_per_yr * (year - t.epoch_year),
                    t.parallax_mas,
                    np.nan if t.magnitude is None else t.magnitude,
                )
                for t in targets
            ],
            dtype=float,
        ).reshape(len(targets), 6)
        vectors = moved(columns[:, 0], columns[:, 1], columns[:, 2], columns[:, 3])
        bodies = tuple((row, t.body) for row, t in enumerate(targets) if t.body)
        vectors[[row for row, _ in bodies]] = (1.0, 0.0, 0.0)
        return cls(tuple(targets), vectors, columns[:, 4] * _MAS_RAD, columns[:, 5], bodies)


def moved(
    ra_deg: FloatArray, dec_deg: FloatArray, pm_ra_mas: FloatArray, pm_dec_mas: FloatArray
) -> FloatArray:
    """Give unit vectors (n, 3) after a straight motion of so many milliarcseconds."""
    ra, dec = np.radians(ra_deg), np.radians(dec_deg)
    east = np.stack([-np.sin(ra), np.cos(ra), np.zeros_like(ra)], axis=-1)
    north = np.stack([-np.sin(dec) * np.cos(ra), -np.sin(dec) * np.sin(ra), np.cos(dec)], axis=-1)
    shift = pm_ra_mas[:, None] * east + pm_dec_mas[:, None] * north
    vectors = unit_vectors(ra_deg, dec_deg) + shift * _MAS_RAD
    return np.asarray(vectors / np.linalg.norm(vectors, axis=1)[:, None], order="F")
