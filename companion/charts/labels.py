"""Which names a chart would like to show, the most important first."""

from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.charts.frame import SkyFrame
from companion.charts.things import Dots, DrawnBody, DrawnName, Sign
from companion.charts.view import ChartKind, ChartView, Lens

Marked = tuple[str, FloatArray]  # a star's name and direction

_NAMED_STARS: Final = {
    ChartKind.WHOLE: 26,
    ChartKind.WIDE: 26,
    ChartKind.FINDER: 16,
    ChartKind.EYEPIECE: 12,
}


_NAMED_TO_MAG: Final = 2.5  # of stars on a chart of the whole sky


def labels_of(
    sky: SkyFrame,
    view: ChartView,
    lens: Lens,
    found: tuple[Dots, tuple[Sign, ...], tuple[DrawnBody, ...]],
    unit: float,
    *,
    marked: Sequence[Marked] = (),
) -> tuple[DrawnName, ...]:
    """Give the names in order of importance: aimed at, spoken of, bright, faint."""
    stars, signs, discs = found
    made: list[DrawnName] = []
    target = sky.target
    if target is not None and view.near(target.vector[None, :])[0]:
        made.append(DrawnName(target.name, view.places(target.vector), 25.0 * unit, "target"))
    made += [
        DrawnName(name, view.places(vector), 10.0 * unit, "way")
        for name, vector in marked
        if view.near(vector[None, :])[0]
    ]
    made += [
        DrawnName(disc.body.name, disc.place, disc.radius, "body")
        for disc in discs
        if disc.body.magnitude is None or disc.body.magnitude <= lens.star_limit
    ]
    made += [
        DrawnName(one.name, view.places(one.vector), 7.0 * unit, "queue")
        for one in sky.queue
        if view.near(one.vector[None, :])[0] and one.vector[2] > 0.0
    ]
    names, most = sky.index.star_names, _NAMED_STARS[lens.kind]
    named = [at for at, row in enumerate(stars.rows[:600].tolist()) if row in names]
    if lens.kind is ChartKind.WHOLE:
        named = [at for at in named if _stands_out(sky, names, int(stars.rows[at]))]
    made += [
        DrawnName(names[int(stars.rows[at])], stars.places[at], float(stars.radii[at]), "star")
        for at in named[:most]
    ]
    made += [DrawnName(sign.name, sign.place, min(sign.major, 60.0), "deep") for sign in signs[:24]]
    if lens.by_eye:
        made += _group_labels(sky, view)  # last: only they stand upon their middles
    once = dict.fromkeys(label.text for label in made)
    firsts = {text: next(label for label in made if label.text == text) for text in once}
    return tuple(label for label in firsts.values() if view.holds(label.place))


def _stands_out(sky: SkyFrame, names: Mapping[int, str], row: int) -> bool:
    """Tell whether a whole sky names a star: a bright one, and not by a letter of Bayer's."""
    bright = bool(sky.index.star_magnitude[row] <= _NAMED_TO_MAG)
    return bright and " " not in names[row]


def _group_labels(sky: SkyFrame, view: ChartView) -> list[DrawnName]:
    with np.errstate(invalid="ignore"):
        rows = np.flatnonzero(view.near(sky.groups))
    places = view.places(sky.groups[rows])
    names = [sky.index.group_names[row][0] for row in rows.tolist()]
    return [DrawnName(name, place, 0.0, "group") for name, place in zip(names, places, strict=True)]
