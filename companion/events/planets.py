"""Planets against the Sun and among the stars: oppositions, elongations, stations, the rings."""

from collections.abc import Iterator

import numpy as np

from companion.arrays import FloatArray, RowArray
from companion.events.event import EventKind
from companion.events.scene import PLANETS, Draft, Scene, around, sun_limit_deg
from companion.events.search import minima, moments, roots, wrapped_deg
from companion.sky import separations_rad

_STEP_S, _DAY_S = 86400.0, 86400.0
_INNER, _OUTER = PLANETS[:2], PLANETS[2:]
_AHEAD_S = 3600.0  # over which a planet's motion is taken
_NIGHT_S = _DAY_S / 2.0
_VENUS_DAZZLES_MAG = -4.3


def meetings(scene: Scene) -> list[Draft]:
    """Find oppositions and conjunctions with the Sun, in ecliptic longitude."""
    names = (*PLANETS, *_OUTER)  # first where they meet the Sun, then where they stand opposite
    turned = np.array([0.0] * len(PLANETS) + [180.0] * len(_OUTER))
    steps = moments(scene.span.length_s, _STEP_S)

    def curves(seconds: FloatArray, rows: RowArray) -> FloatArray:
        found = np.empty(len(seconds))
        for row in np.unique(rows):
            here = rows == row
            found[here] = _from_sun_deg(scene, names[row], seconds[here]) - turned[row]
        return wrapped_deg(found)

    values = np.stack([curves(steps, np.full(len(steps), row)) for row in range(len(names))], 1)
    found, which = roots(curves, steps, values)
    return [
        _meeting(scene, names[row], s, opposite=row >= len(PLANETS))
        for s, row in zip(found.tolist(), which.tolist(), strict=True)
    ]


def _meeting(scene: Scene, name: str, s: float, *, opposite: bool) -> Draft:
    at = np.array([s])
    magnitude = float(scene.span.magnitude(name, at)[0])
    places = [scene.span.geocentric(body, at) for body in (name, "sun")]
    apart = float(np.degrees(separations_rad(*places))[0])
    if opposite:
        return Draft(
            EventKind.OPPOSITION,
            "opposition",
            f"{name.capitalize()} opposite the Sun",
            s,
            (name,),
            around(s, _NIGHT_S),
            sun_limit_deg(magnitude),
            magnitude=magnitude,
            separation_deg=apart,
        )
    inner = name in _INNER and float(np.linalg.norm(places[0])) < float(np.linalg.norm(places[1]))
    code = "inferior" if inner else "superior" if name in _INNER else "behind"
    return Draft(
        EventKind.SOLAR_CONJUNCTION,
        code,
        f"{name.capitalize()} {'in front of' if inner else 'behind'} the Sun",
        s,
        (name,),
        separation_deg=apart,
        never=f"{apart:.1f}° from the Sun: never look there",
    )


def _from_sun_deg(scene: Scene, name: str, seconds: FloatArray) -> FloatArray:
    span = scene.span
    planet, _ = span.ecliptic_deg(span.geocentric(name, seconds), seconds)
    sun, _ = span.ecliptic_deg(span.geocentric("sun", seconds), seconds)
    return np.asarray(planet - sun)


def elongations(scene: Scene) -> list[Draft]:
    """Find when Mercury and Venus stand farthest from the Sun."""

    def curves(seconds: FloatArray, rows: RowArray) -> FloatArray:
        sun = scene.span.geocentric("sun", seconds)
        found = np.empty(len(seconds))
        for row in (0, 1):
            here = rows == row
            planet = scene.span.geocentric(_INNER[row], seconds[here])
            found[here] = -separations_rad(planet, sun[here])
        return found

    steps = moments(scene.span.length_s, _STEP_S)
    values = np.stack([curves(steps, np.full(len(steps), row)) for row in (0, 1)], axis=1)
    found, which = minima(curves, steps, values)
    return [
        _elongation(scene, _INNER[row], s)
        for s, row in zip(found.tolist(), which.tolist(), strict=True)
    ]


def _elongation(scene: Scene, name: str, s: float) -> Draft:
    at = np.array([s])
    apart = separations_rad(scene.span.geocentric(name, at), scene.span.geocentric("sun", at))
    east = float(wrapped_deg(_from_sun_deg(scene, name, at))[0]) > 0.0
    magnitude = float(scene.span.magnitude(name, at)[0])
    apart_deg = float(np.degrees(apart)[0])
    return Draft(
        EventKind.ELONGATION,
        "eastern" if east else "western",
        f"{name.capitalize()} farthest from the Sun, {apart_deg:.1f}° "
        f"{'east, in the evening' if east else 'west, in the morning'}",
        s,
        (name,),
        around(s, _NIGHT_S),
        sun_limit_deg(magnitude),
        separation_deg=apart_deg,
        magnitude=magnitude,
    )


def stations(scene: Scene) -> list[Draft]:
    """Find when planets stand still in right ascension of date."""
    steps = moments(scene.span.length_s, _STEP_S)

    def curves(seconds: FloatArray, rows: RowArray) -> FloatArray:
        found = np.empty(len(seconds))
        for row in np.unique(rows):
            here = rows == row
            found[here] = _motion_deg(scene, PLANETS[row], seconds[here])
        return found

    values = np.stack([curves(steps, np.full(len(steps), row)) for row in range(len(PLANETS))], 1)
    found, which = roots(curves, steps, values)
    return [
        _station(scene, PLANETS[row], s)
        for s, row in zip(found.tolist(), which.tolist(), strict=True)
    ]


def _station(scene: Scene, name: str, s: float) -> Draft:
    at = np.array([s])
    begins = float(_motion_deg(scene, name, at + _DAY_S)[0]) < 0.0
    magnitude = float(scene.span.magnitude(name, at)[0])
    return Draft(
        EventKind.STATION,
        "retrograde" if begins else "direct",
        f"{name.capitalize()} stands still and turns {'west' if begins else 'east'}",
        s,
        (name,),
        around(s, _NIGHT_S),
        sun_limit_deg(magnitude),
        magnitude=magnitude,
    )


def _motion_deg(scene: Scene, name: str, seconds: FloatArray) -> FloatArray:
    ra = []
    for moment in (seconds - _AHEAD_S, seconds + _AHEAD_S):
        x, y, _z = scene.span.of_date(scene.span.geocentric(name, moment), moment).T
        ra.append(np.degrees(np.arctan2(y, x)))
    return wrapped_deg(ra[1] - ra[0])


def brightest_venus(scene: Scene) -> list[Draft]:
    """Find when Venus is brightest, once before and once after it passes in front of the Sun."""

    def curve(seconds: FloatArray, _rows: RowArray) -> FloatArray:
        return scene.span.magnitude("venus", seconds)

    steps = moments(scene.span.length_s, _STEP_S)
    found, _ = minima(curve, steps, curve(steps, np.zeros(0, np.intp))[:, None])
    bright = found[scene.span.magnitude("venus", found) < _VENUS_DAZZLES_MAG]
    return [
        Draft(
            EventKind.BRIGHTEST,
            "brightest",
            f"Venus at its brightest, magnitude {magnitude:.1f}".replace("-", "−"),
            s,
            ("venus",),
            around(s, _NIGHT_S),
            sun_limit_deg(magnitude),
            magnitude=magnitude,
        )
        for s, magnitude in zip(
            bright.tolist(), scene.span.magnitude("venus", bright).tolist(), strict=True
        )
    ]


def rings(scene: Scene) -> list[Draft]:
    """Find when Saturn's rings are seen edge-on, and when they are open widest."""
    steps = moments(scene.span.length_s, _STEP_S)

    def tilt(seconds: FloatArray, _rows: RowArray) -> FloatArray:
        return scene.span.ring_tilt_deg(seconds)

    def closed(seconds: FloatArray, _rows: RowArray) -> FloatArray:
        return -np.abs(scene.span.ring_tilt_deg(seconds))

    nobody = np.zeros(0, np.intp)
    edge, _ = roots(tilt, steps, tilt(steps, nobody)[:, None])
    wide, _ = minima(closed, steps, closed(steps, nobody)[:, None])
    return [*_ring_drafts(scene, edge, "edge_on"), *_ring_drafts(scene, wide, "widest")]


def _ring_drafts(scene: Scene, found: FloatArray, code: str) -> Iterator[Draft]:
    for s in found.tolist():
        tilt = float(scene.span.ring_tilt_deg(np.array([s]))[0])
        words = "edge-on" if code == "edge_on" else f"open widest for months, {abs(tilt):.1f}°"
        magnitude = float(scene.span.magnitude("saturn", np.array([s]))[0])
        yield Draft(
            EventKind.SATURN_RING,
            code,
            f"Saturn's rings {words}",
            s,
            ("saturn",),
            around(s, _NIGHT_S),
            sun_limit_deg(magnitude),
            magnitude=magnitude,
            instrument="telescope",
            numbers={"ring_tilt_deg": tilt},
        )
