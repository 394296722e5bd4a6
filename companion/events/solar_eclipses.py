"""Eclipses of the Sun as seen from the site, and that there is one elsewhere."""

from dataclasses import replace

import numpy as np

from companion.arrays import FloatArray, RowArray
from companion.events.event import EventKind
from companion.events.moon import MOON_RADIUS_KM, phase_curves
from companion.events.scene import Draft, Scene
from companion.events.search import minima, roots
from companion.events.shadow import SUN_RADIUS_KM, axis_miss_km, covered_share
from companion.sky import disc_radii_rad, separations_rad

_REACH_S, _FINE_S, _LOOK_S = 6.0 * 3600.0, 300.0, 120.0
CAUTION = (
    "Never look at the Sun without a certified solar filter in front of the optics. Eclipse "
    "glasses are for the bare eye only, never with binoculars, a finder or a telescope. Cover the "
    "finder. Ninety-nine parts in a hundred covered blind as well."
)
_TOTALITY = (
    " Only while the Sun is covered whole, between the second and the third contact, may it be "
    "looked at without; put the filter back before the third."
)


def solar_eclipses(scene: Scene) -> list[Draft]:
    """Find all whose penumbra falls on the Earth."""
    found, which = roots(*phase_curves(scene))
    new_moons = found[which == 0]
    drafts = []
    for s in new_moons.tolist():
        steps = np.clip(s + np.arange(-_REACH_S, _REACH_S + 1.0, _FINE_S), 0.0, scene.span.length_s)
        if float(axis_miss_km(scene, steps).min()) < 0.0:
            drafts.append(_draft(scene, s, steps))
    return drafts


def _draft(scene: Scene, new_moon_s: float, steps: FloatArray) -> Draft:
    def curve(seconds: FloatArray, _rows: RowArray) -> FloatArray:
        return _discs(scene, seconds)[0] ** 2

    values = curve(steps, np.zeros(0, np.intp))
    found, _ = minima(curve, steps, values[:, None])
    near = found if len(found) else steps[[int(np.argmin(values))]]
    s = float(near[np.argmin(curve(near, np.zeros(0, np.intp)))])
    apart, sun, moon = (float(values[0]) for values in _discs(scene, np.array([s])))
    elsewhere = Draft(
        EventKind.SOLAR_ECLIPSE,
        "elsewhere",
        "Eclipse of the Sun, elsewhere on Earth",
        s if apart < 2.0 * (sun + moon) else new_moon_s,
        ("sun",),
        bodies=("Sun", "Moon"),
        keys=("body:sun",),
        separation_deg=float(np.degrees(apart)),
        obscuration=0.0,
        caution=CAUTION,
        never="the Moon's shadow passes elsewhere",
    )
    return elsewhere if apart >= sun + moon else _local(scene, elsewhere, s, (apart, sun, moon))


def _local(scene: Scene, draft: Draft, s: float, discs: tuple[float, float, float]) -> Draft:
    apart, sun, moon = discs
    contacts = _contacts(scene, s)
    inside = apart < abs(moon - sun)
    code = "partial" if not inside else "total" if moon > sun else "annular"
    share = covered_share(sun, moon, apart)
    start, end = contacts["first"], contacts["fourth"]
    looks = tuple(np.arange(start, end, _LOOK_S).tolist())
    return replace(
        draft,
        code=code,
        title=f"{code.capitalize()} eclipse of the Sun",
        seconds=s,
        looks=looks,
        start_s=start,
        end_s=end,
        obscuration=share,
        caution=CAUTION + (_TOTALITY if code == "total" else ""),
        never="",
        remark=f"{_percent(share)} covered" + _while_up(scene, s, looks),
        contacts={**contacts, "greatest": s},
        magnitude=_magnitude(apart, sun, moon, inside=inside),
    )


def _magnitude(apart: float, sun: float, moon: float, *, inside: bool) -> float:
    """Give the share of the Sun's diameter covered; the ratio of diameters where one is inside."""
    return moon / sun if inside else (sun + moon - apart) / (2.0 * sun)


def _while_up(scene: Scene, s: float, looks: tuple[float, ...]) -> str:
    """Say how much is covered at most while the Sun is up, where that is not the greatest."""
    seconds = np.array([s, *looks])
    _azimuth, altitude = scene.horizontal(scene.directions("sun", seconds), seconds)
    if altitude[0] > 0.0 or not (altitude > 0.0).any():
        return ""
    apart, sun, moon = _discs(scene, seconds[altitude > 0.0])
    best = int(np.argmin(apart))
    share = covered_share(float(sun[best]), float(moon[best]), float(apart[best]))
    return f" while the Sun is down, {_percent(share)} while it is up"


def _percent(share: float) -> str:
    """Write a share so that nearly whole is not written as whole."""
    if 0.995 <= share < 1.0:
        return f"{min(share, 0.9999):.2%}"
    return f"{share:.0%}"


def _contacts(scene: Scene, s: float) -> dict[str, float]:
    def curves(seconds: FloatArray, rows: RowArray) -> FloatArray:
        apart, sun, moon = _discs(scene, seconds)
        return apart - np.where(rows == 0, sun + moon, np.abs(sun - moon))

    # The moment itself is among the steps: totality may be shorter than the way between two.
    steps = np.unique([*(s + np.arange(-_REACH_S / 2, _REACH_S / 2 + 1.0, _FINE_S)), s])
    values = np.stack([curves(steps, np.full(len(steps), row)) for row in (0, 1)], axis=1)
    found, which = roots(curves, steps, values)
    codes = (("first", "fourth"), ("second", "third"))
    return {
        codes[row][0 if moment < s else 1]: moment
        for moment, row in zip(found.tolist(), which.tolist(), strict=True)
    }


def _discs(scene: Scene, seconds: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Give how far apart the discs are and the radii of Sun and Moon, radians, from the site."""
    sun, moon = (scene.span.place(body, seconds) for body in ("sun", "moon"))
    return (
        separations_rad(sun, moon),
        disc_radii_rad(sun, SUN_RADIUS_KM),
        disc_radii_rad(moon, MOON_RADIUS_KM),
    )
