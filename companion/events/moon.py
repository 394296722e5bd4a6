"""The Moon by itself: phases, nearest and farthest, farthest north and south."""

import numpy as np

from companion.arrays import FloatArray, RowArray
from companion.events.event import EventKind
from companion.events.scene import Draft, Scene, around
from companion.events.search import Curves, minima, moments, roots, wrapped_deg
from companion.sky import disc_radii_rad

_STEP_S = 21600.0
_DAY_S = 86400.0
_AU_KM = 149597870.7
MOON_RADIUS_KM = 1737.4
_PHASES = (
    ("new_moon", "New Moon"),
    ("first_quarter", "First quarter"),
    ("full_moon", "Full Moon"),
    ("last_quarter", "Last quarter"),
)


def phases(scene: Scene) -> list[Draft]:
    """Find when the Moon's longitude is 0°, 90°, 180° and 270° ahead of the Sun's."""
    found, which = roots(*phase_curves(scene))
    return [
        Draft(
            EventKind.MOON_PHASE,
            _PHASES[row][0],
            _PHASES[row][1],
            s,
            ("moon",),
            around(s, _DAY_S / 2.0),
            never="the Moon is lost beside the Sun" if row == 0 else "",
        )
        for s, row in zip(found.tolist(), which.tolist(), strict=True)
    ]


def phase_curves(scene: Scene) -> tuple["_PhaseCurves", FloatArray, FloatArray]:
    """Give the four curves that cross zero at the phases, and their values at steps."""
    steps = moments(scene.span.length_s, _STEP_S)
    ahead = _ahead_deg(scene, steps)
    values = wrapped_deg(ahead[:, None] - 90.0 * np.arange(4))
    return _PhaseCurves(scene), steps, values


class _PhaseCurves:
    def __init__(self, scene: Scene) -> None:
        self._scene = scene

    def __call__(self, seconds: FloatArray, rows: RowArray) -> FloatArray:
        return wrapped_deg(_ahead_deg(self._scene, seconds) - 90.0 * rows)


def _ahead_deg(scene: Scene, seconds: FloatArray) -> FloatArray:
    span = scene.span
    moon, _ = span.ecliptic_deg(span.geocentric("moon", seconds), seconds)
    sun, _ = span.ecliptic_deg(span.geocentric("sun", seconds), seconds)
    return np.asarray(moon - sun)


def distances(scene: Scene) -> list[Draft]:
    """Find perigee and apogee, between the middles of Earth and Moon."""

    def curve(seconds: FloatArray, rows: RowArray) -> FloatArray:
        away = np.linalg.norm(scene.span.geocentric("moon", seconds), axis=1)
        return np.asarray(away * np.where(rows == 0, 1.0, -1.0))

    found, which = _extremes(scene, curve)
    away_km = np.linalg.norm(scene.span.geocentric("moon", found), axis=1) * _AU_KM
    size = np.degrees(2.0 * disc_radii_rad(scene.span.place("moon", found), MOON_RADIUS_KM)) * 60.0
    codes = (("perigee", "Moon nearest"), ("apogee", "Moon farthest"))
    return [
        Draft(
            EventKind.MOON_DISTANCE,
            codes[row][0],
            f"{codes[row][1]}, {km:,.0f} km".replace(",", "\u2009"),
            s,
            ("moon",),
            around(s, _DAY_S / 2.0),
            numbers={"distance_km": float(km), "diameter_arcmin": float(arcmin)},
        )
        for s, row, km, arcmin in zip(found.tolist(), which.tolist(), away_km, size, strict=True)
    ]


def standstills(scene: Scene) -> list[Draft]:
    """Find when the Moon is farthest north and south in each month."""

    def curve(seconds: FloatArray, rows: RowArray) -> FloatArray:
        return np.asarray(_declination_deg(scene, seconds) * np.where(rows == 0, -1.0, 1.0))

    found, which = _extremes(scene, curve)
    codes = (("northern", "north"), ("southern", "south"))
    return [
        Draft(
            EventKind.MOON_STANDSTILL,
            codes[row][0],
            f"Moon farthest {codes[row][1]}, {abs(dec):.1f}° from the equator",
            s,
            ("moon",),
            around(s, _DAY_S / 2.0),
            numbers={"declination_deg": float(dec)},
        )
        for s, row, dec in zip(
            found.tolist(), which.tolist(), _declination_deg(scene, found), strict=True
        )
    ]


def _declination_deg(scene: Scene, seconds: FloatArray) -> FloatArray:
    x, y, z = scene.span.of_date(scene.span.geocentric("moon", seconds), seconds).T
    return np.asarray(np.degrees(np.arctan2(z, np.hypot(x, y))))


def _extremes(scene: Scene, curve: Curves) -> tuple[FloatArray, RowArray]:
    steps = moments(scene.span.length_s, _STEP_S)
    values = np.stack([curve(steps, np.full(len(steps), row)) for row in (0, 1)], axis=1)
    return minima(curve, steps, values)
