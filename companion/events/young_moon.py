"""The first evening on which the young Moon is seen, and the last morning of the old one."""

import numpy as np

from companion.arrays import FloatArray
from companion.events.darkness import crossings
from companion.events.event import EventKind
from companion.events.moon import MOON_RADIUS_KM, phase_curves
from companion.events.scene import Draft, Scene
from companion.events.search import roots
from companion.sky import SUN_UP_DEG, disc_radii_rad, separations_rad

_EYE_Q, _OPTICS_Q = -0.014, -0.160  # Yallop's classes B and C
_WITHIN_S = 4.0 * 86400.0
_BEST = 4.0 / 9.0  # of the lag between Sun and Moon
_HALF_DAY_S = 43200.0


def young_moons(scene: Scene) -> list[Draft]:
    """Find the first evening after each new Moon."""
    return _crescents(scene, young=True)


def old_moons(scene: Scene) -> list[Draft]:
    """Find the last morning before each new Moon."""
    return _crescents(scene, young=False)


def _crescents(scene: Scene, *, young: bool) -> list[Draft]:
    suns, sun_sets = crossings(scene.steps, scene.sun_deg - SUN_UP_DEG)
    moons, moon_sets = crossings(scene.steps, scene.moon_deg - SUN_UP_DEG)
    suns, moons = suns[sun_sets == young], moons[moon_sets == young]
    found, which = roots(*phase_curves(scene))
    drafts = []
    for new in found[which == 0].tolist():
        days = suns[(suns > new) == young]
        days = days[np.abs(days - new) < _WITHIN_S]
        for sun in (days if young else days[::-1]).tolist():
            draft = _crescent(scene, new, sun, moons)
            if draft is not None:
                drafts.append(draft)
                break
    return drafts


def _crescent(scene: Scene, new: float, sun: float, moons: FloatArray) -> Draft | None:
    """Give the Moon of one evening or morning where it can be seen."""
    young = sun > new
    after = (
        moons[(moons > sun) & (moons < sun + _HALF_DAY_S)]
        if young
        else moons[(moons < sun) & (moons > sun - _HALF_DAY_S)]
    )
    if not len(after):
        return None
    moon = float(after[0] if young else after[-1])
    best = sun + _BEST * (moon - sun)
    q, width = yallop(scene, best)
    if q < _OPTICS_Q:
        return None
    age_h = abs(best - new) / 3600.0
    return Draft(
        EventKind.YOUNG_MOON if young else EventKind.OLD_MOON,
        "crescent",
        f"Young Moon, {age_h:.0f} hours old" if young else f"Old Moon, {age_h:.0f} hours to new",
        best,
        ("moon",),
        start_s=min(sun, moon),
        end_s=max(sun, moon),
        instrument="eye" if q > _EYE_Q else "binoculars",
        caution="" if q > _EYE_Q else "Take up binoculars only while the whole Sun is down.",
        numbers={"age_hours": age_h, "yallop_q": q, "width_arcmin": width},
    )


def yallop(scene: Scene, seconds: float) -> tuple[float, float]:
    """Give Yallop's q and the crescent's width in minutes of arc (NAO Technical Note 69, 1998).

    Above -0.014 the eye finds the crescent in clear air, above -0.160 with optical aid first.
    """
    at = np.array([seconds])
    moon, sun = (scene.span.geocentric(body, at) for body in ("moon", "sun"))
    high = [
        float(np.degrees(np.arcsin(scene.span.local(v / np.linalg.norm(v), at)[0, 2])))
        for v in (moon, sun)
    ]
    here = scene.span.place("moon", at)
    apart = float(separations_rad(moon, sun)[0])
    width = float(np.degrees(disc_radii_rad(here, MOON_RADIUS_KM))[0]) * 60.0 * (1 - np.cos(apart))
    least = 11.8371 - 6.3226 * width + 0.7319 * width**2 - 0.1018 * width**3
    return float((high[0] - high[1] - least) / 10.0), float(width)
