"""Which names a chart would like to show, the most important first."""

from collections.abc import Sequence
from typing import Final

import numpy as np

from companion.charts.frame import FloatArray, SkyFrame
from companion.charts.things import Disc, Dots, Label, Sign
from companion.charts.view import ChartKind, ChartView, Lens

Marked = tuple[str, FloatArray]  # a star's name and direction

_NAMED_STARS: Final = {
    ChartKind.WHOLE: 26,
    ChartKind.WIDE: 26,
    ChartKind.FINDER: 16,
    ChartKind.EYEPIECE: 12,
}


def labels_of(
    sky: SkyFrame,
    view: ChartView,
    lens: Lens,
    found: tuple[Dots, tuple[Sign, ...], tuple[Disc, ...]],
    unit: float,
    *,
    marked: Sequence[Marked] = (),
) -> tuple[Label, ...]:
    """Give the names in order of importance: aimed at, spoken of, bright, faint."""
    stars, signs, discs = found
    made: list[Label] = []
    target = sky.target
    if target is not None and view.near(target.vector[None, :])[0]:
        made.append(Label(target.name, view.places(target.vector), 25.0 * unit, "target"))
    made += [
        Label(name, view.places(vector), 10.0 * unit, "way")
        for name, vector in marked
        if view.near(vector[None, :])[0]
    ]
    made += [Label(disc.body.name, disc.place, disc.radius, "body") for disc in discs]
    made += [
        Label(one.name, view.places(one.vector), 7.0 * unit, "queue")
        for one in sky.queue
        if view.near(one.vector[None, :])[0] and one.vector[2] > 0.0
    ]
    names, most = sky.index.star_names, _NAMED_STARS[lens.kind]
    named = [at for at, row in enumerate(stars.rows[:600].tolist()) if row in names][:most]
    made += [
        Label(names[int(stars.rows[at])], stars.places[at], float(stars.radii[at]), "star")
        for at in named
    ]
    made += [Label(sign.name, sign.place, min(sign.major, 60.0), "deep") for sign in signs[:24]]
    if lens.by_eye:
        made += _group_labels(sky, view)
    once = dict.fromkeys(label.text for label in made)
    firsts = {text: next(label for label in made if label.text == text) for text in once}
    return tuple(label for label in firsts.values() if view.holds(label.place))


def _group_labels(sky: SkyFrame, view: ChartView) -> list[Label]:
    with np.errstate(invalid="ignore"):
        rows = np.flatnonzero(view.near(sky.groups))
    places = view.places(sky.groups[rows])
    names = [sky.index.group_names[row][0] for row in rows.tolist()]
    return [Label(name, place, 0.0, "group") for name, place in zip(names, places, strict=True)]
