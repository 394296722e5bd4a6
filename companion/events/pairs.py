"""Planets, the Moon and bright stars close together, as the site sees them."""

from collections.abc import Sequence
from itertools import combinations

import numpy as np

from companion.arrays import FloatArray, RowArray
from companion.events.event import EventKind
from companion.events.scene import PLANETS, Draft, Scene, around, sun_limit_deg
from companion.events.search import minima, moments
from companion.sky import angle_text

FIELD_DEG = 6.5  # what common 10×50 binoculars show (common practice, no source)
_DAY_S = 86400.0
_MOON_STEP_S, _STEP_S = 7200.0, 43200.0
_BRIGHT_STARS = ("hip:21421", "hip:37826", "hip:49669", "hip:65474", "hip:80763", "hip:17702")
"""Aldebaran, Pollux, Regulus, Spica, Antares; Alcyone stands for the Pleiades."""
_NAKED = PLANETS[:5]
_PLEIADES = "hip:17702"


def conjunctions(scene: Scene) -> list[Draft]:
    """Find when two of them come closest to each other, within a binocular field."""
    planets = [*combinations(PLANETS, 2), *((p, star) for p in _NAKED for star in _BRIGHT_STARS)]
    with_moon = [("moon", other) for other in (*PLANETS, *_BRIGHT_STARS)]
    return [
        _draft(scene, group, s, apart, EventKind.CONJUNCTION)
        for groups, step_s in ((planets, _STEP_S), (with_moon, _MOON_STEP_S))
        for group, s, apart in _closest(scene, groups, step_s)
    ]


def groupings(scene: Scene) -> list[Draft]:
    """Find when three or more of them fit into one binocular field."""
    planets = [
        *combinations(_NAKED, 3),
        *((*pair, star) for pair in combinations(_NAKED, 2) for star in _BRIGHT_STARS),
    ]
    with_moon = [
        *(("moon", *pair) for pair in combinations(_NAKED, 2)),
        *(("moon", planet, star) for planet in _NAKED for star in _BRIGHT_STARS),
    ]
    return [
        _draft(scene, group, s, apart, EventKind.GROUPING)
        for groups, step_s in ((planets, _STEP_S), (with_moon, _MOON_STEP_S))
        for group, s, apart in _closest(scene, groups, step_s)
    ]


def _closest(
    scene: Scene, groups: Sequence[tuple[str, ...]], step_s: float
) -> list[tuple[tuple[str, ...], float, float]]:
    """Give (group, moment, widest separation in degrees) of each least separation.

    All groups have the same number of members.
    """
    names = sorted({name for group in groups for name in group})
    members = np.array([[names.index(name) for name in group] for group in groups])

    def curves(seconds: FloatArray, rows: RowArray) -> FloatArray:
        there = members[rows]
        places = np.empty((*there.shape, 3))
        for number in np.unique(there):
            where = there == number  # once in a row at most
            wanted = seconds[where.any(axis=1)]
            places[where] = _unit(scene.directions(names[number], wanted))
        return _widest(np.moveaxis(places, 1, 0))

    steps = moments(scene.span.length_s, step_s)
    seen = np.stack([_unit(scene.directions(name, steps)) for name in names])
    values = np.stack([_widest(seen[group]) for group in members], axis=1)
    # What never comes near is not looked at closer: within a step nothing moves by a field.
    far = values > (2.0 * np.sin(np.radians(2.0 * FIELD_DEG) / 2.0)) ** 2
    found, which = minima(curves, steps, np.where(far, 4.0, values))
    apart = np.degrees(2.0 * np.arcsin(np.sqrt(curves(found, which)) / 2.0))
    return [
        (groups[row], s, size)
        for s, row, size in zip(found.tolist(), which.tolist(), apart.tolist(), strict=True)
        if size < FIELD_DEG
    ]


def _unit(places: FloatArray) -> FloatArray:
    return np.asarray(places / np.linalg.norm(places, axis=1)[:, None])


def _widest(places: FloatArray) -> FloatArray:
    """Give the square of the widest chord between the members (g, k, 3) of a group, (k,)."""
    chords = [np.sum((a - b) ** 2, axis=1) for a, b in combinations(places, 2)]
    return np.asarray(np.max(chords, axis=0))


def _draft(scene: Scene, group: tuple[str, ...], s: float, apart: float, kind: EventKind) -> Draft:
    at = np.array([s])
    magnitudes = [_magnitude(scene, name, at) for name in group]
    faintest = max(magnitudes)
    names = ["the Pleiades" if name == _PLEIADES else scene.name(name) for name in group]
    together = f"{', '.join(names[:-1])} and {names[-1]}"
    size = angle_text(apart)
    within = f"within {size}" if kind is EventKind.GROUPING else f"{size} apart"
    return Draft(
        kind,
        "+".join(name.rpartition(":")[2] for name in group),
        f"{together}, {within}",
        s,
        group,
        around(s, _DAY_S / 2.0),
        sun_limit_deg(faintest),
        bodies=tuple(scene.name(name) for name in group),
        separation_deg=apart,
        magnitude=faintest,
        instrument="" if "moon" not in group or faintest < 2.0 else "binoculars",
    )


def _magnitude(scene: Scene, name: str, at: FloatArray) -> float:
    if name == "moon":
        return -5.0  # bright enough for whatever is asked
    if ":" in name:
        return scene.star(name).magnitude or 0.0
    return float(scene.span.magnitude(name, at)[0])
