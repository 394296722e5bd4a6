"""Fast apparent directions for many stars at once.

Astrometric directions become proper directions at the observer: parallax, the Sun's deflection of
light and the full aberration formula (IERS Conventions 2010; IAU SOFA, routines ``ld`` and ``ab``:
*SOFA Astrometry Tools Cookbook*). Everything is ICRS, (n, 3).
"""

from dataclasses import dataclass

import numpy as np

from companion.sky.vectors import FloatArray

LIGHT_AU_PER_DAY = 173.1446326846693
_SUN_RADIUS_AU = 1.97412574336e-8  # Schwarzschild radius of the Sun, as in SOFA


@dataclass(frozen=True, slots=True)
class Observer:
    """Where the observer is and how it moves: barycentric and heliocentric, ICRS."""

    position_au: FloatArray  # (3,), barycentric
    velocity_au_per_day: FloatArray  # (3,)
    from_sun_au: FloatArray  # (3,)


def apparent(
    astrometric: FloatArray, parallax_rad: FloatArray | float, observer: Observer
) -> FloatArray:
    """Give proper unit vectors (n, 3) as the moving observer sees them."""
    shifted = astrometric
    if np.any(parallax_rad):
        shifted = astrometric - np.multiply.outer(
            np.broadcast_to(parallax_rad, astrometric.shape[:1]), observer.position_au
        )
        shifted /= np.sqrt(np.einsum("ij,ij->i", shifted, shifted))[:, None]
    return _aberrated(_deflected(shifted, observer.from_sun_au), observer.velocity_au_per_day)


def astrometric(apparent_vectors: FloatArray, observer: Observer) -> FloatArray:
    """Undo ``apparent`` without parallax, by fixed-point iteration to under 1e-4 arcseconds."""
    guess = apparent_vectors
    for _ in range(4):
        guess = guess + (apparent_vectors - apparent(guess, 0.0, observer))
        guess = guess / np.linalg.norm(guess, axis=1)[:, None]
    return guess


def _deflected(directions: FloatArray, from_sun_au: FloatArray) -> FloatArray:
    """Bend light by the Sun; held finite where the Sun itself covers the star."""
    distance_au = float(np.linalg.norm(from_sun_au))
    e = from_sun_au / distance_au
    cosine = directions @ e
    limit = 1e-6 / max(distance_au**2, 1.0)
    weight = _SUN_RADIUS_AU / distance_au / np.maximum(1.0 + cosine, limit)
    return directions + weight[:, None] * (e - cosine[:, None] * directions)


def _aberrated(directions: FloatArray, velocity_au_per_day: FloatArray) -> FloatArray:
    """Aberrate by the observer's velocity; the result is normalised to first order and better."""
    beta = velocity_au_per_day / LIGHT_AU_PER_DAY
    inverse_gamma = float(np.sqrt(1.0 - beta @ beta))
    along = directions @ beta
    factor = 1.0 + along / (1.0 + inverse_gamma)
    moved = inverse_gamma * directions + np.multiply.outer(factor, beta)
    return np.asarray(moved / (1.0 + along)[:, None])
