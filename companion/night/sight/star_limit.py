"""The faintest star through an instrument (Schaefer 1990, PASP 102, 212)."""

import numpy as np
from numpy.typing import ArrayLike

from companion.arrays import FloatArray
from companion.night.sight.observer import Observer
from companion.night.sight.scales import naked_eye_limit, nanolamberts
from companion.night.sight.views import LABORATORY_PUPIL_MM, View

SKY_COLOUR = 0.7  # B - V of the night sky, and of a star whose colour is unknown
_NIGHT_SKY, _DAY_SKY = 16.5, 12.0  # mag/arcsec²
# What is lost under twilight and day against observers in a laboratory, who knew where their point
# of light was: fitted to when the first stars come out (a star of magnitude 0 with the Sun 4° down,
# of magnitude 1 at 6°; USNO: the brightest stars at the end of civil twilight), to Jupiter about
# sunset, and to Venus at her brightest, which an eye just finds by day (common practice).
_SEARCH_LOSS_MAG, _LOST_WHOLLY, _LOST_NOT = 1.2, 13.0, 17.0  # mag, mag/arcsec²
_USUAL = Observer()
_LABORATORY_EYE = View(
    "eye", 1.0, 100.0, LABORATORY_PUPIL_MM, 1.0, both_eyes=True, pupil_mm=LABORATORY_PUPIL_MM
)
_ONE_EYE = 1.41  # two eyes see fainter than one by this
_STILES_CRAWFORD_MM = 12.44  # of rods: light near the rim of the pupil counts for less
_BLUR_LIMIT_ARCSEC = 900.0  # apparent size above which a star is no longer a point
# Hecht's law I = C (1 + sqrt(K B))², foot-candles and nL: rods, cones, and log B between them.
_RODS = (10.0**-9.80, 10.0**-1.90)
_CONES = (10.0**-8.35, 10.0**-5.90)
_CHANGE_LOG_NL, _CHANGE_WIDTH = 3.17, 0.15


def star_limit(
    view: View,
    sky_mag: ArrayLike,
    observer: Observer,
    *,
    colour_index: ArrayLike = SKY_COLOUR,
    seeing_arcsec: float = 2.5,
) -> FloatArray:
    """Magnitude outside the air of the faintest star, before extinction.

    The two laws of rods and cones are blended over a third of a decade, where the published
    formula jumps. Retinal light is counted against the 7 mm pupil of the laboratory, so that an
    older eye loses with and without an instrument.

    Parameters
    ----------
    view : View
        Instrument and observer's pupil.
    sky_mag : array_like
        Sky around the star, mag/arcsec².
    observer : Observer
        With both eyes, long practice sees what ``beyond_law_mag`` adds to the formula as printed;
        at an eyepiece for one eye, the formula is for somebody with some practice.
    colour_index : array_like
        B - V of the stars; rods see blue stars better.
    seeing_arcsec : float
        Diameter of a star's blur.
    """
    gain = beyond_law_mag(sky_mag) if view.both_eyes else _USUAL.behind_practised_mag
    law = _law_mag(view, sky_mag, colour_index, seeing_arcsec)
    return np.asarray(law + gain - observer.behind_practised_mag - bright_sky_loss_mag(sky_mag))


def bright_sky_loss_mag(sky_mag: ArrayLike) -> FloatArray:
    """Magnitudes that searching a bright sky costs against the laboratory's law.

    Parameters
    ----------
    sky_mag : array_like
        Sky around the target, mag/arcsec².
    """
    share = (_LOST_NOT - np.asarray(sky_mag, dtype=np.float64)) / (_LOST_NOT - _LOST_WHOLLY)
    return np.asarray(_SEARCH_LOSS_MAG * np.clip(share, 0.0, 1.0))


def beyond_law_mag(sky_mag: ArrayLike) -> FloatArray:
    """Magnitudes by which the practised bare eye of Bortle's scale beats the formula as printed.

    The laboratory's observers had neither his averted vision nor his time. By day nothing is
    added: nobody waits there for a glimpse.

    Parameters
    ----------
    sky_mag : array_like
        Sky that the eye is used to, mag/arcsec².
    """
    sky = np.asarray(sky_mag, dtype=np.float64)
    gain = naked_eye_limit(sky) - _law_mag(_LABORATORY_EYE, sky, SKY_COLOUR, 0.0)
    return np.asarray(gain * np.clip((sky - _DAY_SKY) / (_NIGHT_SKY - _DAY_SKY), 0.0, 1.0))


def _law_mag(
    view: View, sky_mag: ArrayLike, colour_index: ArrayLike, seeing_arcsec: float
) -> FloatArray:
    """Evaluate Schaefer's formula."""
    colour = np.asarray(colour_index, dtype=np.float64)
    entering = nanolamberts(sky_mag) * view.surface_gain / (1.0 if view.both_eyes else _ONE_EYE)
    rods = _hecht_mag(entering * _colour_gain(SKY_COLOUR), _RODS) + _colour_mag(colour)
    cones = _hecht_mag(entering, _CONES)
    share = 1.0 / (1.0 + 10.0 ** ((_CHANGE_LOG_NL - np.log10(entering)) / _CHANGE_WIDTH))
    return np.asarray((1.0 - share) * rods + share * cones + _light_mag(view, seeing_arcsec))


def _hecht_mag(background_nl: FloatArray, law: tuple[float, float]) -> FloatArray:
    """Magnitude at the eye of the threshold on a background."""
    c, k = law
    return np.asarray(-16.57 - 2.5 * np.log10(c) - 5.0 * np.log10(1.0 + np.sqrt(k * background_nl)))


def _colour_mag(colour_index: ArrayLike) -> FloatArray:
    """Give what rods see of a star beyond its V magnitude, mag."""
    return np.asarray(1.0 - np.asarray(colour_index) / 2.0)


def _colour_gain(colour_index: float) -> float:
    return float(10.0 ** (0.4 * _colour_mag(colour_index)))


def _light_mag(view: View, seeing_arcsec: float) -> float:
    """Give what the instrument adds to the bare eye of the laboratory, mag."""
    blur = max(2.0 * seeing_arcsec * view.magnification / _BLUR_LIMIT_ARCSEC, 1.0)
    rim = _rim_loss(LABORATORY_PUPIL_MM) / _rim_loss(view.beam_mm)
    eyes = 1.0 if view.both_eyes else _ONE_EYE
    return float(2.5 * np.log10(view.star_gain / (eyes * np.sqrt(blur) * rim)))


def _rim_loss(pupil_mm: float) -> float:
    """Part of the light through a pupil that rods count."""
    return 1.0 - (pupil_mm / _STILES_CRAWFORD_MM) ** 4
