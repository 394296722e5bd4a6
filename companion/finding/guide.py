"""The stars that lead: bright ones and those of the groups, as they stand at one moment."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from companion.arrays import FloatArray, IntArray
from companion.finding.groups import Group, load_groups
from companion.sky import Catalogue, Target, unit_vectors

LOWEST_DEG: Final = 8.0  # lower stars drown in haze (common practice, no source)
UP: Final = (0.0, 0.0, 1.0)  # the zenith among seen vectors
_FAINTEST_GUIDE: Final = 3.5
_RECOGNISED_SHARE: Final = 0.6  # of a group's stars must be seen for its shape to be known


def seen_vectors(azimuth_deg: ArrayLike, altitude_deg: ArrayLike) -> FloatArray:
    """Turn seen directions into unit vectors (..., 3): x north, y west, z up.

    Right-handed as right ascension and declination are, so that left, right and position angles
    come out alike from seen and from ICRS vectors.
    """
    return unit_vectors(-np.asarray(azimuth_deg, float), altitude_deg)


def guide_targets(catalogue: Catalogue) -> tuple[Target, ...]:
    """Give the stars to fill ``GuideStars`` with: all of the groups, and all that are bright."""
    stars = catalogue.stars
    bright = stars.hip[stars.brighter_than(_FAINTEST_GUIDE)].tolist()
    grouped = [
        hip for g in load_groups() for hip in (*g.stars, *(hip for row in g.rows for hip in row))
    ]
    return tuple(catalogue.star(hip) for hip in dict.fromkeys([*bright, *grouped]))


@dataclass(frozen=True, eq=False)
class GuideStars:
    """n stars that are up, clear of the horizon and bright enough; brightest first."""

    hip: IntArray
    names: tuple[str, ...]
    magnitude: FloatArray
    vectors: FloatArray  # (n, 3), as seen_vectors has them
    groups: tuple[Group, ...]  # those whose shape can be recognised now

    @classmethod
    def of(
        cls,
        targets: Sequence[Target],
        azimuth_deg: ArrayLike,
        altitude_deg: ArrayLike,
        *,
        floor_deg: ArrayLike = LOWEST_DEG,
        faintest: ArrayLike = 4.5,
        groups: Sequence[Group] | None = None,
    ) -> "GuideStars":
        """Keep what can be used of stars whose keys are ``hip:…``.

        Parameters
        ----------
        targets : sequence of Target
            Stars, as ``guide_targets`` gives them.
        azimuth_deg, altitude_deg : array_like
            Where each is seen, refracted, shape (n,).
        floor_deg : array_like, optional
            The altitude that is clear at each star's azimuth, (n,) or one for all: the local
            horizon, and never below the haze.
        faintest : array_like, optional
            Magnitude of the faintest star that serves now, (n,) or one for all: the site's own
            sky, air, twilight and the Moon lower it.
        groups : sequence of Group, optional
            All groups where not given.
        """
        altitude = np.asarray(altitude_deg, float)
        magnitude = np.array(
            [np.inf if t.magnitude is None else t.magnitude for t in targets], float
        )
        floor = np.maximum(np.asarray(floor_deg, float), 0.0)
        rows = np.flatnonzero((altitude >= floor) & (magnitude <= np.asarray(faintest)))
        rows = rows[np.argsort(magnitude[rows], kind="stable")]
        kept = [targets[row] for row in rows.tolist()]
        hip = np.array([int(target.key.removeprefix("hip:")) for target in kept], np.int64)
        vectors = seen_vectors(np.asarray(azimuth_deg, float)[rows], altitude[rows])
        there = set(hip.tolist())
        known = load_groups() if groups is None else groups
        return cls(
            hip=hip,
            names=tuple(target.name for target in kept),
            magnitude=magnitude[rows],
            vectors=vectors.reshape(-1, 3),
            groups=tuple(g for g in known if _recognised(g, there)),
        )

    @cached_property
    def rows(self) -> dict[int, int]:
        """Row of each HIP number."""
        return {hip: row for row, hip in enumerate(self.hip.tolist())}

    @cached_property
    def members(self) -> tuple[IntArray, ...]:
        """Rows of each group's stars, those that are there."""
        return tuple(
            np.array([self.rows[hip] for hip in g.stars if hip in self.rows], np.int64)
            for g in self.groups
        )

    def group_of(self, row: int) -> Group | None:
        """Give the first recognised group that a star belongs to."""
        hip = int(self.hip[row])
        return next((group for group in self.groups if hip in group.stars), None)


def _recognised(group: Group, there: set[int]) -> bool:
    seen = sum(hip in there for hip in group.stars)
    return seen >= 2 and seen >= _RECOGNISED_SHARE * len(group.stars)
