"""Bright stars and planets that the Moon covers, as seen from the site."""

import numpy as np

from companion.arrays import FloatArray, RowArray
from companion.events.event import EventKind
from companion.events.moon import MOON_RADIUS_KM
from companion.events.scene import PLANETS, Draft, Scene, sun_limit_deg
from companion.events.search import Curves, minima, moments, roots
from companion.sky import disc_radii_rad, separations_rad

_STEP_S = 3600.0
_REACH_S, _FINE_S = 5400.0, 120.0
_NEAR_RAD = np.radians(3.0)


def occultations(scene: Scene) -> list[Draft]:
    """Find when the Moon's edge covers and frees them."""
    names = (*PLANETS, *(target.key for target in scene.stars.targets))

    def curves(seconds: FloatArray, rows: RowArray) -> FloatArray:
        there = scene.of_rows(names, seconds, rows)
        return separations_rad(scene.span.place("moon", seconds), there) ** 2

    found, which = _approaches(scene, names, curves)
    moon = disc_radii_rad(scene.span.place("moon", found), MOON_RADIUS_KM)
    inside = np.sqrt(curves(found, which)) < moon
    return [
        _draft(scene, names[row], s)
        for s, row in zip(found[inside].tolist(), which[inside].tolist(), strict=True)
    ]


def _approaches(
    scene: Scene, names: tuple[str, ...], curves: Curves
) -> tuple[FloatArray, RowArray]:
    """Find least separations, of those alone that are small at the steps already."""
    steps = moments(scene.span.length_s, _STEP_S)
    moon = scene.span.place("moon", steps)
    moon = moon / np.linalg.norm(moon, axis=1)[:, None]
    values = np.full((len(steps), len(names)), 9.0)
    for row, name in enumerate(names[: len(PLANETS)]):
        planet = scene.span.geocentric(name, steps)
        planet = planet / np.linalg.norm(planet, axis=1)[:, None]
        values[:, row] = 2.0 - 2.0 * np.einsum("ij,ij->i", moon, planet)
    values[:, len(PLANETS) :] = 2.0 - 2.0 * (moon @ scene.stars.vectors.T)
    return minima(curves, steps, np.where(values > _NEAR_RAD**2, 9.0, values))


def _draft(scene: Scene, name: str, s: float) -> Draft:
    contacts = _contacts(scene, name, s)
    at = np.array([s])
    magnitude = (
        float(scene.span.magnitude(name, at)[0]) if ":" not in name else scene.star(name).magnitude
    )
    apart = separations_rad(scene.span.place("moon", at), scene.directions(name, at))
    called = scene.name(name)
    numbers, remark = _edges(scene, name, contacts)
    return Draft(
        EventKind.OCCULTATION,
        name.rpartition(":")[2],
        f"The Moon covers {called}",
        s,
        (name, "moon"),
        tuple(contacts.values()),
        sun_limit_deg(magnitude),
        start_s=contacts.get("disappears"),
        end_s=contacts.get("reappears"),
        bodies=("Moon", called),
        keys=(scene.key(name), "body:moon"),
        separation_deg=float(np.degrees(apart)[0]),
        magnitude=magnitude,
        instrument="" if magnitude is not None and magnitude < -1.0 else "binoculars",
        contacts=contacts,
        remark=remark,
        numbers=numbers,
    )


def _contacts(scene: Scene, name: str, s: float) -> dict[str, float]:
    def curve(seconds: FloatArray, _rows: RowArray) -> FloatArray:
        moon = scene.span.place("moon", seconds)
        apart = separations_rad(moon, scene.directions(name, seconds))
        return apart - disc_radii_rad(moon, MOON_RADIUS_KM)

    steps = np.unique([*(s + np.arange(-_REACH_S, _REACH_S + 1.0, _FINE_S)), s])
    found, _ = roots(curve, steps, curve(steps, np.zeros(0, np.intp))[:, None])
    return {("disappears" if moment < s else "reappears"): moment for moment in found.tolist()}


def _edges(scene: Scene, name: str, contacts: dict[str, float]) -> tuple[dict[str, float], str]:
    """Give where on the Moon's edge it happens, and whether that edge is lit."""
    numbers: dict[str, float] = {}
    words = []
    for code, moment in contacts.items():
        at = np.array([moment])
        moon = scene.span.of_date(scene.span.place("moon", at), at)[0]
        star = scene.span.of_date(scene.directions(name, at), at)[0]
        sun = scene.span.of_date(scene.span.place("sun", at), at)[0]
        edge = position_angle_deg(moon, star)
        lit = abs((edge - position_angle_deg(moon, sun) + 180.0) % 360.0 - 180.0) < 90.0
        numbers[f"{code}_position_angle_deg"] = edge
        words.append(f"{code} at the {'bright' if lit else 'dark'} edge, {edge:.0f}°")
    return numbers, ", ".join(words)


def position_angle_deg(centre: FloatArray, there: FloatArray) -> float:
    """Give the direction from one place to another in the sky, from north through east."""
    east = np.array([-centre[1], centre[0], 0.0])
    north = np.cross(centre / np.linalg.norm(centre), east)
    return float(np.degrees(np.arctan2(there @ east, there @ north)) % 360.0)
