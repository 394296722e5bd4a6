"""What a view shows of the sky, as places and sizes on it: plain geometry, nothing is drawn."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from companion.arrays import BoolArray, FloatArray, IntArray
from companion.charts.frame import SkyFrame
from companion.charts.labels import Marked, labels_of
from companion.charts.placing import disc_radii
from companion.charts.things import Dots, DrawnBody, DrawnDouble, DrawnName, Sign
from companion.charts.view import ChartKind, ChartView, Lens
from companion.sky import horizon_altitude_deg

_BRIGHTEST: Final = -1.0
_MOST_SIGNS: Final = 160
_FAR: Final = 20_000.0  # pixels: what lies farther off is drawn at this distance
_PARTED: Final = 4.0  # pixels: from here on two stars can be told apart
_CUT: Final = 4.0  # pixels between a star and the line that leads to it


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """All that a view shows."""

    stars: Dots
    in_field: BoolArray  # (n,) of the stars
    lines: FloatArray  # (k, 4) of the groups: from x y, to x y
    signs: tuple[Sign, ...]
    discs: tuple[DrawnBody, ...]
    doubles: tuple[DrawnDouble, ...]
    variables: Dots
    labels: tuple[DrawnName, ...]
    horizon: FloatArray | None  # (k, 2) closed ring; None while it is far off
    ground: str  # "", "outside" or "inside" the ring, "all"
    points: tuple[tuple[str, FloatArray], ...]  # letters along the horizon


def scene_of(
    sky: SkyFrame, view: ChartView, lens: Lens, unit: float = 1.0, marked: Sequence[Marked] = ()
) -> Scene:
    """Lay the sky onto a view.

    Parameters
    ----------
    sky : SkyFrame
        The sky.
    view : ChartView
        The part of it.
    lens : Lens
        How faint things are drawn, and the field whose inside counts.
    unit : float, optional
        Size of the symbols, 1 for a full screen.
    marked : sequence of (str, FloatArray), optional
        Names and directions of stars that the words beside the chart speak of.
    """
    stars = _stars(sky, view, lens, unit)
    doubles = () if lens.kind is ChartKind.WHOLE else _doubles(sky, view, stars)
    signs = _signs(sky, view, lens, unit)
    discs = _discs(sky, view, unit)
    horizon, ground = _horizon(sky, view)
    middle = np.hypot(*(stars.places - view.middle).T)
    field = view.frame.radius(min(lens.field_deg / 2.0, 89.0)) * view.scale
    in_field = middle <= field if lens.field_deg else np.ones(len(middle), np.bool_)
    return Scene(
        stars=stars,
        in_field=in_field,
        lines=np.empty((0, 4)) if lens.kind is ChartKind.EYEPIECE else _lines(sky, view, lens),
        signs=signs,
        discs=discs,
        doubles=doubles,
        variables=_variables(sky, stars, lens),
        labels=labels_of(sky, view, lens, (stars, signs, discs), unit, marked=marked),
        horizon=horizon,
        ground=ground,
        points=_points(view) if ground != "all" else (),
    )


def _stars(sky: SkyFrame, view: ChartView, lens: Lens, unit: float) -> Dots:
    count = int(np.searchsorted(sky.index.star_magnitude, lens.star_limit, side="right"))
    vectors = sky.stars[:count]
    near = view.near(vectors) & _drawn(sky, lens, np.arange(count))
    rows = np.flatnonzero(near).astype(np.int64)
    places = view.places(vectors[rows])
    room = 8.0 * unit
    magnitude = sky.index.star_magnitude[rows].astype(float)
    if sky.faint is not None and not lens.by_eye:
        found, faint = sky.faint.near(view.frame.centre, view.reach_deg, lens.star_limit)
        magnitude = np.concatenate([magnitude, sky.faint.stars.magnitude[found].astype(float)])
        order = np.argsort(magnitude, kind="stable")
        # Rows of the faint ones follow those of the frame: nothing has a name there.
        rows = np.concatenate([rows, found + len(sky.stars)])[order]
        places, magnitude = np.concatenate([places, view.places(faint)])[order], magnitude[order]
    size = np.array([view.width, view.height])
    shown = ((places > -room) & (places < size + room)).all(axis=1)
    rows, places, magnitude = rows[shown], places[shown], magnitude[shown]
    return Dots(rows, places, _radii(magnitude, lens, unit))


def _radii(magnitude: FloatArray, lens: Lens, unit: float) -> FloatArray:
    return disc_radii(magnitude, lens.star_limit, unit)


def magnitude_key(lens: Lens, unit: float) -> tuple[tuple[int, float], ...]:
    """Give every other magnitude to which a chart is complete, with the radii of their discs."""
    faintest = int(np.floor(lens.complete_to))
    magnitudes = range(faintest, faintest - 9, -2)
    radii = _radii(np.array(magnitudes, float), lens, unit)
    found = zip(magnitudes, radii.tolist(), strict=True)
    return tuple(reversed([one for one in found if one[0] >= _BRIGHTEST]))


def _drawn(sky: SkyFrame, lens: Lens, rows: IntArray) -> BoolArray:
    """Say which stars (n,) the chart shows: by eye, what this sky lets the eye find there."""
    shown = np.asarray(sky.index.star_magnitude[rows] <= lens.star_limit)
    if not lens.by_eye:
        return shown
    found = np.append(sky.by_eye, np.zeros(1, np.bool_))
    shown &= found[np.minimum(rows, len(sky.by_eye))]
    shown[shown] = _above(sky, sky.stars[rows[shown]])
    return shown


def _above(sky: SkyFrame, vectors: NDArray[np.float32]) -> BoolArray:
    """Say which directions stand above the site's horizon."""
    if not sky.site.horizon:
        return np.asarray(vectors[:, 2] > 0.0)
    azimuth_deg = np.degrees(np.arctan2(-vectors[:, 1], vectors[:, 0]))
    floor_deg = np.maximum(horizon_altitude_deg(sky.site.horizon, azimuth_deg), 0.0)
    return np.asarray(vectors[:, 2] > np.sin(np.radians(floor_deg)))


def _lines(sky: SkyFrame, view: ChartView, lens: Lens) -> FloatArray:
    """Give the groups' lines between stars that are drawn, each cut short of them."""
    rows = sky.index.group_lines
    ends = sky.stars[rows].astype(float)  # (k, 2, 3)
    near = view.near(ends[:, 0], 12.0) | view.near(ends[:, 1], 12.0)
    near &= (ends[:, :, 2] > 0.0).all(axis=1)
    near &= _drawn(sky, lens, rows.ravel()).reshape(-1, 2).all(axis=1)
    places = view.places(ends[near])
    way = places[:, 1] - places[:, 0]
    length = np.hypot(way[:, 0], way[:, 1])
    usable = (length > 3.0 * _CUT) & (np.abs(places) < _FAR).all(axis=(1, 2))
    usable &= view.crossed(places[:, 0], places[:, 1])
    places, way = places[usable], way[usable] / length[usable, None]
    return np.hstack([places[:, 0] + _CUT * way, places[:, 1] - _CUT * way])


def _signs(sky: SkyFrame, view: ChartView, lens: Lens, unit: float) -> tuple[Sign, ...]:
    index = sky.index
    wanted = index.deep_magnitude <= lens.deep_limit
    if lens.kind is not ChartKind.WHOLE:
        wanted |= index.deep_known
    wanted &= view.near(sky.deep, 1.0)
    if lens.by_eye:
        wanted &= _above(sky, sky.deep)
    rows = np.flatnonzero(wanted)[:_MOST_SIGNS]
    vectors = sky.deep[rows].astype(float)
    places = view.places(vectors)
    turned = np.nan_to_num(index.deep_angle_deg[rows].astype(float))
    angles = view.angles(vectors, turned, sky.north)
    axes = index.deep_axes_deg[rows].astype(float) / 2.0 * view.scale
    least = 5.0 * unit
    major = np.maximum(np.nan_to_num(axes[:, 0]), least)
    minor = np.where(np.isnan(axes[:, 1]), major, np.maximum(axes[:, 1], 0.34 * major))
    return tuple(
        Sign(
            name=index.deep_names[row],
            key=index.deep_keys[row],
            kind=index.deep_kinds[row],
            place=places[at],
            major=float(major[at]),
            minor=float(minor[at]),
            angle_deg=float(angles[at]),
            magnitude=_known(float(index.deep_magnitude[row])),
        )
        for at, row in enumerate(rows.tolist())
        if view.holds(places[at], -float(major[at]))
    )


def _known(value: float) -> float | None:
    return None if np.isnan(value) else value


def _discs(sky: SkyFrame, view: ChartView, unit: float) -> tuple[DrawnBody, ...]:
    sun = next(body.vector for body in sky.bodies if body.body == "sun")
    found = []
    for body in sky.bodies:
        if not view.near(body.vector[None, :], 1.0)[0] or body.vector[2] < -0.02:
            continue
        place = view.places(body.vector)
        faint = 0.0 if body.magnitude is None else float(np.clip(body.magnitude + 4.0, 0.0, 10.0))
        least = (9.0 if body.body in {"sun", "moon"} else 6.4 - 0.32 * faint) * unit
        radius = max(body.diameter_deg / 2.0 * view.scale, least)
        if view.holds(place, -radius):
            found.append(DrawnBody(body, place, radius, _lit_angle(view, body.vector, sun)))
    return tuple(found)


def _lit_angle(view: ChartView, vector: FloatArray, sun: FloatArray) -> float:
    """Give where the Sun lies, seen from a body, along the great circle; clockwise from up."""
    ahead = vector + 1e-4 * (sun - (sun @ vector) * vector)
    step = view.places(ahead / np.linalg.norm(ahead)) - view.places(vector)
    return float(np.degrees(np.arctan2(step[0], -step[1])) % 360.0)


def _doubles(sky: SkyFrame, view: ChartView, stars: Dots) -> tuple[DrawnDouble, ...]:
    """Give the double stars; one whose companion has room is drawn small enough to show it."""
    found = []
    doubles = sky.index.doubles
    for at, row in enumerate(stars.rows[:1500].tolist()):
        double = doubles.get(row)
        if double is None:
            continue
        angle = view.angles(
            sky.stars[row : row + 1].astype(float),
            np.array([double.position_angle_deg]),
            sky.north,
        )
        apart = double.separation_arcsec / 3600.0 * view.scale
        if apart > _PARTED:
            stars.radii[at] = min(stars.radii[at], 0.55 * apart)
        found.append(
            DrawnDouble(stars.places[at], float(stars.radii[at]), apart, float(angle[0]), double)
        )
    return tuple(found)


def _variables(sky: SkyFrame, stars: Dots, lens: Lens) -> Dots:
    known = frozenset() if lens.kind is ChartKind.WHOLE else sky.index.variables
    at = np.array([i for i, row in enumerate(stars.rows.tolist()) if row in known], np.int64)
    return Dots(stars.rows[at], stars.places[at], stars.radii[at])


def _horizon(sky: SkyFrame, view: ChartView) -> tuple[FloatArray | None, str]:
    """Give the ring of the horizon, and on which side of it the ground lies."""
    centre = view.frame.centre
    height = float(np.degrees(np.arcsin(np.clip(centre[2], -1.0, 1.0))))
    highest = float(np.degrees(np.arcsin(sky.horizon[:, 2].max())))
    if height - view.reach_deg > highest + 0.5:
        return None, ""
    if height + view.reach_deg < -0.5:
        return None, "all"
    flat = view.places(sky.horizon) - view.middle
    flat = flat[np.isfinite(flat[:, 0])]  # the point opposite to the middle has no place
    length = np.hypot(flat[:, 0], flat[:, 1])
    ring = view.middle + flat * np.minimum(1.0, _FAR / np.maximum(length, 1.0))[:, None]
    return ring, "outside" if centre[2] >= 0.0 else "inside"


_NAMES: Final = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")


def _points(view: ChartView) -> tuple[tuple[str, FloatArray], ...]:
    """Give the letters along the horizon."""
    found = []
    for at, name in enumerate(_NAMES):
        angle = np.radians(45.0 * at)
        vector = np.array([np.cos(angle), -np.sin(angle), 0.0])
        if view.near(vector[None, :])[0]:
            place = view.places(vector)
            if view.holds(place):
                found.append((name, place))
    return tuple(found)
