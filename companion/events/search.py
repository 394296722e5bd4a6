"""Moments at which a function of time crosses zero or is least, many at once.

A coarse row of moments says where to look; each place found is then looked at closer and closer,
all of them in the same arrays.
"""

from collections.abc import Callable

import numpy as np

from companion.arrays import FloatArray, RowArray

Curves = Callable[[FloatArray, RowArray], FloatArray]
_PARTS = 8
_EXACT_S = 0.02
_PARABOLA_S = 30.0  # the bracket in which a minimum is taken for a parabola's


def moments(length_s: float, step_s: float) -> FloatArray:
    """Give equally spaced moments from 0 to the length, both included."""
    count = max(int(np.ceil(length_s / step_s)), 2)
    return np.linspace(0.0, length_s, count + 1)


def roots(curves: Curves, seconds: FloatArray, values: FloatArray) -> tuple[FloatArray, RowArray]:
    """Find where each curve crosses zero upwards or downwards.

    Parameters
    ----------
    curves : callable
        Takes moments (k,) and which curve is meant at each (k,), gives values (k,).
    seconds : ndarray
        Ascending moments (n,).
    values : ndarray
        The curves at these, (n, m). Jumps from +180 to -180 are no crossings.

    Returns
    -------
    ndarray, ndarray
        Moments in ascending order, and which curve each belongs to.
    """
    here, there = values[:-1], values[1:]
    found = ((here < 0.0) != (there < 0.0)) & (np.abs(there - here) < 180.0)
    at, rows = np.nonzero(found)
    low, high = seconds[at], seconds[at + 1]
    rising = values[at, rows] < 0.0
    while len(low) and float(np.max(high - low)) > _EXACT_S:
        parts = low[:, None] + (high - low)[:, None] * (np.arange(_PARTS + 1) / _PARTS)
        inner = curves(parts[:, 1:-1].ravel(), np.repeat(rows, _PARTS - 1))
        before = (inner.reshape(len(low), -1) < 0.0) == rising[:, None]
        steps = np.argmin(np.c_[before, np.zeros(len(low), bool)], axis=1)  # the first one beyond
        each = np.arange(len(low))
        low, high = parts[each, steps], parts[each, steps + 1]
    return _in_order((low + high) / 2.0, rows)


def minima(curves: Curves, seconds: FloatArray, values: FloatArray) -> tuple[FloatArray, RowArray]:
    """Find where each curve is least; parameters and returns as ``roots``.

    Near its least value a curve has to look like a parabola: take the square of a separation.
    """
    inside = values[1:-1]
    found = (inside <= values[:-2]) & (inside < values[2:])
    at, rows = np.nonzero(found)
    middle = seconds[at + 1].copy()
    half = np.maximum(seconds[at + 2] - seconds[at + 1], seconds[at + 1] - seconds[at])
    offsets = np.linspace(-1.0, 1.0, _PARTS + 1)
    while len(middle) and float(np.max(half)) > _PARABOLA_S:
        parts = middle[:, None] + half[:, None] * offsets
        seen = curves(parts.ravel(), np.repeat(rows, _PARTS + 1)).reshape(len(middle), -1)
        middle = parts[np.arange(len(middle)), np.argmin(seen, axis=1)]
        half = half * (2.0 / _PARTS)
    return _in_order(_vertex(curves, middle, rows), rows)


def _vertex(curves: Curves, middle: FloatArray, rows: RowArray) -> FloatArray:
    """Give the least point of the parabola through three points."""
    if not len(middle):
        return middle
    left, here, right = (curves(middle + d, rows) for d in (-_PARABOLA_S, 0.0, _PARABOLA_S))
    bend = left - 2.0 * here + right
    with np.errstate(divide="ignore", invalid="ignore"):
        shift = np.where(bend > 0.0, 0.5 * _PARABOLA_S * (left - right) / bend, 0.0)
    return np.asarray(middle + np.clip(shift, -_PARABOLA_S, _PARABOLA_S))


def _in_order(found: FloatArray, rows: RowArray) -> tuple[FloatArray, RowArray]:
    order = np.argsort(found, kind="stable")
    return found[order], rows[order]


def wrapped_deg(angle_deg: FloatArray) -> FloatArray:
    """Bring angles to -180° to 180°, so that a curve of them crosses zero once a turn."""
    return np.asarray((angle_deg + 180.0) % 360.0 - 180.0)
