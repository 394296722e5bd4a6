"""Where names go so that they collide with nothing, and how large symbols are: plain geometry."""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]
# Where a label's box stands against its anchor, best first: the middle of its box is shifted by
# so many half widths and half heights, plus the symbol's radius the same way.
_SIDES: Final = np.array(
    [(1, 0), (-1, 0), (0, -1), (0, 1), (1, -1), (1, 1), (-1, -1), (-1, 1)], float
)


def place_labels(
    anchors: ArrayLike,
    sizes: ArrayLike,
    radii: ArrayLike,
    bounds: ArrayLike,
    gap: float = 3.0,
    *,
    sure: int = 0,
) -> FloatArray:
    """Find a place for each label, the first ones first; what finds none is left out.

    Parameters
    ----------
    anchors : array_like
        Middles of the symbols, (n, 2); the k labels belong to the first k, in order of
        importance. The others are only kept clear.
    sizes : array_like
        Width and height of each label, (k, 2), k up to n.
    radii : array_like
        Radii of the symbols, (n,).
    bounds : array_like
        Width and height of the area; labels stay inside 0 to these.
    gap : float, optional
        Room between a symbol and its label.
    sure : int, optional
        So many of the first labels may cover symbols rather than be left out.

    Returns
    -------
    FloatArray
        The corner of each label with the smallest coordinates, (k, 2); NaN where left out.
    """
    at, box = np.asarray(anchors, float).reshape(-1, 2), np.asarray(sizes, float).reshape(-1, 2)
    radius, room = np.asarray(radii, float), np.asarray(bounds, float)
    symbols = np.concatenate([at - radius[:, None], at + radius[:, None]], axis=1)
    taken = np.empty((len(box), 4))
    corners = np.full(box.shape, np.nan)
    used = 0
    for row, size in enumerate(box):
        middles = at[row] + _SIDES * (size / 2.0 + radius[row] + gap)
        low, high = middles - size / 2.0, middles + size / 2.0
        free = (low >= 0.0).all(axis=1) & (high <= room).all(axis=1)
        free &= ~_covers(low, high, taken[:used])
        clear = free & ~_covers(low, high, symbols)
        if clear.any() or row >= sure:
            free = clear
        if free.any():
            side = int(np.argmax(free))
            corners[row] = low[side]
            taken[used] = (*low[side], *high[side])
            used += 1
    return corners


def symbol_radii(
    magnitude: ArrayLike, limit: float, largest: float, smallest: float, brightest: float = -1.0
) -> FloatArray:
    """Give radii that grow evenly, step by magnitude, from the limit to the brightest stars.

    Parameters
    ----------
    magnitude : array_like
        Any shape; NaN (unknown) is drawn as the smallest.
    limit, brightest : float
        Magnitudes that get the smallest and the largest radius.
    largest, smallest : float
        Radii.
    """
    span = max(limit - brightest, 0.1)
    part = np.clip((limit - np.nan_to_num(np.asarray(magnitude, float), nan=limit)) / span, 0, 1)
    return np.asarray(smallest * (largest / smallest) ** part)


def _covers(low: FloatArray, high: FloatArray, boxes: FloatArray) -> NDArray[np.bool_]:
    """Say which of (s, 2) boxes cover any of (m, 4) others; touching is no covering."""
    apart = (high[:, None, :] <= boxes[None, :, :2]) | (low[:, None, :] >= boxes[None, :, 2:])
    covers = np.asarray(~np.any(apart, axis=2))
    return np.asarray(covers.any(axis=1))
