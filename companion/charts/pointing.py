"""What stands under a place of a chart, and where in the sky that is."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from companion.arrays import FloatArray
from companion.charts.facts import apart_deg
from companion.charts.frame import SkyFrame
from companion.charts.scene import Scene
from companion.charts.view import ChartView
from companion.sky import SUN_DANGER_DEG, SUN_UP_DEG, Kind, air_of, airless_deg, kind_text


@dataclass(frozen=True, slots=True)
class PointedThing:
    """Something on a chart; ``key`` is empty for what cannot be aimed at by a name."""

    name: str
    kind: str
    magnitude: float | None
    key: str


@dataclass(frozen=True, slots=True)
class Pointed:
    """A place of the sky, as seen, and what stands there."""

    altitude_deg: float
    azimuth_deg: float
    ra_deg: float  # ICRS, without refraction; to 20″, the aberration
    dec_deg: float
    readings: str  # of the mount's own dials; empty where none is aligned
    thing: PointedThing | None
    near_sun: bool = False  # within reach of the risen Sun: nobody sets dials to it


def pointed_at(
    sky: SkyFrame, scene: Scene, view: ChartView, place: FloatArray, reach: float
) -> Pointed | None:
    """Give what a place of a chart points at; None below the ground and off the sky.

    Parameters
    ----------
    sky, scene, view
        What is drawn.
    place : ndarray
        Pixels (2,) from the upper left corner.
    reach : float
        How far off something may be meant, in pixels.
    """
    vector = view.direction(place)
    if not np.isfinite(vector).all() or vector[2] < 0.0:
        return None
    azimuth = float(np.degrees(np.arctan2(-vector[1], vector[0])) % 360.0)
    altitude = float(np.degrees(np.arcsin(np.clip(vector[2], -1.0, 1.0))))
    airless = np.radians(float(airless_deg(altitude, *air_of(sky.site))))
    flat = np.hypot(vector[0], vector[1])
    lower = np.array([*(vector[:2] / max(flat, 1e-12) * np.cos(airless)), np.sin(airless)])
    x, y, z = sky.turn.T @ lower
    sun = next(body.vector for body in sky.bodies if body.body == "sun")
    near_sun = sky.sun_altitude_deg > SUN_UP_DEG and apart_deg(vector, sun) < SUN_DANGER_DEG
    dials = None if near_sun else sky.readings(azimuth, altitude)
    return Pointed(
        altitude_deg=altitude,
        azimuth_deg=azimuth,
        ra_deg=float(np.degrees(np.arctan2(y, x)) % 360.0),
        dec_deg=float(np.degrees(np.arcsin(np.clip(z, -1.0, 1.0)))),
        readings="" if dials is None else dials.said,
        thing=_nearest(sky, scene, view, place, reach),
        near_sun=near_sun,
    )


def _nearest(
    sky: SkyFrame, scene: Scene, view: ChartView, place: FloatArray, reach: float
) -> PointedThing | None:
    """Give what is nearest to a place, measured from the edge of its symbol."""
    best, thing = reach, None
    for at, radius, found in _candidates(sky, scene, view):
        away = float(np.hypot(*(at - place))) - radius
        if away < best:
            best, thing = max(away, 0.0), found
    star = _star(sky, scene, place, best)
    return star or thing


def _candidates(
    sky: SkyFrame, scene: Scene, view: ChartView
) -> Iterator[tuple[FloatArray, float, PointedThing]]:
    for disc in scene.discs:
        body = disc.body
        word = "" if body.body in {"sun", "moon"} else str(kind_text(Kind.PLANET))
        yield disc.place, disc.radius, PointedThing(body.name, word, body.magnitude, body.key)
    for target in (*sky.queue, *(() if sky.target is None else (sky.target,))):
        if target.vector[2] > 0.0 and view.near(target.vector[None])[0]:
            word = str(kind_text(target.kind))
            thing = PointedThing(target.name, word, target.magnitude, target.key)
            yield view.places(target.vector), 0.0, thing
    for sign in scene.signs:
        word = str(kind_text(sign.kind))
        # Of something large the middle is meant: its edge may be far out among other things.
        yield sign.place, 0.0, PointedThing(sign.name, word, sign.magnitude, sign.key)


def _star(sky: SkyFrame, scene: Scene, place: FloatArray, reach: float) -> PointedThing | None:
    if not len(scene.stars.rows):
        return None
    away = np.hypot(*(scene.stars.places - place).T) - scene.stars.radii
    at = int(np.argmin(away))
    if away[at] >= reach:
        return None
    row = int(scene.stars.rows[at])
    if row >= len(sky.stars):  # one of the faint ones, which nobody has given a name
        if sky.faint is None:
            return None
        magnitude = float(sky.faint.stars.magnitude[row - len(sky.stars)])
        return PointedThing("A star", "", magnitude, "")
    index = sky.index
    hip = int(index.hip[row])
    word = str((Kind.DOUBLE if row in index.doubles else Kind.STAR).value)
    name = index.star_names.get(row, f"HIP {hip}")
    return PointedThing(name, word, float(index.star_magnitude[row]), f"hip:{hip}")
