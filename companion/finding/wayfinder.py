"""Everything that leads, made ready once a night: guide stars, finder stars, places of targets."""

import math
from collections.abc import Callable
from datetime import datetime
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from companion.arrays import FloatArray
from companion.finding.field_stars import FieldStars
from companion.finding.groups import load_groups
from companion.finding.guide import LOWEST_DEG, GuideStars, guide_targets, seen_vectors
from companion.finding.lines import angles_deg
from companion.finding.optics import Optics
from companion.finding.single_ways import Place
from companion.sky import (
    Catalogue,
    Horizontal,
    Kind,
    Moment,
    Target,
    TargetTable,
    horizon_altitude_deg,
    unit_vectors,
)

# The faintest star that the eye finds at azimuths and altitudes, all (n,).
EyeLimit = Callable[[FloatArray, FloatArray], FloatArray]

GUIDE_LIMIT: Final = 4.5  # fainter stars make no figure that a beginner recognises
FINDER_LIMIT: Final = 6.5
# The limit is what a practised eye finds by looking past it, with time; what catches the eye is
# about a magnitude brighter (common practice, no source).
_EASILY_MAG: Final = 1.0
_BRIGHTEST_STAR: Final = -1.5
_CLUSTERS: Final = frozenset({Kind.OPEN_CLUSTER, Kind.CLUSTER_NEBULA, Kind.GROUP})
_WIDE_ARCMIN: Final = 60.0  # smaller clusters hold no group that people find their way by


def finder_limit(limit: float, optics: Optics) -> float:
    """Give the faintest star through an instrument where the eye's limit is ``limit``.

    It gathers light as its diameter squared against a 7 mm pupil (common textbook). In daylight
    nothing is given: nobody should sweep for stars with the Sun up.
    """
    if limit < _BRIGHTEST_STAR:
        return -math.inf
    aperture_mm = optics.exit_pupil_mm * optics.magnification
    return limit + max(0.0, 5.0 * math.log10(aperture_mm / 7.0))


class WayFinder:
    """Stars and places for ``ways_to``, ``round_of`` and ``hops_to`` at any moment of a night.

    Parameters
    ----------
    catalogue : Catalogue
        Where the stars come from.
    utc : datetime
        Some moment of the night, for proper motion.
    """

    def __init__(self, catalogue: Catalogue, utc: datetime) -> None:
        self._catalogue = catalogue
        self._utc = utc

    @cached_property
    def _guides(self) -> TargetTable:
        return TargetTable.of(guide_targets(self._catalogue), self._utc)

    @cached_property
    def _field(self) -> TargetTable:
        return TargetTable.of(self._catalogue.bright_stars(FINDER_LIMIT), self._utc)

    @cached_property
    def _names(self) -> dict[int, str]:
        return {int(t.key.removeprefix("hip:")): t.name for t in self._field.targets}

    def guide_stars(self, moment: Moment, limit: EyeLimit | float) -> GuideStars:
        """Give the stars that can lead now, above the site's own horizon and the haze.

        Parameters
        ----------
        moment : Moment
            Site and time.
        limit : callable or float
            The faintest star that the eye finds under this sky, by direction or everywhere; those
            that lead are a magnitude brighter, and none is fainter than 4.5.
        """
        seen = moment.horizontal(self._guides)
        return GuideStars.of(
            self._guides.targets,
            seen.azimuth_deg,
            seen.altitude_deg,
            floor_deg=floor_deg(moment.site.horizon, seen.azimuth_deg),
            faintest=np.minimum(_easily(limit, seen), GUIDE_LIMIT),
        )

    def field_stars(
        self, moment: Moment, faintest: float = FINDER_LIMIT, limit: EyeLimit | float = np.inf
    ) -> FieldStars:
        """Give the stars that a finder shows now, none fainter than 6.5.

        Parameters
        ----------
        moment : Moment
            Site and time.
        faintest : float, optional
            Through the finder.
        limit : callable or float, optional
            By eye, as for ``guide_stars``: a route starts from what it finds easily.
        """
        seen = moment.horizontal(self._field)
        columns = self._catalogue.stars
        rows = columns.brighter_than(FINDER_LIMIT)
        shown = (columns.magnitude[rows] <= faintest) & (
            seen.altitude_deg > floor_deg(moment.site.horizon, seen.azimuth_deg, 0.0)
        )
        return FieldStars.of(
            columns,
            rows[shown],
            seen.azimuth_deg[shown],
            seen.altitude_deg[shown],
            lambda hip: self._names.get(hip, f"HIP {hip}"),
            eye_limit=np.broadcast_to(_easily(limit, seen), shown.shape)[shown],
        )

    def places(self, moment: Moment, targets: tuple[Target, ...]) -> tuple[Place, ...]:
        """Give where targets are seen now, below the horizon too; bodies with their brightness."""
        if not targets:
            return ()
        seen = moment.horizontal(TargetTable.of(targets, self._utc))
        vectors = seen_vectors(seen.azimuth_deg, seen.altitude_deg)
        floors = floor_deg(moment.site.horizon, seen.azimuth_deg, 0.0).tolist()
        return tuple(
            Place(vector, target.name, _magnitude(moment, target), floor, self._own(target))
            for target, vector, floor in zip(targets, vectors, floors, strict=True)
        )

    def _own(self, target: Target) -> frozenset[int]:
        """Give the stars that a target is, or that it is made of."""
        family, _colon, name = target.key.partition(":")
        if family == "hip":
            return frozenset({int(name)})
        if family == "group":
            known = (group.stars for group in load_groups() if group.key == name)
            members = self._catalogue.names.members.get(target.key, ())
            return frozenset(members).union(*known)
        return self._heart_of(target) if target.kind in _CLUSTERS else frozenset()

    def _heart_of(self, cluster: Target) -> frozenset[int]:
        """Give the stars of the groups that mostly lie within a wide cluster."""
        if (cluster.major_arcmin or 0.0) < _WIDE_ARCMIN:
            return frozenset()
        radius_deg = (cluster.major_arcmin or 0.0) / 120.0
        middle = unit_vectors(cluster.ra_deg or 0.0, cluster.dec_deg or 0.0)
        found: set[int] = set()
        for stars, vectors in self._group_vectors:
            apart = angles_deg(vectors, middle)
            found |= set(stars) if (apart < radius_deg).mean() > 0.5 else set()
        return frozenset(found)

    @cached_property
    def _group_vectors(self) -> tuple[tuple[tuple[int, ...], FloatArray], ...]:
        """Give each group's stars with their catalogued directions (n, 3)."""
        found = []
        for group in load_groups():
            stars = [self._catalogue.star(hip) for hip in group.stars]
            ra_deg, dec_deg = zip(
                *((s.ra_deg or 0.0, s.dec_deg or 0.0) for s in stars), strict=True
            )
            found.append((group.stars, unit_vectors(ra_deg, dec_deg)))
        return tuple(found)


def _easily(limit: EyeLimit | float, seen: Horizontal) -> FloatArray:
    """Give the magnitude of what the eye finds without searching, where things are seen."""
    found = limit(seen.azimuth_deg, seen.altitude_deg) if callable(limit) else limit
    return np.asarray(found) - _EASILY_MAG


def floor_deg(
    horizon: tuple[tuple[float, float], ...], azimuth_deg: ArrayLike, lowest_deg: float = LOWEST_DEG
) -> FloatArray:
    """Give the altitude above which the sky is clear, by azimuth: horizon, and haze at least.

    Parameters
    ----------
    horizon : tuple of (azimuth_deg, altitude_deg)
        The site's own, ascending in azimuth; empty where it is open.
    azimuth_deg : array_like
        Directions asked for, (n,).
    lowest_deg : float, optional
        Never below this.
    """
    return np.asarray(np.maximum(horizon_altitude_deg(horizon, azimuth_deg), lowest_deg))


def _magnitude(moment: Moment, target: Target) -> float | None:
    return moment.facts(target.body).magnitude if target.body else target.magnitude
