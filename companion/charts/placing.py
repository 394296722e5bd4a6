"""Where names go so that they collide with nothing, and how large symbols are: plain geometry."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from companion.arrays import FloatArray

# Where a label's box stands against its anchor, best first: the middle of its box is shifted by
# so many half widths and half heights, plus the symbol's radius the same way.
_SIDES: Final = ((1, 0), (-1, 0), (0, -1), (0, 1), (1, -1), (1, 1), (-1, -1), (-1, 1))
# How far off a label may stand that has to be written, in its heights.
_FAR_OFF: Final = (0.0, 1.2, 2.4, 3.6, 5.0)
# How far a name that stands upon its middle may slide up or down, in its heights.
_WITHIN: Final = (0.0, -0.6, 0.6, -1.2, 1.2)
_CELL: Final = 128.0  # about a name's length: a box lies in one to four cells, a cell holds a few

# Of a star of magnitude 6 on a full screen; the discs of a magnitude more are so much larger.
_DISC_MAGNITUDE: Final = 6.0
_DISC_RADIUS: Final = 1.41
_DISC_RATIO: Final = 1.36
_MOST_STEPS: Final = 7.5  # magnitudes: a disc as of Sirius is the largest
_Box = tuple[float, float, float, float]  # left, top, right, bottom


class _Boxes:
    """Boxes in an area; whether one covers others is looked up among its neighbours."""

    def __init__(self, width: float, height: float) -> None:
        self._across, self._down = int(width // _CELL) + 1, int(height // _CELL) + 1
        self._cells: dict[tuple[int, int], list[_Box]] = {}

    def add(self, box: _Box) -> None:
        for cell in self._under(box):
            self._cells.setdefault(cell, []).append(box)

    def are_covered_by(self, box: _Box) -> bool:
        """Tell whether a box covers any of them; touching is no covering."""
        left, top, right, bottom = box
        for cell in self._under(box):
            for one in self._cells.get(cell, ()):
                if one[0] < right and left < one[2] and one[1] < bottom and top < one[3]:
                    return True
        return False

    def _under(self, box: _Box) -> list[tuple[int, int]]:
        left, top = max(0, int(box[0] // _CELL)), max(0, int(box[1] // _CELL))
        right = min(self._across, int(box[2] // _CELL) + 1)
        bottom = min(self._down, int(box[3] // _CELL) + 1)
        return [(x, y) for x in range(left, right) for y in range(top, bottom)]


def place_labels(
    anchors: ArrayLike,
    sizes: ArrayLike,
    radii: ArrayLike,
    bounds: ArrayLike,
    gap: float = 3.0,
    *,
    sure: int = 0,
    centred: int = 0,
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
    centred : int, optional
        So many of the last labels stand upon their middles where these are free.

    Returns
    -------
    FloatArray
        The corner of each label with the smallest coordinates, (k, 2); NaN where left out.
    """
    at = np.asarray(anchors, float).reshape(-1, 2).tolist()
    radius = np.asarray(radii, float).tolist()
    width, height = np.asarray(bounds, float).tolist()
    symbols, taken = _Boxes(width, height), _Boxes(width, height)
    for (x, y), size in zip(at, radius, strict=True):
        if size > 0.0:  # a name alone marks the middle of its group
            symbols.add((x - size, y - size, x + size, y + size))
    corners: list[tuple[float, float]] = []
    boxes = np.asarray(sizes, float).reshape(-1, 2).tolist()
    for row, size in enumerate(boxes):
        far = _FAR_OFF if row < sure else _FAR_OFF[:1]
        inside = (
            box
            for box in _around(
                at[row], size, radius[row] + gap, far, centred=row >= len(boxes) - centred
            )
            if box[0] >= 0.0 and box[1] >= 0.0 and box[2] <= width and box[3] <= height
        )
        found = _first_free(inside, symbols, taken, sure=row < sure)
        if found is not None:
            taken.add(found)
        corners.append((np.nan, np.nan) if found is None else found[:2])
    return np.array(corners, float).reshape(-1, 2)


def _around(
    at: list[float], size: list[float], off: float, far: Sequence[float], *, centred: bool
) -> Iterator[_Box]:
    """Give the boxes of a label around its symbol, best first."""
    half_x, half_y = size[0] / 2.0, size[1] / 2.0
    if centred:
        for more in _WITHIN:
            y = at[1] + more * size[1]
            yield at[0] - half_x, y - half_y, at[0] + half_x, y + half_y
    for more in far:
        for right, down in _SIDES:
            x = at[0] + right * (half_x + off + more * size[1])
            y = at[1] + down * (half_y + off + more * size[1])
            yield x - half_x, y - half_y, x + half_x, y + half_y


def _first_free(
    boxes: Iterable[_Box], symbols: _Boxes, taken: _Boxes, *, sure: bool
) -> _Box | None:
    """Give the first box that covers nothing; one that has to be written may cover symbols."""
    second = None
    for box in boxes:
        if not taken.are_covered_by(box):
            if not symbols.are_covered_by(box):
                return box
            second = second or box
    return second if sure else None


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


def disc_radii(magnitude: ArrayLike, limit: float, unit: float) -> FloatArray:
    """Give the radii of stars' discs as printed atlases have them: by steps of half a magnitude.

    On a screen of 1366 by 768 they are 2.0, 3.7, 6.8 and 12.6 pixels across for magnitudes 6, 4,
    2 and 0; through an instrument all are shifted to how faint it shows.

    Parameters
    ----------
    magnitude : array_like
        Any shape; NaN (unknown) is drawn as the faintest.
    limit : float
        The faintest magnitude on the chart.
    unit : float
        Size of the symbols, 1 for a full screen.
    """
    stepped = np.round(2.0 * np.nan_to_num(np.asarray(magnitude, float), nan=limit)) / 2.0
    brighter = max(_DISC_MAGNITUDE, limit - 0.5) - np.clip(stepped, None, limit)
    radius = _DISC_RADIUS * _DISC_RATIO ** np.clip(brighter, -1.0, _MOST_STEPS)
    return np.asarray(unit * radius)
