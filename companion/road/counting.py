"""How dark is it: stars counted in a named figure give the sky's brightness, with its error."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from companion.advice import AdviceError
from companion.arrays import BoolArray, FloatArray
from companion.finding import Group, azimuth_altitude_deg, extent, face_words, find_group
from companion.night import BRIGHTEST_LIMIT, zenith_brightness
from companion.road.evening import Evening
from companion.road.tell_sky import too_bright
from companion.road.telling import TOO_SOON, Telling, Waiting
from companion.sky import Catalogue, unit_vectors

# Closed figures in which a beginner can count, by their corners in order (HIP).
_FIGURES: Final = {
    "great-square": (113881, 113963, 1067, 677),
    "dipper": (54061, 53910, 58001, 59774),
    "orion": (27989, 25336, 24436, 27366),
    "sickle": (49669, 50583, 54872, 57632),
    "summer-triangle": (91262, 102098, 97649),
    "winter-triangle": (32349, 37279, 27989),
    "auriga-pentagon": (24608, 28360, 28380, 25428, 23015),
    "southern-triangle": (82273, 77952, 74946),
    "corvus-sail": (59803, 60965, 61359, 59316),
}
_FAINTEST: Final = 6.8  # nobody counts fainter ones
_BRIGHTEST: Final = 2.5
_COUNT_ERROR: Final = 0.5  # a star more or less, and one in ten
_EYES_DIFFER_MAG: Final = 0.3  # between people (common practice, no source)
_MOST: Final = 400


@dataclass(frozen=True, slots=True)
class Counted:
    """What a count says of the sky: the faintest star overhead and the sky's brightness."""

    limit_mag: float
    zenith_mag: float
    error_mag: float  # of the sky's brightness, one in three counts lies outside


def countable(catalogue: Catalogue, group: Group) -> FloatArray:
    """Give the magnitudes of the stars inside a figure, brightest first; its corners don't count.

    Raises
    ------
    AdviceError
        If the group encloses nothing.
    """
    corners = _FIGURES.get(group.key)
    if corners is None:
        raise AdviceError(
            f"{group.name} encloses no stars to count.",
            "Count in the Great Square, the Dipper's bowl, Orion's body or a Triangle.",
        )
    stars = catalogue.stars
    rows = stars.brighter_than(_FAINTEST)
    vectors = unit_vectors(stars.ra_deg[rows], stars.dec_deg[rows])
    at = [catalogue.star(hip) for hip in corners]
    edge = unit_vectors([s.ra_deg or 0.0 for s in at], [s.dec_deg or 0.0 for s in at])
    inside = _inside(vectors, edge) & ~np.isin(stars.hip[rows], corners)
    return np.sort(stars.magnitude[rows][inside])


def _inside(vectors: FloatArray, corners: FloatArray) -> BoolArray:
    """Say which directions lie on the same side of all edges of a convex figure."""
    normals = np.cross(corners, np.roll(corners, -1, axis=0))
    middle = corners.sum(axis=0)
    sides = vectors @ (normals * np.sign(normals @ middle)[:, None]).T
    # What lies opposite in the sky is on the other side of all edges: one sign alone counts.
    return np.asarray((sides > 0.0).all(axis=1))


def counted(catalogue: Catalogue, figure: str, count: int) -> Counted:
    """Turn a count of stars into how dark the sky is.

    The limit lies between the last star that was counted and the first that was not; the sky's
    brightness is that at which an eye finds such stars (``zenith_brightness``).

    Raises
    ------
    AdviceError
        If no such figure is counted in, the number is none, or it is below the scale.
    """
    magnitudes = countable(catalogue, find_group(figure))
    if not 0 <= count <= _MOST:
        raise AdviceError(f"{count} stars cannot be counted there.", "Give the number you counted.")
    spread = max(_COUNT_ERROR, 0.1 * count)
    limits = [_limit(magnitudes, max(count + off, 0.0)) for off in (-spread, 0.0, spread)]
    if limits[1] < BRIGHTEST_LIMIT:
        raise AdviceError(
            f"{count} {'star' if count == 1 else 'stars'} there are fewer than the brightest sky "
            "leaves.",
            "Count again when it is dark and your eyes are used to it, or count in another figure.",
        )
    error = math.hypot((limits[2] - limits[0]) / 2.0, _EYES_DIFFER_MAG)
    zenith = zenith_brightness(limit_mag=limits[1])
    low, high = (
        zenith_brightness(limit_mag=max(limits[1] + off, BRIGHTEST_LIMIT))
        for off in (-error, error)
    )
    return Counted(limits[1], zenith, max((high - low) / 2.0, 0.1))


def _limit(magnitudes: FloatArray, count: float) -> float:
    edges = np.concatenate([[_BRIGHTEST], magnitudes, [_FAINTEST]])
    places = np.arange(len(edges)) - 0.5
    return float(np.clip(np.interp(count, places, edges), _BRIGHTEST, _FAINTEST))


def dark_sky(evening: Evening) -> Telling | Waiting:
    """Count the stars in a figure that stands well."""
    if evening.faintest < 3.5:
        return too_bright(evening)
    known = {group.key: group for group in evening.stars.groups if group.key in _FIGURES}
    high = [(extent(evening.stars, known[key])[0], key) for key in _FIGURES if key in known]
    high = [(middle, key) for middle, key in high if middle[2] > 0.5]
    if not high:
        corners = tuple(evening.catalogue.star(c[0]) for c in _FIGURES.values())
        return Waiting("No closed figure stands high now.", evening.season.when(corners, 40.0))
    middle, key = high[0]
    azimuth_deg, altitude_deg = azimuth_altitude_deg(middle)
    return Telling(
        azimuth_deg,
        altitude_deg,
        (
            f"{face_words(middle)}: count the stars inside {known[key].called}, not its corners.",
            "Count twice, ten minutes apart, without a lamp.",
            "The count says how dark your sky is.",
        ),
        "Another night, count again: is it darker or brighter?",
        TOO_SOON,
        f"group:{key}",
    )
