"""What shows on the discs of Moon and planets, from what an eye resolves.

An eye resolves 1′ to 2′; the instrument enlarges that. The words follow the common practice that
Saturn's rings are hinted at in 10× binoculars and plain from 25× on, and that steady 7× to 10×
show the Moon's craters by the hundred.
"""

import math

from companion.night.sight.views import View

_MOON_KM_PER_ARCSEC = 3474.8 / 1865.0  # mean diameter over its mean apparent one
# 5185 craters of 20 km and more on the whole Moon (Head et al. 2010, Science 329, 1504; from
# memory), half of them on our side; their number falls with the square of the size.
_NEAR_SIDE_CRATERS, _OF_KM = 2592.0, 20.0
_SHADOWED = 30.0 / 180.0  # of the lit side: only near the terminator do shadows show relief
_FEW = 20.0  # fewer craters than this are not worth a word
# Ends of Saturn's rings beyond its disc, each, in diameters of the disc: (136,780 km of ring A's
# edge - 60,268 km) / 2 / 60,268 km.
_RING_END = 0.635
_HINT_ARCMIN, _PLAIN_ARCMIN = 1.5, 4.5
_DISC_ARCMIN = 4.0  # apparent size from which a planet is clearly no star
_PHASE_ARCMIN = 6.0
_JUPITER_MOONS_FROM = 7.0  # magnification, steady (common practice, no source)


def moon_craters(magnification: float, resolution_arcsec: float) -> int:
    """Estimate how many craters an instrument shows along the Moon's terminator at one time."""
    smallest_km = resolution_arcsec * _MOON_KM_PER_ARCSEC
    if magnification < 3.0:
        return 0  # by eye the Moon has dark seas only
    return int(_NEAR_SIDE_CRATERS * (_OF_KM / smallest_km) ** 2 * _SHADOWED)


def ring_end_arcmin(disc_arcsec: float, magnification: float) -> float:
    """Apparent length of one end of Saturn's rings, through an instrument."""
    return _RING_END * disc_arcsec * magnification / 60.0


def detail_of(body: str, diameter_arcsec: float, view: View, seeing_arcsec: float) -> str:
    """Say in a few words what shows on a body; empty where nothing does.

    Parameters
    ----------
    body : str
        "moon", "saturn", ...
    diameter_arcsec : float
        Apparent equatorial diameter tonight.
    view : View
        How it is looked at.
    seeing_arcsec : float
        Blur of a star.
    """
    apparent_arcmin = diameter_arcsec * view.magnification / 60.0
    if body == "moon":
        resolution = math.hypot(view.resolution_arcsec, seeing_arcsec / 2.0)
        return _crater_words(moon_craters(view.magnification, resolution))
    if body == "saturn":
        end = ring_end_arcmin(diameter_arcsec, view.magnification)
        return (
            "rings plain" if end >= _PLAIN_ARCMIN else _if(end >= _HINT_ARCMIN, "a hint of rings")
        )
    if body == "jupiter":
        steady = view.magnification / view.blur
        moons = _if(steady >= _JUPITER_MOONS_FROM, "four moons beside it")
        return "cloud bands and four moons" if apparent_arcmin >= 25.0 else moons
    if body in {"venus", "mercury"}:
        return _if(apparent_arcmin >= _PHASE_ARCMIN, "its phase shows")
    return _if(apparent_arcmin >= _DISC_ARCMIN, "a small disc")


def _if(holds: bool, words: str) -> str:
    return words if holds else ""


def _crater_words(count: int) -> str:
    if count < _FEW:
        return "the dark seas"
    return "craters by the hundred" if count < 1000 else "craters by the thousand"
