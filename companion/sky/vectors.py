"""Directions as unit vectors: rows of (n, 3) arrays, x towards RA 0, z towards the north pole."""

import numpy as np
from numpy.typing import ArrayLike

from companion.arrays import FloatArray

_DEGREE = 180.0 / np.pi


def unit_vectors(ra_deg: ArrayLike, dec_deg: ArrayLike) -> FloatArray:
    """Turn spherical coordinates in degrees into unit vectors, shape (..., 3)."""
    ra, dec = np.radians(np.asarray(ra_deg, float)), np.radians(np.asarray(dec_deg, float))
    return np.stack([np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)], axis=-1)


def ra_dec_of(vectors: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Turn vectors (..., 3) of any length into right ascension (0 to 360) and declination."""
    x, y, z = vectors[..., 0], vectors[..., 1], vectors[..., 2]
    # Square root and comparison instead of hypot and modulo, which are many times slower.
    longitude = np.arctan2(-y, -x)
    longitude += np.pi
    longitude *= _DEGREE
    longitude -= 360.0 * (longitude >= 360.0)
    latitude = np.arctan2(z, np.sqrt(x * x + y * y))
    latitude *= _DEGREE
    return np.asarray(longitude), np.asarray(latitude)


def separation_deg(a: FloatArray, b: FloatArray) -> FloatArray:
    """Give the angle between vectors (..., 3), exact for small and for large angles."""
    cross = np.linalg.norm(np.cross(a, b), axis=-1)
    return np.asarray(np.degrees(np.arctan2(cross, np.sum(a * b, axis=-1))))


def horizontal_separation_deg(
    azimuth1_deg: ArrayLike,
    altitude1_deg: ArrayLike,
    azimuth2_deg: ArrayLike,
    altitude2_deg: ArrayLike,
) -> FloatArray:
    """Give the angle between directions in azimuth and altitude, in degrees."""
    return separation_deg(
        unit_vectors(azimuth1_deg, altitude1_deg), unit_vectors(azimuth2_deg, altitude2_deg)
    )


def wrap_180(angle_deg: ArrayLike) -> FloatArray:
    """Bring angles into -180 (included) to 180 degrees."""
    return (np.asarray(angle_deg, float) + 180.0) % 360.0 - 180.0


def cross(a: FloatArray, b: FloatArray) -> FloatArray:
    """Give the cross product of two vectors (3,): numpy's own costs twenty times as much."""
    (ax, ay, az), (bx, by, bz) = a.tolist(), b.tolist()
    return np.array([ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx])
