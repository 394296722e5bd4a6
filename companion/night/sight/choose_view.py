"""Which eyepiece suits what is looked at."""

import numpy as np
from numpy.typing import NDArray

from companion.night.sight.limits import object_limits
from companion.night.sight.objects import NightObjects
from companion.night.sight.observer import Conditions
from companion.night.sight.views import View
from companion.sky import Kind

FloatArray = NDArray[np.float64]

_ENOUGH_MAG = 2.0  # to spare: beyond that, framing counts for more than reach
_FITS, _CLUSTER_FITS = 0.8, 0.4  # of the field's diameter; clusters want sky around them
_PLANET_POWER_PER_MM = 1.5
_PLANET_POWER_PER_SEEING = 500.0  # 200× on a night of 2.5″ (common practice, no source)
_WHOLE_MOON_DEG = 0.55


def choose_views(
    objects: NightObjects,
    views: tuple[View, ...],
    sky_mag: FloatArray,
    through_air_mag: FloatArray,
    conditions: Conditions,
) -> tuple[NDArray[np.intp], FloatArray]:
    """Choose a view for each object and give the limit through it.

    Stars and doubles get the lowest power that shows them well, what has an area the highest
    that still frames it, planets the highest that the air allows, the Moon the highest that
    shows it whole.

    Parameters
    ----------
    objects : NightObjects
        n objects.
    views : tuple of View
        Ascending in power.
    sky_mag : ndarray
        Sky at each object, mag/arcsec², shape (n,).
    through_air_mag : ndarray
        Magnitude of each object with its extinction, shape (n,).
    conditions : Conditions
        Observer and seeing.

    Returns
    -------
    tuple of ndarray
        Number of the view and limit before extinction, shape (n,) each.
    """
    limits = np.stack(
        [object_limits(view, sky_mag[:, None], objects, conditions)[:, 0] for view in views],
        axis=1,
    )
    best = limits.max(axis=1)
    # What is hard gets the view that shows most, so that framing never costs a grade.
    enough = np.fmin(best, through_air_mag + _ENOUGH_MAG) - 1e-9
    shows = limits >= enough[:, None]
    suits = shows & _framed(objects, views, conditions)
    highest = len(views) - 1 - suits[:, ::-1].argmax(axis=1)
    low = objects.point & ~_planets(objects)
    chosen = np.where(suits.any(axis=1) & ~low, highest, shows.argmax(axis=1))
    return chosen.astype(np.intp), limits[np.arange(len(objects)), chosen]


def _planets(objects: NightObjects) -> NDArray[np.bool_]:
    return np.array([target.kind is Kind.PLANET for target in objects.targets], dtype=bool)


def _framed(
    objects: NightObjects, views: tuple[View, ...], conditions: Conditions
) -> NDArray[np.bool_]:
    """Whether each object has room in each view and bears its power; shape (n, views)."""
    fields_arcmin = np.array([view.field_deg * 60.0 for view in views])
    room = np.where(np.isfinite(objects.stars_below), _CLUSTER_FITS, _FITS)
    framed = objects.major_arcmin[:, None] <= room[:, None] * fields_arcmin
    framed[objects.always] = fields_arcmin >= _WHOLE_MOON_DEG * 60.0
    most = min(
        _PLANET_POWER_PER_MM * views[-1].aperture_mm,
        _PLANET_POWER_PER_SEEING / conditions.seeing_arcsec,
    )
    powers = np.array([view.magnification for view in views])
    framed[_planets(objects)] = powers <= max(most, powers[0])
    return np.asarray(framed)
