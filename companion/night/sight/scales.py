"""How bright a sky is, in every unit that people and papers use."""

import numpy as np
from numpy.typing import ArrayLike

from companion.advice import AdviceError
from companion.arrays import FloatArray

DARKEST, BRIGHTEST = 22.2, 14.0  # zenith, mag/arcsec²: no place on Earth is darker
FAINTEST_LIMIT, BRIGHTEST_LIMIT = 8.1, 3.5  # naked-eye limits that such zeniths give
# Lower edge of each class in mag/arcsec², class 1 first. Bortle (2001, Sky & Telescope 101(2),
# 126) gave words and naked-eye limits; this common mapping to mag/arcsec² is later, from memory.
_BORTLE_EDGES = (21.76, 21.60, 21.30, 20.30, 19.25, 18.50, 18.00, 17.00)
# A person who knows only the class gets the middle of its range.
_BORTLE_MIDDLES = (21.9, 21.7, 21.45, 20.8, 19.8, 18.9, 18.25, 17.5, 16.5)
# Faintest star that a practised eye sees in each class, with averted vision and time, within the
# half magnitude that Bortle gives for it; the ends are carried on to BRIGHTEST and DARKEST.
_BORTLE_LIMITS = (7.65, 7.3, 6.85, 6.4, 5.85, 5.25, 4.75, 4.25, 3.9)
_LIMIT_SKIES = np.array([BRIGHTEST, *reversed(_BORTLE_MIDDLES), DARKEST])
_LIMITS = np.array([BRIGHTEST_LIMIT, *reversed(_BORTLE_LIMITS), FAINTEST_LIMIT])


def nanolamberts(mag_per_arcsec2: ArrayLike) -> FloatArray:
    """Turn surface brightness into luminance, nL (Krisciunas & Schaefer 1991)."""
    return np.asarray(34.08 * np.exp(20.7233 - 0.92104 * np.asarray(mag_per_arcsec2)))


def mag_per_arcsec2(nanolambert: ArrayLike) -> FloatArray:
    """Turn luminance in nL into V surface brightness; the inverse of ``nanolamberts``."""
    return np.asarray((20.7233 - np.log(np.asarray(nanolambert) / 34.08)) / 0.92104)


def candela_per_m2(mag_per_arcsec2: ArrayLike) -> FloatArray:
    """Turn surface brightness into luminance, cd/m² (1 nL is 1e-5/π cd/m²)."""
    return nanolamberts(mag_per_arcsec2) * (1e-5 / np.pi)


def naked_eye_limit(mag_per_arcsec2: ArrayLike) -> FloatArray:
    """Faintest star that a practised eye sees near the zenith of a sky (Bortle 2001).

    Parameters
    ----------
    mag_per_arcsec2 : array_like
        V surface brightness of the sky around the star.
    """
    sky = np.asarray(mag_per_arcsec2, dtype=np.float64)
    return np.asarray(np.interp(sky, _LIMIT_SKIES, _LIMITS))


def zenith_of_limit(limit_mag: float) -> float:
    """Sky brightness at the zenith from the faintest star that is seen there (Bortle 2001).

    Raises
    ------
    AdviceError
        If the limit is outside 3.5 to 8.1.
    """
    _within("naked-eye limit", limit_mag, BRIGHTEST_LIMIT, FAINTEST_LIMIT)
    return float(np.interp(limit_mag, _LIMITS, _LIMIT_SKIES))


def bortle_class(mag_per_arcsec2: float) -> int:
    """Give the class of a zenith, 1 (darkest) to 9 (mapping from memory)."""
    return 1 + sum(mag_per_arcsec2 < edge for edge in _BORTLE_EDGES)


def zenith_of_bortle(bortle: int) -> float:
    """Sky brightness in the middle of a class (mapping from memory).

    Raises
    ------
    AdviceError
        If there is no such class.
    """
    _within("Bortle class", bortle, 1, 9)
    return _BORTLE_MIDDLES[int(bortle) - 1]


def zenith_brightness(
    *, meter: float | None = None, limit_mag: float | None = None, bortle: int | None = None
) -> float:
    """Sky brightness at the zenith from whichever measure the person knows.

    Parameters
    ----------
    meter : float, optional
        Reading of a brightness meter held to the zenith, mag/arcsec².
    limit_mag : float, optional
        Faintest star seen overhead with the eye.
    bortle : int, optional
        Class 1 to 9.

    Raises
    ------
    AdviceError
        If not exactly one measure is given, or it is outside its range.
    """
    if sum(value is not None for value in (meter, limit_mag, bortle)) != 1:
        raise AdviceError(
            "The darkness of the sky was given more than once, or not at all.",
            "Give a brightness meter's reading, the faintest star overhead, or a Bortle class.",
        )
    if meter is not None:
        _within("sky brightness", meter, BRIGHTEST, DARKEST)
        return meter
    if limit_mag is not None:
        return zenith_of_limit(limit_mag)
    assert bortle is not None  # noqa: S101  # one of the three is given, and it is not the others
    return zenith_of_bortle(bortle)


def _within(what: str, value: float, low: float, high: float) -> None:
    """Refuse a value outside its range, NaN included."""
    if not low <= value <= high:
        raise AdviceError(
            f"The {what} {value:g} is outside {low:g} to {high:g}.",
            f"Give a {what} within that range.",
        )
