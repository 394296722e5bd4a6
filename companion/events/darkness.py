"""The longest dark window of each month, and when the zodiacal light stands up steeply."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from companion.arrays import FloatArray
from companion.events.event import EventKind
from companion.events.moon import phase_curves
from companion.events.scene import Draft, Scene
from companion.events.search import roots
from companion.sky import ASTRONOMICAL_DEG, HORIZON_REFRACTION_DEG, duration_text

_ALONG_DEG = 45.0  # of the ecliptic from the Sun, where the light still reaches
_STEEP_DEG = 60.0  # between ecliptic and horizon (common practice, no source)
_LOOK_FOR_S = 3600.0


def dark_windows(scene: Scene) -> list[Draft]:
    """Find, from each full Moon to the next, the longest time without Sun and Moon."""
    begins, ends = _dark(scene)
    found, which = roots(*phase_curves(scene))
    full = found[which == 2]
    drafts = []
    for low, high in pairwise(full.tolist()):
        rows = np.flatnonzero((begins >= low) & (ends <= high))
        if len(rows):
            row = int(rows[np.argmax((ends - begins)[rows])])
            drafts.append(_window(float(begins[row]), float(ends[row])))
    return drafts


def _window(begin: float, end: float) -> Draft:
    return Draft(
        EventKind.DARK_WINDOW,
        "longest",
        f"Longest dark window of the month, {duration_text(end - begin)}",
        (begin + end) / 2.0,
        start_s=begin,
        end_s=end,
        remark="no Sun, no Moon",
        numbers={"hours": (end - begin) / 3600.0},
    )


def _dark(scene: Scene) -> tuple[FloatArray, FloatArray]:
    """Give beginnings and ends of all times with the Sun 18° down and the Moon down."""
    light = np.maximum(scene.sun_deg - ASTRONOMICAL_DEG, scene.moon_deg + HORIZON_REFRACTION_DEG)
    at, falling = crossings(scene.steps, light)
    begins, ends = at[falling], at[~falling]
    if len(begins) and len(ends):
        ends = ends[ends > begins[0]]
    return begins[: len(ends)], ends


def crossings(seconds: FloatArray, values: FloatArray) -> tuple[FloatArray, np.ndarray]:
    """Give where values cross zero along straight lines, and which of these fall."""
    rows = np.flatnonzero((values[:-1] < 0.0) != (values[1:] < 0.0))
    share = values[rows] / (values[rows] - values[rows + 1])
    return seconds[rows] + share * (seconds[rows + 1] - seconds[rows]), values[rows] >= 0.0


@dataclass(frozen=True, slots=True, eq=False)
class _Twilights:
    """Ends of evening and beginnings of morning twilight, with what matters then."""

    seconds: FloatArray
    evening: np.ndarray
    steep_deg: FloatArray
    moonless: np.ndarray


def zodiacal_lights(scene: Scene) -> list[Draft]:
    """Find, for each month without Moon, the evening and the morning best for it."""
    twilights = _twilights(scene)
    found, which = roots(*phase_curves(scene))
    full = found[which == 2]
    drafts = []
    for low, high in pairwise(full.tolist()):
        inside = (twilights.seconds >= low) & (twilights.seconds < high) & twilights.moonless
        for evening in (True, False):
            rows = np.flatnonzero(
                inside & (twilights.evening == evening) & (twilights.steep_deg > _STEEP_DEG)
            )
            if len(rows):
                row = int(rows[np.argmax(twilights.steep_deg[rows])])
                nights = len(rows)
                drafts.append(_light(twilights, row, nights))
    return drafts


def _light(twilights: _Twilights, row: int, nights: int) -> Draft:
    s, evening = float(twilights.seconds[row]), bool(twilights.evening[row])
    return Draft(
        EventKind.ZODIACAL_LIGHT,
        "evening" if evening else "morning",
        f"Zodiacal light, {'after dusk in the west' if evening else 'before dawn in the east'}",
        s,
        start_s=s if evening else s - _LOOK_FOR_S,
        end_s=s + _LOOK_FOR_S if evening else s,
        remark=f"stands {twilights.steep_deg[row]:.0f}° steep, on {nights} nights of this month "
        "without Moon; needs a dark sky",
        numbers={"ecliptic_angle_deg": float(twilights.steep_deg[row])},
    )


def _twilights(scene: Scene) -> _Twilights:
    at, falling = crossings(scene.steps, scene.sun_deg - ASTRONOMICAL_DEG)
    ahead = np.where(falling, 1.0, -1.0) * np.radians(_ALONG_DEG)
    sun = scene.span.geocentric("sun", at)
    sun = sun / np.linalg.norm(sun, axis=1)[:, None]
    pole = np.array([0.0, -0.39777716, 0.91748206])  # of the ecliptic of 2000
    along = np.cross(pole, sun)
    along /= np.linalg.norm(along, axis=1)[:, None]
    there = np.cos(ahead)[:, None] * sun + np.sin(ahead)[:, None] * along
    up = scene.span.local(there, at)[:, 2]
    here = scene.span.local(sun, at)[:, 2]
    # On a great circle of inclination i to the horizon: sin(altitude) = sin(i) sin(way along it).
    rise = (up - here * np.cos(ahead)) / np.sin(np.abs(ahead))
    steep = np.degrees(np.arcsin(np.clip(np.hypot(rise, here), 0.0, 1.0)))
    moon = np.interp(at, scene.steps, scene.moon_deg)
    return _Twilights(at, falling, np.where(rise > 0.0, steep, 0.0), moon < -1.0)
