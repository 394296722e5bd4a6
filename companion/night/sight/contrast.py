"""The faintest surface against the sky (Crumey 2014, MNRAS 442, 2600)."""

import numpy as np
from numpy.typing import ArrayLike

from companion.arrays import FloatArray
from companion.night.sight.observer import Observer
from companion.night.sight.scales import candela_per_m2
from companion.night.sight.views import View

_ONE_EYE = 2.0**0.5
_ARCMIN2_PER_SR = (180.0 * 60.0 / np.pi) ** 2
_ARCSEC2_PER_ARCMIN2 = 3600.0
# Equations 28 and 39: coefficients of B^-1/2, B^-1/4, 1 under the root, then B^-1/4, 1.
_RICCO = (5.949e-8, -2.389e-7, 2.459e-7, 4.120e-4, -4.225e-4)
_WIDE = (9.606e-6, -6.337e-5, 1.092e-4, 5.791e-3, -6.177e-3)
# Part of the laboratory's contrast at which a practised observer sees a wide patch: averted vision
# and time gain more there than for points. Fitted to what Bortle (2001) says in which class M 33
# shows to the bare eye (easy with averted vision in class 3, difficult in class 4).
_PRACTISED_WIDE = 0.45
# What practice adds to every patch under a dark sky, mag: fitted to the globular clusters that
# Bortle's class 3 shows and to his end of the scale. Under a bright sky the law needs nothing.
_PRACTISED_MAG, _RURAL_SKY, _CITY_SKY = 0.45, 20.5, 17.5
_DARK_SKY, _DARK_PER_MAG, _DARKEST_SKY = 21.4, 1.35, 22.2
_DARKEST_CD = 1e-7  # the law has no meaning in absolute darkness


def threshold_contrast(
    background_cd_per_m2: ArrayLike, area_sr: ArrayLike, wide_part: float = 1.0
) -> FloatArray:
    """Least contrast at which a laboratory's observers saw a disc (eq. 41).

    Parameters
    ----------
    background_cd_per_m2 : array_like
        Luminance to which the eye is adapted.
    area_sr : array_like
        Apparent area of the disc, steradians; broadcasts against the background.
    wide_part : float
        Multiplies the threshold of the widest discs; 1 is the laboratory.

    Returns
    -------
    ndarray
        Luminance added by the disc over that of the background.
    """
    b = np.maximum(np.asarray(background_cd_per_m2, dtype=np.float64), _DARKEST_CD)
    quarter = b**-0.25
    ricco = _law(quarter, _RICCO) ** 2
    q = _exponent(b)
    wide = wide_part * _law(quarter, _WIDE)
    return np.asarray(((ricco / np.asarray(area_sr)) ** q + wide**q) ** (1.0 / q))


def surface_limit(
    view: View, sky_mag: ArrayLike, area_arcmin2: ArrayLike, observer: Observer
) -> FloatArray:
    """Total magnitude, before extinction, of the faintest evenly lit patch.

    Parameters
    ----------
    view : View
        Instrument and observer's pupil.
    sky_mag : array_like
        Sky around the patch, mag/arcsec².
    area_arcmin2 : array_like
        True area of the patch; broadcasts against the sky. What is larger than the field of
        view counts only as far as the field reaches.
    observer : Observer
        Practice.
    """
    sky = np.asarray(sky_mag, dtype=np.float64)
    area = np.asarray(area_arcmin2, dtype=np.float64)
    in_field = np.minimum(area, np.pi / 4.0 * (view.field_deg * 60.0) ** 2)
    contrast = threshold_contrast(
        candela_per_m2(sky) * view.surface_gain,
        in_field * view.magnification**2 / _ARCMIN2_PER_SR,
        _PRACTISED_WIDE,
    )
    contrast = contrast * observer.field_factor * (1.0 if view.both_eyes else _ONE_EYE)
    limit = sky - 2.5 * np.log10(contrast * area * _ARCSEC2_PER_ARCMIN2)
    return np.asarray(limit + beyond_law_mag(sky))


def beyond_law_mag(sky_mag: ArrayLike) -> FloatArray:
    """Magnitudes by which a practised observer beats Crumey's law of small patches.

    Parameters
    ----------
    sky_mag : array_like
        Sky that the eye is used to, mag/arcsec².
    """
    sky = np.minimum(np.asarray(sky_mag, dtype=np.float64), _DARKEST_SKY)
    share = np.clip((sky - _CITY_SKY) / (_RURAL_SKY - _CITY_SKY), 0.0, 1.0)
    return np.asarray(share * _PRACTISED_MAG + _DARK_PER_MAG * np.maximum(sky - _DARK_SKY, 0.0))


def _law(quarter: FloatArray, c: tuple[float, float, float, float, float]) -> FloatArray:
    """Evaluate equation 28 or 39 at B^-1/4."""
    root = np.sqrt(c[0] * quarter**2 + c[1] * quarter + c[2])
    return np.asarray(root + c[3] * quarter + c[4])


def _exponent(background_cd_per_m2: FloatArray) -> FloatArray:
    """How sharply small and large targets part (eqs. 42-44)."""
    log_b = np.log10(background_cd_per_m2)
    middle = np.clip(0.8861 + 0.4 * log_b, 0.6, None)
    return np.where(log_b < np.log10(3.426), middle, 1.146 - 0.0885 * log_b)
