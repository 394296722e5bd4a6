"""Passes of satellites that can be seen: when they rise, stand highest, enter the shadow."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import timedelta
from itertools import pairwise

import numpy as np

from companion.arrays import BoolArray, FloatArray
from companion.events.elements.record import USABLE, Elements
from companion.events.elements.satellites import magnitude, satrec_of, sunlit
from companion.events.event import Event, EventKind
from companion.events.scene import Scene
from companion.sky import compass_point, horizon_altitude_deg

LONGEST = timedelta(days=10)  # ahead of the first moment; drag makes more of it worthless
_STEP_S, _FINE_S = 30.0, 1.0
_LOWEST_DEG = 10.0
_SUN_BELOW_DEG = -6.0
_FAINTEST_MAG = 6.0
_AU_KM, _EARTH_KM = 149597870.7, 6378.137
_JD_1970 = 2440587.5


@dataclass(frozen=True, slots=True, eq=False)
class _Track:
    """A satellite at some moments (k,)."""

    seconds: FloatArray
    azimuth_deg: FloatArray
    altitude_deg: FloatArray
    away_km: FloatArray
    phase_rad: FloatArray
    lit: BoolArray


def passes(
    scene: Scene, satellites: Iterable[Elements], first_s: float, last_s: float
) -> list[Event]:
    """Find the passes of satellites between two moments, up to ten days after the first.

    Only while it is dark here, the satellite is lit and stands 10° high; brightness is that of a
    usual satellite, within two magnitudes at best.
    """
    last_s = min(last_s, first_s + LONGEST.total_seconds())
    steps = np.arange(first_s, last_s, _STEP_S)
    dark = steps[np.interp(steps, scene.steps, scene.sun_deg) < _SUN_BELOW_DEG]
    return [event for one in satellites for event in _passes_of(scene, one, dark)]


def _passes_of(scene: Scene, elements: Elements, dark: FloatArray) -> Iterator[Event]:
    reach = USABLE[elements.family].total_seconds()
    epoch_s = scene.span.seconds(elements.epoch_utc)
    usable = dark[np.abs(dark - epoch_s) < reach]
    if not len(usable):
        return
    track = _track(scene, elements, usable)
    up = np.flatnonzero(track.altitude_deg > _LOWEST_DEG - 3.0)
    for run in np.split(up, np.flatnonzero(np.diff(usable[up]) > 2.0 * _STEP_S) + 1):
        if len(run):
            begin, end = usable[run[0]] - _STEP_S, usable[run[-1]] + _STEP_S
            event = _pass(scene, elements, np.arange(begin, end, _FINE_S))
            if event is not None:
                yield event


def _pass(scene: Scene, elements: Elements, seconds: FloatArray) -> Event | None:
    track = _track(scene, elements, seconds)
    floor = horizon_altitude_deg(scene.span.site.horizon, track.azimuth_deg)
    up = track.altitude_deg > np.maximum(_LOWEST_DEG, floor)
    seen = np.flatnonzero(up & track.lit)
    if len(seen) < 2:
        return None
    best = int(seen[np.argmax(track.altitude_deg[seen])])
    bright = magnitude(float(track.away_km[best]), float(track.phase_rad[best]))
    if bright > _FAINTEST_MAG:
        return None
    contacts = {"appears": seen[0], "highest": best, "disappears": seen[-1]}
    if dark := _into_shadow(track.lit, up):
        contacts["enters_shadow"] = dark[-1]
    when = {code: scene.span.utc(float(seconds[at])) for code, at in contacts.items()}
    altitude, azimuth = float(track.altitude_deg[best]), float(track.azimuth_deg[best])
    start, peak, ends = (
        compass_point(float(track.azimuth_deg[at]), 8) for at in (seen[0], best, seen[-1])
    )
    shadow = ", fades into the shadow there" if "enters_shadow" in contacts else ""
    old = elements.age_words(when["highest"])
    return Event(
        kind=EventKind.SATELLITE,
        code=f"{when['highest']:%H%M}",
        title=f"{elements.name} passes over",
        utc=when["highest"],
        seen_here=True,
        why=f"from the {start}, {altitude:.0f}° up in the {peak}, to the {ends}{shadow}"
        + (f"; {old}" if old else ""),
        start_utc=when["appears"],
        end_utc=when["disappears"],
        altitude_deg=altitude,
        azimuth_deg=azimuth,
        bodies=(elements.name,),
        keys=(elements.key,),
        magnitude=round(bright, 1),
        best_utc=when["highest"],
        best_altitude_deg=altitude,
        best_azimuth_deg=azimuth,
        contacts=when,
        numbers={"distance_km": float(track.away_km[best])},
    )


def _into_shadow(lit: BoolArray, up: BoolArray) -> list[int]:
    """Give where it goes dark while it is up."""
    gone = [at for at, (before, after) in enumerate(pairwise(lit.tolist())) if before and not after]
    return [at for at in gone if up[at]]


def _track(scene: Scene, elements: Elements, seconds: FloatArray) -> _Track:
    jd = scene.span.first.timestamp() / 86400.0 + _JD_1970 + seconds / 86400.0
    _errors, teme, _speeds = satrec_of(elements).sgp4_array(jd, np.zeros(len(jd)))
    there = scene.span.north_east_up(_turned(teme, jd))
    here = scene.span.here_local_au * _AU_KM
    sun = scene.span.local(scene.span.geocentric("sun", seconds), seconds) * _AU_KM
    seen = np.nan_to_num(there - here, nan=-_EARTH_KM)
    north, east, up = seen.T
    away = np.linalg.norm(seen, axis=1)
    sun_from_there = sun - there
    cosine = -np.einsum("ij,ij->i", seen, sun_from_there) / (
        away * np.linalg.norm(sun_from_there, axis=1)
    )
    return _Track(
        seconds,
        np.degrees(np.arctan2(east, north)) % 360.0,
        np.degrees(np.arctan2(up, np.hypot(north, east))),
        away,
        np.arccos(np.clip(cosine, -1.0, 1.0)),
        sunlit(there, sun),
    )


def _turned(teme: FloatArray, jd: FloatArray) -> FloatArray:
    """Turn places from the true equator and mean equinox to axes that turn with the Earth.

    Mean sidereal time of 1982 (Aoki et al. 1982, A&A 105, 359), which SGP4 goes with.
    """
    t = (jd - 2451545.0) / 36525.0
    seconds = 67310.54841 + (876600.0 * 3600.0 + 8640184.812866 + (0.093104 - 6.2e-6 * t) * t) * t
    angle = np.radians(seconds % 86400.0 / 240.0)
    x, y, z = teme.T
    cosine, sine = np.cos(angle), np.sin(angle)
    return np.stack([x * cosine + y * sine, y * cosine - x * sine, z], axis=1)
