"""Fast apparent directions for many stars at once.

Astrometric directions become proper directions at the observer: parallax, the Sun's deflection of
light and the full aberration formula (IERS Conventions 2010; IAU SOFA, routines ``ld`` and ``ab``:
*SOFA Astrometry Tools Cookbook*). Everything is ICRS, (n, 3).
"""

from dataclasses import dataclass

import numpy as np

from companion.arrays import FloatArray

LIGHT_AU_PER_DAY = 173.1446326846693
BLOCK = 16384
_SUN_RADIUS_AU = 1.97412574336e-8  # Schwarzschild radius of the Sun, as in SOFA


@dataclass(frozen=True, slots=True)
class ObserverMotion:
    """Where the observer is and how it moves: barycentric and heliocentric, ICRS."""

    position_au: FloatArray  # (3,), barycentric
    velocity_au_per_day: FloatArray  # (3,)
    from_sun_au: FloatArray  # (3,)


def apparent(
    astrometric: FloatArray, parallax_rad: FloatArray | float, observer: ObserverMotion
) -> FloatArray:
    """Give proper unit vectors (n, 3) as the moving observer sees them."""
    columns = proper_columns(astrometric, parallax_rad, observer, np.eye(3))
    x, y, z = columns
    columns /= np.sqrt(x * x + y * y + z * z)
    return columns.T


def proper_columns(
    astrometric: FloatArray,
    parallax_rad: FloatArray | float,
    observer: ObserverMotion,
    rotation: FloatArray,
) -> FloatArray:
    """Give proper directions, turned by a rotation, as columns (3, n).

    Each of the three effects adds a multiple of one fixed vector to a direction: of the Sun's
    direction for the deflection, of the velocity for the aberration, of the observer's place for
    the parallax. So the whole is two matrix products. What the formulas do to the length of a
    vector is left out, since only its direction counts: it is 1 within 2e-4. Products of two
    effects, under 1e-9, are left out too. Worked off in blocks that stay in the processor's cache.
    """
    columns = np.ascontiguousarray(astrometric.T)
    count = columns.shape[1]
    parallax = np.broadcast_to(np.asarray(parallax_rad, dtype=float), (count,))
    effects = _Effects.of(observer)
    spread = rotation @ effects.vectors
    turned = np.empty((3, count))
    for start in range(0, count, BLOCK):
        block = slice(start, start + BLOCK)
        weights = effects.weights(columns[:, block], parallax[block])
        np.matmul(rotation, columns[:, block], out=turned[:, block])
        turned[:, block] += spread @ weights
    return turned


def astrometric(apparent_vectors: FloatArray, observer: ObserverMotion) -> FloatArray:
    """Undo ``apparent`` without parallax, by fixed-point iteration to under 1e-4 arcseconds."""
    guess = apparent_vectors
    for _ in range(4):
        guess = guess + (apparent_vectors - apparent(guess, 0.0, observer))
        guess = guess / np.linalg.norm(guess, axis=1)[:, None]
    return guess


@dataclass(frozen=True, slots=True)
class _Effects:
    """Deflection, aberration and parallax at one moment."""

    vectors: FloatArray  # (3, 3), a column for each effect
    probes: FloatArray  # (2, 3): directions of the Sun and of the velocity
    nearest: float  # holds the deflection finite where the Sun itself covers the star
    inverse_gamma: float

    @classmethod
    def of(cls, observer: ObserverMotion) -> "_Effects":
        distance_au = float(np.linalg.norm(observer.from_sun_au))
        e = observer.from_sun_au / distance_au
        beta = observer.velocity_au_per_day / LIGHT_AU_PER_DAY
        vectors = np.stack([e * (_SUN_RADIUS_AU / distance_au), beta, -observer.position_au], 1)
        return cls(
            vectors,
            np.stack([e, beta]),
            1e-6 / max(distance_au**2, 1.0),
            float(np.sqrt(1.0 - beta @ beta)),
        )

    def weights(self, directions: FloatArray, parallax_rad: FloatArray) -> FloatArray:
        """Give how much of each effect's vector is added, (3, n)."""
        weights = np.empty_like(directions)
        np.matmul(self.probes, directions, out=weights[:2])
        bent, along = weights[0], weights[1]
        bent += 1.0
        np.maximum(bent, self.nearest, out=bent)
        np.divide(1.0, bent, out=bent)
        along *= 1.0 / (self.inverse_gamma * (1.0 + self.inverse_gamma))
        along += 1.0 / self.inverse_gamma
        weights[2] = parallax_rad
        return weights
