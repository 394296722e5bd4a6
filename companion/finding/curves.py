"""Curved rows of stars that lead on: the handle's curve to Arcturus, and from there to Spica.

A row's own circle is mostly too tight, as the eye straightens the curve when it carries it on. So
the circle asked about goes through the row's two ends and the target: if it passes near the stars
between, and bends to the same side, the row leads there.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.finding.groups import Group
from companion.finding.guide import UP, GuideStars
from companion.finding.lines import angles_deg, bearing_deg, onward
from companion.finding.ways import Way, WayKind

CATCHES_THE_EYE: Final = 2.0  # a curve leads roughly, so what it leads to must be this bright
_MOST_EXTENSION_DEG: Final = 45.0
_MOST_LENGTHS: Final = 2.5  # of the row
_MOST_OFF_PART: Final = 0.1  # of the row's length
_MOST_TURN: Final = 0.62  # straight line's miss per extension: about 38 degrees of turning


@dataclass(frozen=True, slots=True, eq=False)
class _Row:
    """A row that is up, and what is the same whatever it is asked to lead to."""

    group: Group
    rows: tuple[int, ...]
    vectors: FloatArray  # (k, 3)
    length_deg: float
    normal: FloatArray  # of the great circle through the ends, to the right of it
    ahead: FloatArray  # at the last star
    bulge: float  # how far the inner stars stand out to the left


def curve_ways(stars: GuideStars, target: FloatArray) -> list[Way]:
    """Give the rows whose curve leads on to one bright target, a unit vector."""
    found = (_curve_way(stars, row, target) for row in _rows_up(stars))
    return [way for way in found if way is not None]


def off_curve_deg(row: FloatArray, target: FloatArray) -> float:
    """Give how far a row's inner stars (k, 3) lie off the circle through its ends and a target."""
    axis = np.cross(row[-1] - row[0], target - row[0])
    axis /= max(float(np.linalg.norm(axis)), 1e-12)
    reach = np.degrees(np.arccos(np.clip(row[:-1] @ axis, -1.0, 1.0)))
    return float(np.abs(reach[1:] - reach[0]).max(initial=0.0))


@lru_cache(maxsize=4)
def _rows_up(stars: GuideStars) -> tuple[_Row, ...]:
    """Give the rows of the recognised groups whose stars can all be seen."""
    return tuple(
        _row(stars, group, tuple(stars.rows[hip] for hip in row))
        for group in stars.groups
        for row in group.rows
        if all(hip in stars.rows for hip in row)
    )


def _row(stars: GuideStars, group: Group, rows: tuple[int, ...]) -> _Row:
    vectors = stars.vectors[list(rows)]
    normal = np.cross(vectors[0], vectors[-1])
    normal /= np.linalg.norm(normal)
    return _Row(
        group=group,
        rows=rows,
        vectors=vectors,
        length_deg=float(angles_deg(vectors[:-1], vectors[1:]).sum()),
        normal=normal,
        ahead=np.cross(normal, vectors[-1]),
        bulge=-float(np.mean(vectors[1:-1] @ normal)),
    )


def _curve_way(stars: GuideStars, row: _Row, target: FloatArray) -> Way | None:
    extension_deg = float(np.degrees(np.arccos(np.clip(row.vectors[-1] @ target, -1.0, 1.0))))
    most_deg = min(_MOST_EXTENSION_DEG, _MOST_LENGTHS * row.length_deg)
    if not 1.5 < extension_deg < most_deg or not _bends_on(row, target, extension_deg):
        return None
    off_deg = off_curve_deg(row.vectors, target)
    if off_deg > _MOST_OFF_PART * row.length_deg:
        return None
    before, last = row.vectors[-2:]
    hips = tuple(int(stars.hip[star]) for star in row.rows)
    faint = max(float(stars.magnitude[list(row.rows)].max()) - 2.5, 0.0)
    return Way(
        kind=WayKind.CURVE,
        stars=hips,
        names=tuple(stars.names[star] for star in row.rows),
        group=row.group if hips[-1] in row.group.stars else None,
        gap_deg=row.length_deg,
        extension_deg=extension_deg,
        gaps=extension_deg / row.length_deg,
        distance_deg=extension_deg,
        miss_deg=off_deg,
        bearing_deg=bearing_deg(last, onward(before, last), np.array(UP)),
        cost=0.5 + 0.6 * off_deg + 0.04 * extension_deg + 0.8 * faint,
    )


def _bends_on(row: _Row, target: FloatArray, extension_deg: float) -> bool:
    """Say whether the target lies ahead, and to the side that the row already bends to."""
    miss_deg = float(np.degrees(np.arcsin(np.clip(row.normal @ target, -1.0, 1.0))))
    same_side = row.bulge * miss_deg > 0.0
    return (
        float(row.ahead @ target) > 0.0 and same_side and abs(miss_deg) < _MOST_TURN * extension_deg
    )
