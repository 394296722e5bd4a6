"""Pointer lines: pairs of stars, and where the great circle through them leads."""

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np

from companion.arrays import BoolArray, FloatArray, IntArray
from companion.finding.groups import Group
from companion.finding.guide import GuideStars

NO_GROUP: Final = -1
_GAP_DEG: Final = (1.4, 36.0)  # closer pairs point badly, wider ones are no pair to the eye
_FREE_MAGNITUDE: Final = 2.2  # a star so bright is found without a group


@dataclass(frozen=True, slots=True, eq=False)
class Pairs:
    """p ordered pairs of guide stars by row; ``group`` numbers ``GuideStars.groups``."""

    first: IntArray
    second: IntArray
    gap_deg: FloatArray
    group: IntArray  # NO_GROUP where the two belong to none together

    def __len__(self) -> int:
        return len(self.first)

    def where(self, mask: BoolArray) -> "Pairs":
        """Keep some of the pairs."""
        return Pairs(self.first[mask], self.second[mask], self.gap_deg[mask], self.group[mask])


def make_pairs(stars: GuideStars, first: IntArray, second: IntArray, group: IntArray) -> Pairs:
    """Give the pairs whose gap the eye can carry on; a pair given twice is kept once."""
    gap = angles_deg(stars.vectors[first], stars.vectors[second])
    count = len(stars.hip)
    _codes, once = np.unique(first * count + second, return_index=True)
    kept = np.zeros(len(first), np.bool_)
    kept[once] = True
    kept &= (gap >= _GAP_DEG[0]) & (gap <= _GAP_DEG[1])
    return Pairs(first, second, gap, group).where(kept)


@lru_cache(maxsize=4)
def known_pairs(stars: GuideStars) -> Pairs:
    """Give all ordered pairs that a person can pick out: within a group, or of bright stars."""
    free = np.flatnonzero(stars.magnitude <= _FREE_MAGNITUDE)
    # A group of two exists to point: it goes before the larger one that has the same stars.
    numbers = sorted(
        range(len(stars.groups)), key=lambda number: len(stars.groups[number].stars) > 2
    )
    sets = [*((number, stars.members[number]) for number in numbers), (NO_GROUP, free)]
    first, second, group = [], [], []
    for number, rows in sets:
        a, b = np.meshgrid(rows, rows, indexing="ij")
        apart = a != b
        first.append(a[apart])
        second.append(b[apart])
        group.append(np.full(int(apart.sum()), number, np.int64))
    return make_pairs(
        stars,
        np.concatenate(first).astype(np.int64),
        np.concatenate(second).astype(np.int64),
        np.concatenate(group),
    )


@lru_cache(maxsize=16)
def pairs_of(stars: GuideStars, group: Group) -> Pairs:
    """Give the pairs of one group, whichever groups else have them too."""
    number = stars.groups.index(group)
    pairs = known_pairs(replace(stars, groups=(group,)))
    pairs = pairs.where(pairs.group == 0)
    return replace(pairs, group=np.full(len(pairs), number, np.int64))


@dataclass(frozen=True, slots=True, eq=False)
class Lines:
    """Where each pair's great circle passes each target; arrays (p, m), degrees."""

    pairs: Pairs
    along_deg: FloatArray  # from the second star to the target's foot on the line, -180 to 180
    miss_deg: FloatArray  # the target off the line, positive to its right seen along it
    distance_deg: FloatArray  # second star to target


def follow(stars: GuideStars, pairs: Pairs, targets: FloatArray) -> Lines:
    """Extend each pair's line past every target.

    The foot and the distance of a point from a great circle: any textbook of spherical geometry.

    Parameters
    ----------
    stars, pairs
        p pairs among the stars.
    targets : FloatArray
        Unit vectors (m, 3) in the stars' own frame.
    """
    second, normal, ahead = _circles(stars, pairs)
    beyond, beside = second @ targets.T, normal @ targets.T
    onward = ahead @ targets.T
    return Lines(
        pairs=pairs,
        along_deg=np.degrees(np.arctan2(onward, beyond)),
        miss_deg=np.degrees(np.arcsin(np.clip(beside, -1.0, 1.0))),
        distance_deg=np.degrees(np.arctan2(np.hypot(onward, beside), beyond)),
    )


@lru_cache(maxsize=8)
def _circles(stars: GuideStars, pairs: Pairs) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Give each pair's second star, the pole to the right of its line, and where it goes on."""
    first, second = stars.vectors[pairs.first], stars.vectors[pairs.second]
    normal = cross(first, second)
    normal /= np.sqrt((normal**2).sum(axis=1))[:, None]
    return second, normal, cross(normal, second)


def cross(a: FloatArray, b: FloatArray) -> FloatArray:
    """Give the cross product of vectors (..., 3); numpy's own takes five times as long for few."""
    ax, ay, az = a[..., 0], a[..., 1], a[..., 2]
    bx, by, bz = b[..., 0], b[..., 1], b[..., 2]
    return np.stack([ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx], axis=-1)


def angles_deg(a: FloatArray, b: FloatArray) -> FloatArray:
    """Give the angle between unit vectors (..., 3), by the chord: exact for small angles too."""
    chord = np.sqrt(((a - b) ** 2).sum(axis=-1))
    return np.asarray(np.degrees(2.0 * np.arcsin(np.minimum(chord / 2.0, 1.0))))


def point_between(a: FloatArray, b: FloatArray, part: float) -> FloatArray:
    """Give the direction that lies a part of the way from one unit vector (3,) to another."""
    gap = math.acos(min(max(float(a @ b), -1.0), 1.0))
    return np.asarray((math.sin((1.0 - part) * gap) * a + math.sin(part * gap) * b) / math.sin(gap))


def onward(before: FloatArray, last: FloatArray) -> FloatArray:
    """Give the direction (3,), of any length, in which a line from one star goes on at another."""
    return np.asarray(last * (before @ last) - before)


def bearing_deg(origin: FloatArray, towards: FloatArray, up: FloatArray) -> float:
    """Give the direction from one place to another, clockwise from up as one stands facing it."""
    (ox, oy, oz), (ux, uy, uz) = origin.tolist(), up.tolist()
    tx, ty, tz = towards.tolist()
    right = tx * (oy * uz - oz * uy) + ty * (oz * ux - ox * uz) + tz * (ox * uy - oy * ux)
    along, rise = tx * ox + ty * oy + tz * oz, ox * ux + oy * uy + oz * uz
    above = tx * ux + ty * uy + tz * uz - along * rise
    return math.degrees(math.atan2(right, above)) % 360.0
