"""How far a two-dimensional error reaches: circles that hold a given share of it."""

from typing import Final

import numpy as np

from companion.arrays import FloatArray

_ANGLES = (np.arange(32) + 0.5) / 32.0 * (np.pi / 2.0)  # one quarter: the others repeat it
_COS2, _SIN2 = np.cos(_ANGLES) ** 2, np.sin(_ANGLES) ** 2
_ROUNDS: Final = 100  # more than steps are ever needed; a handful as a rule
_SETTLED: Final = 1e-10  # relative change of the squared radius that ends the search
_LEAST: Final = 1e-20  # variance in units of the widest radius squared
_NOTHING: Final = 1e-250  # probability that a logarithm can still be taken of
_ONE: Final = np.ones(1)


def probability_within(
    covariance: FloatArray, radius: FloatArray | float, weights: FloatArray | None = None
) -> FloatArray:
    """Give the probability that a centred error lies within a circle.

    The error is Gaussian, or one of several Gaussians with a probability each. In whitened polar
    coordinates the integral over the distance is elementary; that over the angle, smooth and
    periodic, is summed.

    Parameters
    ----------
    covariance : (..., 2, 2) array, or (..., k, 2, 2) with weights
        Of the error in two directions at right angles, in the square of the unit of ``radius``.
    radius : float or (...) array
        Of the circle; at or below zero the probability is zero.
    weights : (k,) array, optional
        Probabilities that add up to one.
    """
    axes2, weights = _axes2(covariance, weights)
    return _within(axes2, np.asarray(radius, float), weights)


def radius_of(
    covariance: FloatArray, probability: float = 0.95, weights: FloatArray | None = None
) -> FloatArray:
    """Give the radius of the circle that holds a centred error with a probability.

    Parameters
    ----------
    covariance : (..., 2, 2) array, or (..., k, 2, 2) with weights
        Of the error in two directions at right angles.
    probability : float
        Between 0 and 1.
    weights : (k,) array, optional
        As in ``probability_within``.
    """
    axes2, weights = _axes2(covariance, weights)
    # Of round errors, the widest; no mixture reaches farther than the widest of its parts.
    widest2 = -2.0 * np.log1p(-probability) * axes2[..., 1].max(axis=-1)
    spread = axes2[..., 0, None] * _COS2 + axes2[..., 1, None] * _SIN2
    widest2_or_one = np.where(widest2 > 0.0, widest2, 1.0)
    # What is far narrower than the widest is as good as nothing, but can be divided by.
    half = 0.5 / np.maximum(spread, _LEAST * widest2_or_one[..., None, None])  # (..., k, angles)
    # In the squared radius the logarithm of what is outside is convex and falls: Newton's steps
    # from beyond the root pass it once at most, and those from before it never do.
    reached2 = widest2
    for _ in range(_ROUNDS):
        outside = np.exp(-reached2[..., None, None] * half)
        left = np.maximum(outside.mean(axis=-1) @ weights, _NOTHING)
        fall = np.maximum((outside * half).mean(axis=-1) @ weights, _NOTHING / widest2_or_one)
        step = np.log(left / (1.0 - probability)) * left / fall
        after = np.where(widest2 > 0.0, np.clip(reached2 + step, 0.0, widest2), 0.0)
        settled = bool(np.all(np.abs(after - reached2) <= _SETTLED * after))
        reached2 = after
        if settled:
            break
    return np.asarray(np.sqrt(reached2))


def _axes2(covariance: FloatArray, weights: FloatArray | None) -> tuple[FloatArray, FloatArray]:
    """Give the squared semi-axes (..., k, 2), the smaller first, and the weights (k,)."""
    mean = (covariance[..., 0, 0] + covariance[..., 1, 1]) / 2.0
    half = np.hypot((covariance[..., 0, 0] - covariance[..., 1, 1]) / 2.0, covariance[..., 0, 1])
    axes2 = np.stack([np.maximum(mean - half, 0.0), mean + half], axis=-1)
    return (axes2[..., None, :], _ONE) if weights is None else (axes2, weights)


def _within(axes2: FloatArray, radius: FloatArray, weights: FloatArray) -> FloatArray:
    spread = axes2[..., 0, None] * _COS2 + axes2[..., 1, None] * _SIN2
    distance2 = np.maximum(radius, 0.0)[..., None, None] ** 2
    with np.errstate(divide="ignore", invalid="ignore"):
        outside = np.exp(-0.5 * distance2 / spread)
    return np.asarray(1.0 - np.mean(outside, axis=-1) @ weights)
