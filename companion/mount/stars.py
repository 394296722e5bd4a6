"""Bright stars at one moment, and which of them the typed readings would have fitted."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.mount.alignment import Alignment
from companion.mount.doubts import Fitting
from companion.mount.model import vectors_of
from companion.mount.observations import as_if
from companion.mount.predict import expected
from companion.mount.records import Sighting

_FITS: Final = 1e-3  # an honest sighting in a thousand is as far off
_BRIGHTER: Final = 0.92  # of the logarithm, a magnitude: the brighter is mistaken more often
_SAME_DEG: Final = 0.02
_MOST: Final = 3


@dataclass(frozen=True, slots=True, eq=False)
class BrightStars:
    """n bright stars as they stand at one moment: true azimuth and refracted altitude."""

    names: tuple[str, ...]
    keys: tuple[str, ...]
    azimuth_deg: FloatArray
    altitude_deg: FloatArray
    magnitude: FloatArray


StarsAt = Callable[[datetime], BrightStars]


@dataclass(frozen=True, slots=True)
class OtherStar:
    """The supposition that another bright star was centred.

    ``fits`` are the stars that would do, the likeliest first. ``log_density`` is the natural
    logarithm of the probability density of the readings, in degrees, whichever star it was.
    """

    fits: tuple[Fitting, ...]
    log_density: float


def other_star(alignment: Alignment, sighting: Sighting, stars: BrightStars) -> OtherStar:
    """Suppose that a sighting was of another bright star than was meant.

    Parameters
    ----------
    alignment : Alignment
        That never saw the sighting.
    sighting : Sighting
        With both readings; one alone tells no star.
    stars : BrightStars
        Those above the horizon are as probable before as they are bright: about ``e`` times per
        magnitude, which is how star counts grow (common practice, no source).
    """
    up = np.flatnonzero((stars.altitude_deg > 0.0) & (_away_deg(sighting, stars) > _SAME_DEG))
    whole = sighting.azimuth_reading_deg is not None and sighting.altitude_reading_deg is not None
    if not whole or not len(up):
        return OtherStar((), float("-inf"))
    azimuths_deg, altitudes_deg = stars.azimuth_deg[up], stars.altitude_deg[up]
    seen = expected(alignment, as_if(alignment.mount, sighting, azimuths_deg, altitudes_deg))
    bright = -_BRIGHTER * stars.magnitude[up]
    scores = seen.log_density + bright - np.logaddexp.reduce(bright)
    likely = [i for i in np.argsort(-scores, kind="stable").tolist() if seen.tail[i] > _FITS]
    off = np.degrees(
        np.hypot(seen.off_rad[:, 0] * np.cos(np.radians(altitudes_deg)), seen.off_rad[:, 1])
    )
    return OtherStar(
        tuple(_fitting(stars, int(up[i]), float(off[i])) for i in likely[:_MOST]),
        float(np.logaddexp.reduce(scores)),
    )


def _fitting(stars: BrightStars, index: int, off_deg: float) -> Fitting:
    return Fitting(
        stars.names[index],
        stars.keys[index],
        float(stars.azimuth_deg[index]),
        float(stars.altitude_deg[index]),
        off_deg,
    )


def _away_deg(sighting: Sighting, stars: BrightStars) -> FloatArray:
    """Give how far each star is from the one that was meant."""
    meant = vectors_of(
        np.radians(np.array(sighting.azimuth_deg)), np.radians(np.array(sighting.altitude_deg))
    )
    vectors = vectors_of(np.radians(stars.azimuth_deg), np.radians(stars.altitude_deg))
    return np.asarray(np.degrees(2.0 * np.arcsin(np.linalg.norm(vectors - meant, axis=-1) / 2.0)))
