"""Where a fit begins: the rotation that best brings the readings onto the sky."""

import numpy as np

from companion.arrays import BoolArray, FloatArray
from companion.mount.model import PARAMETERS, lean, to_dials, vectors_of
from companion.mount.observations import Observations


def best_rotation(
    from_vectors: FloatArray, to_vectors: FloatArray, weights: FloatArray
) -> FloatArray:
    """Give the rotation (3, 3) that brings vectors (n, 3) best onto others.

    Wahba's problem (1965, SIAM Review 7, 409), solved by singular values (Kabsch 1976, Acta
    Cryst. A32, 922): it minimises the weighted sum of squared distances, and is never a mirror
    image.
    """
    left, _, right = np.linalg.svd((to_vectors * weights[:, None]).T @ from_vectors)
    sign = np.sign(np.linalg.det(left) * np.linalg.det(right))
    return np.asarray(left @ np.diag([1.0, 1.0, sign]) @ right)


def start_values(seen: Observations) -> list[FloatArray]:
    """Give parameters to begin from: azimuth zero alone and, from two sightings up, tilts too."""
    starts = [_offset_only(seen)]
    full = np.isfinite(seen.sigma_azimuth) & np.isfinite(seen.sigma_altitude)
    if np.count_nonzero(full) >= 2:
        starts.append(_rotation_start(seen, full))
    return starts


def _offset_only(seen: Observations) -> FloatArray:
    """Give the weighted circular mean of what the azimuth dial is off by."""
    start = np.zeros(len(PARAMETERS))
    usable = np.isfinite(seen.sigma_azimuth)
    if usable.any():
        expected, _ = to_dials(start, seen.vectors[usable], level=seen.level)
        off = expected - seen.azimuth[usable]
        weights = seen.sigma_azimuth[usable] ** -2.0
        start[0] = np.angle(np.sum(weights * np.exp(1j * off)))
    return start


def _rotation_start(seen: Observations, full: BoolArray) -> FloatArray:
    """Take a rotation apart into the lean of the vertical axis and the azimuth zero."""
    shown = vectors_of(seen.azimuth[full], seen.altitude[full])
    weights = seen.sigma_altitude[full] ** -2.0
    rotation = best_rotation(shown, seen.vectors[full], weights / weights.max())
    axis = rotation[:, 2]
    size = np.hypot(axis[0], axis[1])
    by_size = np.arctan2(size, axis[2]) / size if size > 0.0 else 0.0
    start = np.zeros(len(PARAMETERS))
    start[2:4] = by_size * axis[:2]
    upright = lean(start[2], start[3]).T @ rotation
    start[0] = np.arctan2(upright[1, 0], upright[0, 0])
    return start
