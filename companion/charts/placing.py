"""Where names go so that they collide with nothing, and how large symbols are: plain geometry."""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from companion.arrays import BoolArray, FloatArray

# Where a label's box stands against its anchor, best first: the middle of its box is shifted by
# so many half widths and half heights, plus the symbol's radius the same way.
_SIDES: Final = np.array(
    [(1, 0), (-1, 0), (0, -1), (0, 1), (1, -1), (1, 1), (-1, -1), (-1, 1)], float
)
# How far off a label may stand that has to be written, in its heights.
_FAR_OFF: Final = np.array([0.0, 1.2, 2.4, 3.6, 5.0])


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
        So many of the first labels may stand off their symbols, or cover others, rather than be
        left out; ``leaders`` gives the lines that join them then.

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
        away = size / 2.0 + radius[row] + gap
        far = _FAR_OFF if row < sure else _FAR_OFF[:1]
        middles = at[row] + (_SIDES * (away + far[:, None, None] * size[1])).reshape(-1, 2)
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


def leaders(
    anchors: ArrayLike, corners: ArrayLike, sizes: ArrayLike, radii: ArrayLike, gap: float = 3.0
) -> FloatArray:
    """Give the lines from symbols to labels that do not stand beside them.

    Parameters
    ----------
    anchors, corners, sizes : array_like
        Middles of the symbols, what ``place_labels`` gave, and the labels' sizes, (k, 2).
    radii : array_like
        Radii of the symbols, (k,).
    gap : float, optional
        Room between a symbol and a label beside it.

    Returns
    -------
    FloatArray
        From x y, to x y, (j, 4).
    """
    at, low, box = (np.asarray(a, float).reshape(-1, 2) for a in (anchors, corners, sizes))
    radius = np.asarray(radii, float)
    nearest = np.clip(at, low, low + box)
    way = nearest - at
    length = np.hypot(way[:, 0], way[:, 1])
    # At a corner the box lies farther off than at a side.
    with np.errstate(invalid="ignore"):
        off = length > 1.5 * (radius + gap) + 1.0
    start = at[off] + way[off] / length[off, None] * radius[off, None]
    return np.hstack([start, nearest[off]])


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


def _covers(low: FloatArray, high: FloatArray, boxes: FloatArray) -> BoolArray:
    """Say which of (s, 2) boxes cover any of (m, 4) others; touching is no covering."""
    apart = (high[:, None, :] <= boxes[None, :, :2]) | (low[:, None, :] >= boxes[None, :, 2:])
    covers = np.asarray(~np.any(apart, axis=2))
    return np.asarray(covers.any(axis=1))
