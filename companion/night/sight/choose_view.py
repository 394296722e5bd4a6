"""Which eyepiece suits what is looked at."""

import numpy as np

from companion.arrays import BoolArray, FloatArray, RowArray
from companion.night.sight.limits import object_limits
from companion.night.sight.objects import NightObjects
from companion.night.sight.observer import Conditions
from companion.night.sight.views import View
from companion.sky import Kind

# A view may cost what is to spare above one of these, mag: never a grade.
_KEPT_MAG = (2.0, 1.0)
_HARD_COST_MAG = 0.1  # what it may cost below
_FITS, _CLUSTER_FITS = 0.8, 0.4  # of the field's diameter; clusters want sky around them
_PLANET_POWER_PER_MM = 1.5
_PLANET_POWER_PER_SEEING = 500.0  # 200× on a night of 2.5″ (common practice, no source)
_WHOLE_MOON_DEG = 0.55
# What each kind needs (common practice, no source): the apparent size, arcmin, at which it shows
# its form, and the smallest and largest exit pupil, mm, that suit its faintness.
_NEEDS = {
    Kind.GALAXY: (600.0, 1.2, 4.0),
    Kind.GLOBULAR: (2400.0, 1.0, 4.0),
    Kind.PLANETARY: (120.0, 0.75, 3.0),
    Kind.OPEN_CLUSTER: (1200.0, 1.5, 5.0),
    Kind.CLUSTER_NEBULA: (1200.0, 2.0, 5.0),
    Kind.NEBULA: (600.0, 2.0, 5.0),
    Kind.REMNANT: (600.0, 2.0, 5.0),
    Kind.DARK_NEBULA: (600.0, 3.0, 7.0),
    Kind.COMET: (300.0, 2.0, 5.0),
}
_USUAL_NEED = (600.0, 2.0, 5.0)


def choose_views(
    objects: NightObjects,
    views: tuple[View, ...],
    sky_mag: FloatArray,
    through_air_mag: FloatArray,
    conditions: Conditions,
) -> tuple[RowArray, FloatArray]:
    """Choose a view for each object and give the limit through it.

    Stars and doubles get the lowest power that shows them well, what has an area the power that
    its kind and size need, planets the highest that the air allows, the Moon the highest that
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
    shows = limits >= (_enough(limits.max(axis=1), through_air_mag) - 1e-9)[:, None]
    suits = shows & _framed(objects, views, conditions)
    powers = np.array([view.magnification for view in views])
    off = np.abs(np.log(powers / _wanted_powers(objects, views[0].aperture_mm)[:, None]))
    nearest = np.where(suits, off, np.inf).argmin(axis=1)
    low = objects.point & ~_planets(objects)
    chosen = np.where(suits.any(axis=1) & ~low, nearest, shows.argmax(axis=1))
    return chosen.astype(np.intp), limits[np.arange(len(objects)), chosen]


def _enough(best: FloatArray, through_air_mag: FloatArray) -> FloatArray:
    """Limit that a view must reach: where little is to spare, the best there is."""
    enough = best - _HARD_COST_MAG
    for kept in reversed(_KEPT_MAG):
        enough = np.where(best >= through_air_mag + kept, through_air_mag + kept, enough)
    return enough


def _wanted_powers(objects: NightObjects, aperture_mm: float) -> FloatArray:
    """Power that shows each object at the size its kind needs; the most for planets and Moon."""
    needs = np.array([_NEEDS.get(target.kind, _USUAL_NEED) for target in objects.targets])
    size, smallest, largest = needs.reshape(-1, 3).T
    own_size = np.sqrt(np.maximum(objects.area_arcmin2, 1e-6) * 4.0 / np.pi)
    wanted = np.clip(size / own_size, aperture_mm / largest, aperture_mm / smallest)
    return np.where(_planets(objects) | objects.always, 1e4, wanted)


def _planets(objects: NightObjects) -> BoolArray:
    return np.array([target.kind is Kind.PLANET for target in objects.targets], dtype=bool)


def _framed(objects: NightObjects, views: tuple[View, ...], conditions: Conditions) -> BoolArray:
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
