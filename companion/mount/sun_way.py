"""Whether turning the tube would sweep it past the Sun, and how to go round in two turns.

A hand turns one axis first, or the other, or both at once: whatever it does, the tube stays within
the rectangle of azimuths and altitudes between both ends. The whole rectangle keeps off the Sun,
or the turn is not safe.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from companion.arrays import FloatArray
from companion.sky import SUN_DANGER_DEG

_MARGIN_DEG: Final = 3.0  # beyond the danger, for a corner that is set by hand
_STEP_DEG: Final = 5.0  # between the corners that are tried


@dataclass(frozen=True, slots=True)
class Swing:
    """One turn: from where, how far the azimuth runs (clockwise positive), to which altitude."""

    azimuth_deg: float
    altitude_deg: float
    turn_deg: float
    end_altitude_deg: float


@dataclass(frozen=True, slots=True)
class Corner:
    """Where to go first, true azimuth and altitude, and how far the azimuth runs until there."""

    azimuth_deg: float
    altitude_deg: float
    turn_deg: float


def nearest_sun_deg(swing: Swing, sun_azimuth_deg: float, sun_altitude_deg: float) -> float:
    """Give how near the Sun the tube may come on a turn, whichever axis goes first, in degrees."""
    nearest = _nearest(
        swing.azimuth_deg,
        swing.turn_deg,
        swing.altitude_deg,
        swing.end_altitude_deg,
        (sun_azimuth_deg, sun_altitude_deg),
    )
    return float(nearest)


def way_round(
    swing: Swing,
    sun_deg: tuple[float, float],
    altitudes_deg: tuple[float, float],
    allowed: Callable[[float], bool],
) -> Corner | None:
    """Find the corner by which two turns keep off the Sun, with the least to turn.

    Parameters
    ----------
    swing : Swing
        The turn that would pass the Sun.
    sun_deg : tuple of float
        Azimuth and altitude of the Sun.
    altitudes_deg : tuple of float
        Lowest and highest altitude that the tube can be brought to.
    allowed : callable
        Tells whether the azimuth may stand that many degrees from where it starts, unfolded:
        cables and stops.

    Returns
    -------
    Corner or None
        None where there is no such way.
    """
    low, high = max(altitudes_deg[0], 0.0), min(altitudes_deg[1], 90.0)
    turns = np.array([t for t in np.arange(-360.0, 360.1, _STEP_DEG) if allowed(float(t))])
    ends = [swing.turn_deg + 360.0 * k for k in (-1, 0, 1)]
    totals = np.array([end for end in ends if abs(end) <= 360.0 and allowed(end)])
    if not len(turns) or not len(totals) or high < low:
        return None
    heights = np.append(np.arange(low, high, _STEP_DEG), high)
    turn, height, total = np.meshgrid(turns, heights, totals, indexing="ij")
    first = _nearest(swing.azimuth_deg, turn, swing.altitude_deg, height, sun_deg)
    second = _nearest(
        swing.azimuth_deg + turn, total - turn, height, swing.end_altitude_deg, sun_deg
    )
    cost = np.abs(turn) + np.abs(total - turn)
    cost += np.abs(height - swing.altitude_deg) + np.abs(height - swing.end_altitude_deg)
    cost[np.minimum(first, second) < SUN_DANGER_DEG + _MARGIN_DEG] = np.inf
    best = np.unravel_index(int(np.argmin(cost)), cost.shape)
    if not np.isfinite(cost[best]):
        return None
    chosen = float(turn[best])
    return Corner((swing.azimuth_deg + chosen) % 360.0, float(height[best]), chosen)


def _nearest(
    azimuth_deg: ArrayLike,
    turn_deg: ArrayLike,
    altitude_deg: ArrayLike,
    end_altitude_deg: ArrayLike,
    sun_deg: tuple[float, float],
) -> FloatArray:
    """Give the least distance of rectangles from the Sun, degrees; arrays of one shape.

    Of all azimuths of a rectangle the one nearest to the Sun's is nearest at every altitude. Along
    it the cosine of the distance is R cos(h - h0), greatest at h0 or at an end.
    """
    azimuth, turn = np.asarray(azimuth_deg, float), np.asarray(turn_deg, float)
    start, end = np.asarray(altitude_deg, float), np.asarray(end_altitude_deg, float)
    aside = np.radians(_azimuth_gap_deg(sun_deg[0] - azimuth, turn))
    sun = np.radians(sun_deg[1])
    along, across = np.sin(sun), np.cos(sun) * np.cos(aside)
    best = np.degrees(np.arctan2(along, across))
    cosines = []
    for height in (start, end, np.clip(best, np.minimum(start, end), np.maximum(start, end))):
        radians = np.radians(height)
        cosines.append(np.sin(radians) * along + np.cos(radians) * across)
    cosine = np.maximum(np.maximum(cosines[0], cosines[1]), cosines[2])
    return np.asarray(np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0))))


def _azimuth_gap_deg(offset_deg: FloatArray, turn_deg: FloatArray) -> FloatArray:
    """Give how far an azimuth lies outside a turn that begins at 0, 0 if the turn passes it."""
    low, high = np.minimum(turn_deg, 0.0), np.maximum(turn_deg, 0.0)
    gaps = [
        np.maximum(np.maximum(low - at, at - high), 0.0)
        for at in (offset_deg + 360.0 * k for k in (-2, -1, 0, 1, 2))
    ]
    return np.asarray(np.minimum.reduce(np.broadcast_arrays(*gaps)))
