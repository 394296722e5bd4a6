"""Fast apparent directions for many stars at once.

Astrometric directions become proper directions at the observer: parallax, the Sun's deflection of
light and the full aberration formula (IERS Conventions 2010; IAU SOFA, routines ``ld`` and ``ab``:
*SOFA Astrometry Tools Cookbook*). Everything is ICRS, (n, 3).
"""

from dataclasses import dataclass

import numpy as np

from companion.sky.vectors import FloatArray

LIGHT_AU_PER_DAY = 173.1446326846693
BLOCK = 16384
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
    columns = proper_columns(astrometric, parallax_rad, observer)
    x, y, z = columns
    columns /= np.sqrt(x * x + y * y + z * z)
    return columns.T


def proper_columns(
    astrometric: FloatArray, parallax_rad: FloatArray | float, observer: Observer
) -> FloatArray:
    """Give proper directions as columns (3, n) whose length is 1 only within 2e-4.

    What the formulas do to the length of a vector is left out, since only its direction counts.
    Worked off in blocks that stay in the processor's cache, a row a coordinate: for a whole
    catalogue that is several times faster than star by star.
    """
    columns = np.array(astrometric.T, dtype=float, order="C")
    parallax = np.broadcast_to(np.asarray(parallax_rad, dtype=float), columns.shape[1:])
    has_parallax = bool(np.any(parallax))
    for start in range(0, columns.shape[1], BLOCK):
        block = columns[:, start : start + BLOCK]
        if has_parallax:
            block -= np.multiply.outer(observer.position_au, parallax[start : start + BLOCK])
        _deflect(block, observer.from_sun_au)
        _aberrate(block, observer.velocity_au_per_day)
    return columns


def astrometric(apparent_vectors: FloatArray, observer: Observer) -> FloatArray:
    """Undo ``apparent`` without parallax, by fixed-point iteration to under 1e-4 arcseconds."""
    guess = apparent_vectors
    for _ in range(4):
        guess = guess + (apparent_vectors - apparent(guess, 0.0, observer))
        guess = guess / np.linalg.norm(guess, axis=1)[:, None]
    return guess


def _deflect(directions: FloatArray, from_sun_au: FloatArray) -> None:
    """Bend (3, n) light by the Sun, in place; held finite where the Sun itself covers the star."""
    distance_au = float(np.linalg.norm(from_sun_au))
    e = from_sun_au / distance_au
    nearness = e @ directions
    nearness += 1.0
    np.maximum(nearness, 1e-6 / max(distance_au**2, 1.0), out=nearness)
    directions += np.multiply.outer(e * (_SUN_RADIUS_AU / distance_au), 1.0 / nearness)


def _aberrate(directions: FloatArray, velocity_au_per_day: FloatArray) -> None:
    """Aberrate (3, n) by the observer's velocity, in place."""
    beta = velocity_au_per_day / LIGHT_AU_PER_DAY
    inverse_gamma = float(np.sqrt(1.0 - beta @ beta))
    along = beta @ directions
    along /= inverse_gamma * (1.0 + inverse_gamma)
    along += 1.0 / inverse_gamma
    directions += np.multiply.outer(beta, along)
