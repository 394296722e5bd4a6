"""Curved rows of stars that lead on: the handle's curve to Arcturus, and from there to Spica.

A row's own circle is mostly too tight, as the eye straightens the curve when it carries it on. So
the circle asked about goes through the row's two ends and the target: if it passes near the stars
between, and bends to the same side, the row leads there.
"""

from typing import Final

import numpy as np

from companion.finding.groups import Group
from companion.finding.guide import UP, FloatArray, GuideStars
from companion.finding.lines import angles_deg, bearing_deg
from companion.finding.way_words import direction_words
from companion.finding.ways import Way, WayKind

CATCHES_THE_EYE: Final = 2.0  # a curve leads roughly, so what it leads to must be this bright
_MOST_EXTENSION_DEG: Final = 45.0
_MOST_LENGTHS: Final = 2.5  # of the row
_MOST_OFF_PART: Final = 0.1  # of the row's length
_MOST_TURN: Final = 0.62  # straight line's miss per extension: about 38 degrees of turning


def curve_ways(stars: GuideStars, target: FloatArray) -> list[Way]:
    """Give the rows whose curve leads on to one bright target, a unit vector."""
    found = []
    for group in stars.groups:
        for row in group.rows:
            if all(hip in stars.rows for hip in row):
                way = _curve_way(stars, group, [stars.rows[hip] for hip in row], target)
                found += [way] if way else []
    return found


def off_curve_deg(row: FloatArray, target: FloatArray) -> float:
    """Give how far a row's inner stars (k, 3) lie off the circle through its ends and a target."""
    axis = np.cross(row[-1] - row[0], target - row[0])
    axis /= max(float(np.linalg.norm(axis)), 1e-12)
    reach = np.degrees(np.arccos(np.clip(np.vstack([row, target]) @ axis, -1.0, 1.0)))
    return float(np.abs(reach[1:-2] - reach[0]).max(initial=0.0))


def _curve_way(stars: GuideStars, group: Group, rows: list[int], target: FloatArray) -> Way | None:
    row = stars.vectors[rows]
    length = float(angles_deg(row[:-1], row[1:]).sum())
    extension = float(angles_deg(row[-1], target))
    off = off_curve_deg(row, target)
    if not 1.5 < extension < min(_MOST_EXTENSION_DEG, _MOST_LENGTHS * length):
        return None
    if off > _MOST_OFF_PART * length or not _bends_on(row, target, extension):
        return None
    bearing = bearing_deg(row[-1], np.cross(np.cross(row[-2], row[-1]), row[-1]), np.array(UP))
    faint = max(float(stars.magnitude[rows].max()) - 2.5, 0.0)
    return Way(
        kind=WayKind.CURVE,
        stars=tuple(int(stars.hip[star]) for star in rows),
        names=tuple(stars.names[star] for star in rows),
        group=group if int(stars.hip[rows[-1]]) in group.stars else None,
        gap_deg=length,
        extension_deg=extension,
        gaps=extension / length,
        distance_deg=extension,
        miss_deg=off,
        side="",
        direction=direction_words(bearing),
        bearing_deg=bearing,
        cost=0.5 + 0.6 * off + 0.04 * extension + 0.8 * faint,
    )


def _bends_on(row: FloatArray, target: FloatArray, extension_deg: float) -> bool:
    """Say whether the target lies ahead, and to the side that the row already bends to."""
    normal = np.cross(row[0], row[-1])
    normal /= np.linalg.norm(normal)
    ahead = float(np.cross(normal, row[-1]) @ target) > 0.0
    miss_deg = float(np.degrees(np.arcsin(np.clip(normal @ target, -1.0, 1.0))))
    bulge = -float(np.mean(row[1:-1] @ normal))  # the middle stands out on the other side
    return ahead and bulge * miss_deg > 0.0 and abs(miss_deg) < _MOST_TURN * extension_deg
