"""The faintest total magnitude of each object, through each view, on each sky."""

import numpy as np

from companion.arrays import BoolArray, FloatArray, RowArray
from companion.night.sight.contrast import surface_limit
from companion.night.sight.objects import NightObjects
from companion.night.sight.observer import Conditions
from companion.night.sight.star_limit import SKY_COLOUR, bright_sky_loss_mag, star_limit
from companion.night.sight.views import View

_TOO_WIDE_MAG = 1.0  # what is lost when no dark edge of the sky is left in the field
_FILLS_FIELD = 0.8  # of the field's diameter
_UNSEEN = -99.0
# Apparent distance at which a pair is parted at ease (common practice, no source), and the part
# of the seeing's blur within which no pair is parted.
SPLIT_AT_ARCSEC = 150.0
_SEEING_PART = 0.5


def object_limits(
    view: View, sky_mag: FloatArray, objects: NightObjects, conditions: Conditions
) -> FloatArray:
    """Magnitude before extinction at which each object is just seen.

    Something large may be seen as a whole, by its bright part or its very middle, an open cluster
    as a glow or by its stars: the easier way counts.

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
    limits[~splits(view, objects, conditions)] = _UNSEEN
    limits[objects.always] = np.inf
    return limits


def splits(view: View, objects: NightObjects, conditions: Conditions) -> BoolArray:
    """Say which objects a view parts; what is no double star counts as parted, shape (n,)."""
    needed = np.maximum(
        max(view.resolution_arcsec, _SEEING_PART * conditions.seeing_arcsec),
        SPLIT_AT_ARCSEC * view.blur / view.magnification,
    )
    return np.asarray(~(objects.separation_arcsec < needed), dtype=np.bool_)


def _of_rows(sky_mag: FloatArray, rows: RowArray) -> FloatArray:
    return sky_mag[rows] if sky_mag.ndim == 2 else sky_mag


def _point_limits(
    view: View,
    sky_mag: FloatArray,
    objects: NightObjects,
    rows: RowArray,
    conditions: Conditions,
) -> FloatArray:
    limit = star_limit(
        view,
        sky_mag,
        conditions.observer,
        colour_index=objects.colour_index[rows, None],
        seeing_arcsec=conditions.seeing_arcsec,
    )
    return limit - view.trembling_mag


def _patch_limits(  # noqa: PLR0917 - one law of six things, called twice beside it
    view: View,
    sky_mag: FloatArray,
    objects: NightObjects,
    rows: RowArray,
    part: FloatArray,
    conditions: Conditions,
) -> FloatArray:
    """Limits of the inner part of some objects, a part of their size, as an even patch."""
    area = objects.area_arcmin2[rows] * part**2
    too_wide = objects.major_arcmin[rows] * part > _FILLS_FIELD * view.field_deg * 60.0
    limit = surface_limit(view, sky_mag, area[:, None], conditions.observer)
    limit = limit - bright_sky_loss_mag(sky_mag)
    return limit - _TOO_WIDE_MAG * too_wide[:, None]


def _wide_limits(
    view: View,
    sky_mag: FloatArray,
    objects: NightObjects,
    rows: RowArray,
    conditions: Conditions,
) -> FloatArray:
    """Limits of things with an area: as a whole, by core or centre, or by their stars."""
    best = _patch_limits(view, sky_mag, objects, rows, np.ones(len(rows)), conditions)
    for size, loss_mag in objects.parts.transpose(1, 2, 0):
        some = np.flatnonzero(~np.isnan(size[rows]))
        inner = rows[some]
        sky = _of_rows(sky_mag, some)
        limit = _patch_limits(view, sky, objects, inner, size[inner], conditions)
        best[some] = np.maximum(best[some], limit - loss_mag[inner, None])
    stars = star_limit(
        view,
        sky_mag,
        conditions.observer,
        colour_index=SKY_COLOUR,
        seeing_arcsec=conditions.seeing_arcsec,
    )
    return np.maximum(best, np.maximum(stars - objects.stars_below[rows, None], _UNSEEN))
