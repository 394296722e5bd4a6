"""How far a two-dimensional Gaussian error reaches: circles that hold a given share of it."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

_ANGLES = (np.arange(64) + 0.5) / 64.0 * (np.pi / 2.0)  # one quarter: the others repeat it
_COS2, _SIN2 = np.cos(_ANGLES) ** 2, np.sin(_ANGLES) ** 2
_ROUNDS: Final = 40  # halvings of the bracket: to a thousandth of a billionth of it


def probability_within(covariance: FloatArray, radius: FloatArray | float) -> FloatArray:
    """Give the probability that a centred Gaussian error lies within a circle.

    In whitened polar coordinates the integral over the distance is elementary; that over the
    angle, smooth and periodic, is summed.

    Parameters
    ----------
    covariance : (..., 2, 2) array
        Of the error in two directions at right angles, in the square of the unit of ``radius``.
    radius : float or (...) array
        Of the circle; at or below zero the probability is zero.
    """
    return _within(_axes2(covariance), np.asarray(radius, float))


def radius_of(covariance: FloatArray, probability: float = 0.95) -> FloatArray:
    """Give the radius of the circle that holds a centred Gaussian error with a probability.

    Parameters
    ----------
    covariance : (..., 2, 2) array
        Of the error in two directions at right angles.
    probability : float
        Between 0 and 1.
    """
    axes2 = _axes2(covariance)
    high = np.sqrt(-2.0 * np.log1p(-probability) * axes2[..., 1])  # of a round error, the widest
    low = np.zeros_like(high)
    for _ in range(_ROUNDS):
        middle = (low + high) / 2.0
        inside = _within(axes2, middle) < probability
        low, high = np.where(inside, middle, low), np.where(inside, high, middle)
    return np.asarray((low + high) / 2.0)


def _axes2(covariance: FloatArray) -> FloatArray:
    """Give the squared semi-axes, the smaller first."""
    mean = (covariance[..., 0, 0] + covariance[..., 1, 1]) / 2.0
    half = np.hypot((covariance[..., 0, 0] - covariance[..., 1, 1]) / 2.0, covariance[..., 0, 1])
    return np.stack([np.maximum(mean - half, 0.0), mean + half], axis=-1)


def _within(axes2: FloatArray, radius: FloatArray) -> FloatArray:
    spread = axes2[..., 0, None] * _COS2 + axes2[..., 1, None] * _SIN2
    distance2 = np.maximum(radius, 0.0)[..., None] ** 2
    with np.errstate(divide="ignore", invalid="ignore"):
        outside = np.exp(-0.5 * distance2 / spread)
    return np.asarray(1.0 - np.mean(outside, axis=-1))
