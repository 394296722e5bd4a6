"""The faintest total magnitude of each object, through each view, on each sky."""

import numpy as np
from numpy.typing import NDArray

from companion.night.contrast import surface_limit
from companion.night.objects import NightObjects
from companion.night.observer import Conditions
from companion.night.star_limit import SKY_COLOUR, star_limit
from companion.night.views import View

FloatArray = NDArray[np.float64]

_HALF_LIGHT_MAG = 0.7526  # half of the light, in magnitudes
_TOO_WIDE_MAG = 1.0  # what is lost when no dark edge of the sky is left in the field
_FILLS_FIELD = 0.8  # of the field's diameter
_UNSEEN = -99.0


def object_limits(
    view: View, sky_mag: FloatArray, objects: NightObjects, conditions: Conditions
) -> FloatArray:
    """Magnitude before extinction at which each object is just seen.

    A galaxy or globular cluster may be seen as a whole or by its core, an open cluster as a glow
    or by its stars: the easier way counts.

    Parameters
    ----------
    view : View
        Instrument, eyepiece and pupil.
    sky_mag : ndarray
        Sky, mag/arcsec²; shape (k,) for k skies, or (n, 1) for each object its own.
    objects : NightObjects
        n objects.
    conditions : Conditions
        Observer and seeing.

    Returns
    -------
    ndarray
        Shape (n, k).
    """
    sky = np.atleast_1d(sky_mag) if np.ndim(sky_mag) < 2 else sky_mag
    limits = np.empty((len(objects), sky.shape[-1]))
    points, wide = np.flatnonzero(objects.point), np.flatnonzero(~objects.point)
    limits[points] = _point_limits(view, _of_rows(sky, points), objects, points, conditions)
    limits[wide] = _wide_limits(view, _of_rows(sky, wide), objects, wide, conditions)
    limits[objects.always] = np.inf
    return limits


def _of_rows(sky_mag: FloatArray, rows: NDArray[np.intp]) -> FloatArray:
    return sky_mag[rows] if sky_mag.ndim == 2 else sky_mag


def _point_limits(
    view: View,
    sky_mag: FloatArray,
    objects: NightObjects,
    rows: NDArray[np.intp],
    conditions: Conditions,
) -> FloatArray:
    return star_limit(
        view,
        sky_mag,
        conditions.observer,
        colour_index=objects.colour_index[rows, None],
        seeing_arcsec=conditions.seeing_arcsec,
    )


def _wide_limits(
    view: View,
    sky_mag: FloatArray,
    objects: NightObjects,
    rows: NDArray[np.intp],
    conditions: Conditions,
) -> FloatArray:
    """Limits of things with an area: as a whole, by the core, or by their stars."""
    area = objects.area_arcmin2[rows, None]
    major = objects.major_arcmin[rows]
    best = surface_limit(view, sky_mag, area, conditions.observer)
    best = best - _TOO_WIDE_MAG * (major > _FILLS_FIELD * view.field_deg * 60.0)[:, None]
    size = objects.core_size[rows]
    cored = np.flatnonzero(~np.isnan(size))
    if cored.size:
        core = surface_limit(
            view,
            _of_rows(sky_mag, cored),
            (area[cored, 0] * size[cored] ** 2)[:, None],
            conditions.observer,
        )
        best[cored] = np.maximum(best[cored], core - _HALF_LIGHT_MAG)
    stars = star_limit(
        view,
        sky_mag,
        conditions.observer,
        colour_index=SKY_COLOUR,
        seeing_arcsec=conditions.seeing_arcsec,
    )
    return np.maximum(best, np.maximum(stars - objects.stars_below[rows, None], _UNSEEN))
