"""What Titan does: farthest from Saturn, in front of it, behind it, its shadow, and in Saturn's.

Places by the package ``ephem``, for its years (``about/saturn_moons.py``). In front and behind,
and the shadows, happen only while the rings are seen nearly edge-on, some three years in fifteen.
"""

from typing import Final

import numpy as np

from companion.about import titan_places
from companion.arrays import BoolArray, FloatArray, RowArray
from companion.events.event import EventKind
from companion.events.scene import Draft, Scene, around
from companion.events.search import minima, moments, roots
from companion.sky import AU_KM, Knots, body_axes

_SPARE = 3  # knots before and after
_STEP_S, _DAY_S, _J2000_S = 43200.0, 86400.0, 946727935.8  # J2000 (TDB) in seconds since 1970
_RADIUS_KM, _POLAR_KM = 60268.0, 54364.0  # IAU Working Group on Cartographic Coordinates 2015
_MAGNITUDE: Final = 8.5  # at opposition: 8.2 to 9.0 (Astronomical Almanac, from memory)
_SUN_BELOW_DEG = -9.0
_ARCSEC = np.degrees(1.0) * 3600.0
_ABOUT_S = 12.0 * 3600.0  # farther than this from the middle it is over
_FINE_S = 600.0
_EARTH, _SUN = 0, 1
_MEETS: Final = {
    (_EARTH, True): ("in_front", "Titan in front of Saturn"),
    (_EARTH, False): ("behind", "Titan behind Saturn"),
    (_SUN, True): ("shadow", "Titan's shadow on Saturn"),
    (_SUN, False): ("in_shadow", "Titan in Saturn's shadow"),
}


def titans(scene: Scene) -> list[Draft]:
    """Find all of a span."""
    count = int(scene.span.length_s // _STEP_S) + 2 * _SPARE
    seconds = (np.arange(count) - _SPARE) * _STEP_S
    days = (scene.span.first.timestamp() + seconds - _J2000_S) / _DAY_S
    orbit = _Orbit(scene, Knots(float(seconds[0]), _STEP_S, titan_places(days.tolist())))
    return [*orbit.farthest(), *orbit.meetings()]


class _Orbit:
    """Titan round Saturn through a span, between knots half a day apart: off by 50 km at most."""

    def __init__(self, scene: Scene, knots: Knots) -> None:
        self._scene, self._knots = scene, knots
        self._steps = moments(scene.span.length_s, _STEP_S)
        middle_s = scene.span.first.timestamp() + scene.span.length_s / 2.0
        self._axes = body_axes("saturn", (middle_s - _J2000_S) / _DAY_S)

    def farthest(self) -> list[Draft]:
        """Find when it stands farthest east or west."""

        def curve(seconds: FloatArray, _rows: RowArray) -> FloatArray:
            east, north, _towards = self._knots.at(seconds).T
            return np.asarray(-(east**2 + north**2) / _RADIUS_KM**2)

        found, _ = minima(curve, self._steps, curve(self._steps, np.zeros(0, np.intp))[:, None])
        return [self._far(s) for s in found.tolist()]

    def _far(self, s: float) -> Draft:
        at = np.array([s])
        east, north, _towards = self._knots.at(at)[0]
        away_km = float(np.linalg.norm(self._scene.span.geocentric("saturn", at)[0])) * AU_KM
        apart_arcsec = float(np.hypot(east, north) / away_km * _ARCSEC)
        side = "east" if east > 0.0 else "west"
        return _draft(
            f"{side}ern",
            f"Titan farthest {side} of Saturn, {apart_arcsec / 60.0:.1f}′",
            s,
            _DAY_S / 2.0,
            separation_deg=apart_arcsec / 3600.0,
            magnitude=_MAGNITUDE,
        )

    def meetings(self) -> list[Draft]:
        """Find when it passes Saturn's disk or shadow, and its shadow Saturn."""

        def curves(seconds: FloatArray, rows: RowArray) -> FloatArray:
            return self._misses(seconds, rows)[0]

        steps = self._steps
        values = np.stack([curves(steps, np.full(len(steps), row)) for row in (_EARTH, _SUN)], 1)
        found, rows = minima(curves, steps, values)
        misses, nearer = self._misses(found, rows)
        return [
            self._meeting(float(s), int(row), front=bool(front))
            for s, row, miss, front in zip(found, rows, misses, nearer, strict=True)
            if miss < 1.0
        ]

    def _meeting(self, middle_s: float, row: int, *, front: bool) -> Draft:
        code, title = _MEETS[row, front]
        near = middle_s + np.arange(-_ABOUT_S, _ABOUT_S + 1.0, _FINE_S)

        def curve(seconds: FloatArray, rows: RowArray) -> FloatArray:
            return self._misses(seconds, np.full(len(rows), row))[0] - 1.0

        ends, _ = roots(curve, near, curve(near, np.zeros(len(near), np.intp))[:, None])
        start_s, end_s = float(ends[0]), float(ends[-1])
        return _draft(
            code,
            title,
            middle_s,
            (end_s - start_s) / 2.0,
            start_s=start_s,
            end_s=end_s,
            magnitude=None if code == "behind" else _MAGNITUDE,
            remark="times of its middle, to a few minutes",
        )

    def _misses(self, seconds: FloatArray, rows: RowArray) -> tuple[FloatArray, BoolArray]:
        """Give by how much the line from Earth or Sun through Titan misses Saturn's middle.

        Returns
        -------
        ndarray, ndarray
            The square of the miss in Saturn's radii (k,), Saturn made a sphere by stretching space
            along its axis; and whether Titan is nearer than Saturn.
        """
        span = self._scene.span
        saturn = span.geocentric("saturn", seconds)
        sight = saturn / np.linalg.norm(saturn, axis=1)[:, None]
        from_sun = saturn - span.geocentric("sun", seconds)
        towards = np.where((rows == _EARTH)[:, None], -sight, -from_sun)
        stretch = np.array([1.0, 1.0, _RADIUS_KM / _POLAR_KM])
        place = _icrs(self._knots.at(seconds), sight) @ self._axes.T * stretch / _RADIUS_KM
        towards = towards @ self._axes.T * stretch
        towards /= np.linalg.norm(towards, axis=1)[:, None]
        along = np.einsum("ij,ij->i", place, towards)
        return np.einsum("ij,ij->i", place, place) - along**2, along > 0.0


def _draft(
    code: str,
    title: str,
    seconds: float,
    hold_s: float,
    *,
    start_s: float | None = None,
    end_s: float | None = None,
    separation_deg: float | None = None,
    magnitude: float | None = None,
    remark: str = "",
) -> Draft:
    return Draft(
        EventKind.TITAN,
        code,
        title,
        seconds,
        ("saturn",),
        around(seconds, hold_s),
        _SUN_BELOW_DEG,
        start_s=start_s,
        end_s=end_s,
        bodies=("Titan", "Saturn"),
        keys=("body:saturn",),
        separation_deg=separation_deg,
        magnitude=magnitude,
        remark=remark,
        instrument="telescope",
    )


def _icrs(places: FloatArray, sight: FloatArray) -> FloatArray:
    """Turn places (k, 3) east, north and towards us to ICRS axes; the pole's is that of 2000.

    The pole of date turns them by a sixth of a degree by 2030: 0.06 radii of Saturn.
    """
    pole = np.array([0.0, 0.0, 1.0])
    east = np.cross(pole, sight)
    east /= np.linalg.norm(east, axis=1)[:, None]
    north = np.cross(sight, east)
    return np.asarray(places[:, :1] * east + places[:, 1:2] * north - places[:, 2:] * sight)
