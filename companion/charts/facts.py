"""What is worth saying about the middle of a chart: what stands in the field, how the sky runs."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.charts.frame import SkyFrame, SkyTarget
from companion.charts.view import Lens
from companion.finding import drift_time_s, position_angle_deg
from companion.sky import DoubleStar, Kind, kind_text

_MOST: Final = 8
_SAME_DEG: Final = 0.003


@dataclass(frozen=True, slots=True)
class InField:
    """Something with a name in the field."""

    name: str
    kind: str
    magnitude: float | None
    separation_deg: float
    position_angle_deg: float | None  # None in the middle itself


def apart_deg(first: FloatArray, second: FloatArray) -> float:
    """Give the angle between two directions."""
    chord = float(np.linalg.norm(second - first))
    return float(np.degrees(2.0 * np.arcsin(min(chord / 2.0, 1.0))))


def around(vectors: Sequence[FloatArray]) -> tuple[FloatArray, float]:
    """Give a direction amid several, and how far the farthest is away from it."""
    middle = np.mean(np.stack(vectors), axis=0)
    length = float(np.linalg.norm(middle))
    if length < 1e-6:
        return vectors[0], 180.0
    middle = middle / length
    return middle, max(apart_deg(middle, vector) for vector in vectors)


def in_field(sky: SkyFrame, lens: Lens, centre: FloatArray) -> tuple[InField, ...]:
    """Give what stands in the instrument's field around a direction, brightest first."""
    if not lens.field_deg:
        return ()
    radius = lens.field_deg / 2.0
    found = [*_bodies(sky, centre, radius), *_deep(sky, lens, centre, radius)]
    found += _stars(sky, lens, centre, radius)
    found.sort(key=lambda one: (one.magnitude is None, one.magnitude or 0.0))
    return tuple(found[:_MOST])


def crossing_s(sky: SkyFrame, lens: Lens, centre: FloatArray) -> float | None:
    """Give how long a star takes across the middle of the field; None at the pole."""
    from_pole = float(np.clip(centre @ sky.pole, -1.0, 1.0))
    seconds = drift_time_s(lens.field_deg, float(np.degrees(np.arcsin(from_pole))))
    return seconds if np.isfinite(seconds) and seconds < 86_400.0 else None


def double_of(sky: SkyFrame, target: SkyTarget) -> DoubleStar | None:
    """Give what is known of a target that is a double star."""
    family, _colon, number = target.key.partition(":")
    if family != "hip":
        return None
    row = sky.index.star_row.get(int(number))
    return None if row is None else sky.index.doubles.get(row)


def _one(
    sky: SkyFrame, centre: FloatArray, vector: FloatArray, *words: str, magnitude: float | None
) -> InField:
    apart = apart_deg(centre, vector)
    angle = float(position_angle_deg(centre, vector, sky.north)) if apart > _SAME_DEG else None
    name, kind = words
    return InField(name, kind, magnitude, apart, angle)


def _bodies(sky: SkyFrame, centre: FloatArray, radius: float) -> list[InField]:
    return [
        _one(sky, centre, body.vector, body.name, _word(body.body), magnitude=body.magnitude)
        for body in sky.bodies
        if apart_deg(centre, body.vector) < radius + body.diameter_deg / 2.0
    ]


def _word(body: str) -> str:
    return {"sun": "", "moon": ""}.get(body, kind_text(Kind.PLANET))


def _deep(sky: SkyFrame, lens: Lens, centre: FloatArray, radius: float) -> list[InField]:
    index = sky.index
    near = sky.deep @ centre.astype(np.float32) > np.cos(np.radians(radius))
    near &= index.deep_known | (index.deep_magnitude <= lens.deep_limit)
    return [
        _one(
            sky,
            centre,
            sky.deep[row].astype(float),
            index.deep_names[row],
            kind_text(index.deep_kinds[row]),
            magnitude=_known(float(index.deep_magnitude[row])),
        )
        for row in np.flatnonzero(near)[: 2 * _MOST].tolist()
    ]


def _stars(sky: SkyFrame, lens: Lens, centre: FloatArray, radius: float) -> list[InField]:
    index = sky.index
    count = int(np.searchsorted(index.star_magnitude, lens.star_limit))
    near = sky.stars[:count] @ centre.astype(np.float32) > np.cos(np.radians(radius))
    rows = [row for row in np.flatnonzero(near).tolist() if row in index.star_names]
    return [
        _one(
            sky,
            centre,
            sky.stars[row].astype(float),
            index.star_names[row],
            kind_text(Kind.DOUBLE if row in index.doubles else Kind.STAR),
            magnitude=float(index.star_magnitude[row]),
        )
        for row in rows[:_MOST]
    ]


def _known(value: float) -> float | None:
    return None if np.isnan(value) else value
