"""How much of a target the eye gains where it stands, 0 to 1: the measure of an order.

Light is perceived as a power of its excess over the threshold, ψ = k (φ - φ₀)ⁿ, with n near 0.5
for points and 0.33 for surfaces in the dark (Stevens 1961, Science 133, 80; exponents from
memory). With φ after the air has taken its part, φ₀ the threshold on the sky of that place and
moment, and a target overhead on a perfectly black sky as 1, in magnitudes:

    gain = 10^(-0.4 n A) · <(1 - 10^(-0.4 m))ⁿ>

A is the extinction beyond that of the zenith (``air``), m what is to spare over the limit of
``reach``, which counts airmass, glow, Moon and twilight. The brackets are the mean over how far
limits of people and nights lie apart (Schaefer 1990, as in ``grades``): that makes it the expected
visibility of what is near the limit.

What is looked at for fine detail loses it to the blur of the air as well, which grows with the
0.6th power of the airmass (Roddier 1981, Progress in Optics 19, 281) wherever it is coarser than
what the eye resolves at that power.
"""

from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from companion.night.sight.air import airmass
from companion.night.sight.grades import LIMIT_SIGMA
from companion.night.sight.judgement import Judgement
from companion.night.sight.views import EYE_ARCSEC
from companion.sky import Kind

FloatArray = NDArray[np.float64]

_POINT, _SURFACE = 0.5, 0.33  # Stevens' exponents
_BLUR = 0.6  # power of the airmass
_FINE = frozenset({Kind.PLANET, Kind.MOON, Kind.DOUBLE})
# Of what does not show, so that somebody who tries it does so at its best (our choice).
_LEAST = 0.01
_MARGINS = np.arange(-2.0, 12.0, 0.05)
_PEOPLE = np.array([NormalDist(0.0, LIMIT_SIGMA).inv_cdf((i + 0.5) / 41.0) for i in range(41)])


def visible_part(margin_mag: FloatArray, exponent: float) -> FloatArray:
    """Give the mean of (1 - 10^(-0.4 m))ⁿ over people and nights, 0 to 1.

    Parameters
    ----------
    margin_mag : ndarray
        What is to spare over the limit, mag; any shape.
    exponent : float
        n, Stevens' exponent.
    """
    excess = 1.0 - 10.0 ** (-0.4 * (_MARGINS[:, None] + _PEOPLE))
    table = (np.maximum(excess, 0.0) ** exponent).mean(axis=1)
    return np.asarray(np.interp(margin_mag, _MARGINS, table, left=0.0, right=1.0))


def eye_gain(judgement: Judgement, altitude_deg: FloatArray, reach_mag: FloatArray) -> FloatArray:
    """Give the gain of each object over times, 0 to 1; nothing below the horizon.

    Parameters
    ----------
    judgement : Judgement
        The n objects, with the views chosen for them.
    altitude_deg : ndarray
        As seen, shape (times, n).
    reach_mag : ndarray
        Faintest magnitude that would show in each place, extinction counted, shape (times, n).

    Returns
    -------
    ndarray
        Shape (times, n). Of unknown brightness is taken that it just shows at its best.
    """
    objects = judgement.objects
    best_reach = reach_mag.max(axis=0, initial=-np.inf)
    magnitude = np.where(np.isnan(objects.magnitude), best_reach, objects.magnitude)
    margin = np.where(objects.always, np.inf, reach_mag - magnitude)
    point = objects.point
    shows = np.empty_like(altitude_deg)
    shows[:, point] = visible_part(margin[:, point], _POINT)
    shows[:, ~point] = visible_part(margin[:, ~point], _SURFACE)
    air = airmass(altitude_deg)
    lost_mag = judgement.conditions.extinction_mag * np.maximum(air - 1.0, 0.0)
    light = 10.0 ** (-0.4 * np.where(point, _POINT, _SURFACE) * lost_mag)
    gain = light * np.maximum(shows, _LEAST) * _detail(judgement, air)
    return np.where(altitude_deg > 0.0, gain, 0.0)


def _detail(judgement: Judgement, air: FloatArray) -> FloatArray:
    """Give the part of the finest detail overhead that the air leaves; 1 where none is sought."""
    fine = np.array([target.kind in _FINE for target in judgement.objects.targets], dtype=bool)
    power = np.array([view.magnification for view in judgement.views])[judgement.view]
    seeing = judgement.conditions.seeing_arcsec
    overhead = np.maximum(EYE_ARCSEC / power, seeing)
    here = np.maximum(EYE_ARCSEC / power, seeing * air**_BLUR)
    return np.where(fine, overhead / here, 1.0)
