"""Whether what happens can be seen from here, when best, and why not."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from companion.arrays import BoolArray, FloatArray
from companion.events.event import Event
from companion.events.scene import Draft, Scene
from companion.sky import (
    SUN_DANGER_DEG,
    clock_text,
    compass_point,
    horizon_altitude_deg,
    separations_rad,
)

_LOWEST_DEG = 2.0  # lower, the air hides all but Sun and Moon
_HIGH_ENOUGH_DEG = 10.0
_SUN_SAFE_DEG = -3.0  # so far down it does not rise while somebody searches (common practice)
_NEAR_SUN = "too near the Sun, which is up or about to rise: never look there"
_TOO_FAINT = "too faint for what there is to look with"
_CLOSE_S = 1800.0  # so near to the moment itself nothing has changed


@dataclass(frozen=True, slots=True, eq=False)
class _Looks:
    """All moments at which any draft may be looked at, one after another."""

    seconds: FloatArray  # (k,); the moment of each draft comes first
    first: FloatArray  # where each draft begins
    azimuth_deg: FloatArray
    altitude_deg: FloatArray
    lowest_deg: FloatArray  # of all that has to be up
    clear: BoolArray  # above the site's horizon
    sun_deg: FloatArray
    safe: BoolArray  # nothing that is looked at stands near the Sun while it is up, or nearly so


def judge(scene: Scene, drafts: Sequence[Draft]) -> list[Event]:
    """Turn drafts into events."""
    if not drafts:
        return []
    looks = _look(scene, drafts)
    return [
        _event(scene, draft, looks, slice(int(begin), int(begin) + 1 + len(draft.looks)))
        for draft, begin in zip(drafts, looks.first, strict=True)
    ]


def _look(scene: Scene, drafts: Sequence[Draft]) -> _Looks:
    counts = np.array([1 + len(draft.looks) for draft in drafts])
    seconds = np.concatenate([(draft.seconds, *draft.looks) for draft in drafts])
    seconds = np.clip(seconds, 0.0, scene.span.length_s)
    azimuth, altitude = np.full(len(seconds), np.nan), np.full(len(seconds), np.nan)
    lowest, clear = np.full(len(seconds), 90.0), np.ones(len(seconds), bool)
    sun, sun_deg = scene.directions("sun", seconds), scene.airless_deg("sun", seconds)
    safe = np.ones(len(seconds), bool)
    for name in {name for draft in drafts for name in draft.toward}:
        here = np.repeat([name in draft.toward for draft in drafts], counts)
        places = scene.directions(name, seconds[here])
        there, up = scene.horizontal(places, seconds[here])
        leads = np.repeat([draft.toward[:1] == (name,) for draft in drafts], counts)[here]
        azimuth[np.flatnonzero(here)[leads]], altitude[np.flatnonzero(here)[leads]] = (
            there[leads],
            up[leads],
        )
        lowest[here] = np.minimum(lowest[here], up)
        clear[here] &= up > horizon_altitude_deg(scene.span.site.horizon, there)
        if name != "sun":  # its eclipses have a caution of their own
            apart_deg = np.degrees(separations_rad(places, sun[here]))
            safe[here] &= (sun_deg[here] <= _SUN_SAFE_DEG) | (apart_deg >= SUN_DANGER_DEG)
    return _Looks(
        seconds,
        np.concatenate([[0], np.cumsum(counts)[:-1]]).astype(float),
        azimuth,
        altitude,
        lowest,
        clear,
        sun_deg,
        safe,
    )


def _event(scene: Scene, draft: Draft, looks: _Looks, part: slice) -> Event:
    begin = part.start
    up = (looks.lowest_deg[part] > (_LOWEST_DEG if draft.toward != ("sun",) else 0.0)) & (
        looks.clear[part]
    )
    dark = _dark(draft, looks.sun_deg[part])
    instrument = draft.instrument or scene.least_instrument(draft.magnitude)
    good = up & dark & looks.safe[part] & (not draft.never) & bool(instrument)
    best = _best(draft, looks, begin, good)
    seen = best is not None
    if best is None:
        why = _why_not(draft, looks.lowest_deg[part], up, dark) if instrument else _TOO_FAINT
    else:
        why = _place_words(scene, draft, looks, best)
    placed = bool(draft.toward)
    return Event(
        kind=draft.kind,
        code=draft.code,
        title=draft.title,
        utc=scene.span.utc(draft.seconds),
        seen_here=seen,
        why="; ".join(words for words in (why, draft.remark) if words),
        start_utc=_utc(scene, draft.start_s),
        end_utc=_utc(scene, draft.end_s),
        altitude_deg=float(looks.altitude_deg[begin]) if placed else None,
        azimuth_deg=float(looks.azimuth_deg[begin]) if placed else None,
        bodies=draft.bodies or tuple(scene.name(name) for name in draft.toward),
        keys=draft.keys or tuple(scene.key(name) for name in draft.toward),
        separation_deg=draft.separation_deg,
        magnitude=draft.magnitude,
        obscuration=draft.obscuration,
        caution=draft.caution,
        best_utc=None if best is None else scene.span.utc(looks.seconds[best]),
        best_altitude_deg=float(looks.altitude_deg[best]) if placed and best is not None else None,
        best_azimuth_deg=float(looks.azimuth_deg[best]) if placed and best is not None else None,
        instrument=instrument or "none",
        contacts={code: scene.span.utc(s) for code, s in draft.contacts.items()},
        numbers=dict(draft.numbers),
    )


def _dark(draft: Draft, sun_deg: FloatArray) -> BoolArray:
    if draft.sun_below_deg is None:
        return np.ones(len(sun_deg), dtype=bool)
    return np.asarray(sun_deg < draft.sun_below_deg)


def _best(draft: Draft, looks: _Looks, begin: int, good: BoolArray) -> int | None:
    """Choose the moment to look: the moment itself, else one that is near it and high enough."""
    if not good.any():
        return None
    rows = begin + np.flatnonzero(good)
    away = np.abs(looks.seconds[rows] - draft.seconds)
    low = np.clip((_HIGH_ENOUGH_DEG - looks.lowest_deg[rows]) / _HIGH_ENOUGH_DEG, 0.0, 1.0)
    return int(rows[np.argmin(away / 3600.0 + 6.0 * low)])


def _why_not(draft: Draft, lowest_deg: FloatArray, up: BoolArray, dark: BoolArray) -> str:
    if draft.never:
        return draft.never
    if not up.any():
        drawn = (lowest_deg > _LOWEST_DEG).any()
        return "behind the horizon as drawn" if drawn else "below the horizon"
    if (up & dark).any():
        return _NEAR_SUN
    return "below the horizon while it is dark" if dark.any() else "by day"


def _place_words(scene: Scene, draft: Draft, looks: _Looks, best: int) -> str:
    if not draft.toward:
        return ""
    altitude, azimuth = looks.altitude_deg[best], looks.azimuth_deg[best]
    words = f"{altitude:.0f}° up in the {compass_point(float(azimuth), 8)}"
    if abs(looks.seconds[best] - draft.seconds) <= _CLOSE_S:
        return words
    return f"best at {clock_text(scene.local_time(float(looks.seconds[best])))}, {words}"


def _utc(scene: Scene, seconds: float | None) -> datetime | None:
    return None if seconds is None else scene.span.utc(seconds)
