"""The four large moons of Jupiter: where each stands, in front, behind, in shadow.

Their places are those of the theory of Lainey, Duriez and Vienne (2004, A&A 420, 1171), as the
package ``astronomy-engine`` (MIT) computes it.
"""

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

import numpy as np

from companion.about.orientation import disk_axes
from companion.about.planet import FLATTENING, heliocentric_au
from companion.arrays import FloatArray
from companion.sky import AU_KM, LIGHT_KM_PER_S, Aspect, body_axes

NAMES: Final = ("Io", "Europa", "Ganymede", "Callisto")
_DAY_S = 86400.0
_ARCSEC = math.degrees(1.0) * 3600.0
# Magnitudes at 1 au from Sun and Earth, full phase: Astronomical Almanac (from memory).
_MAGNITUDES: Final = (-1.68, -1.41, -2.09, -1.05)


class MoonState(StrEnum):
    """Where a moon of a planet stands, as a stable code."""

    BESIDE = "beside"
    IN_FRONT = "in_front"
    BEHIND = "behind"
    IN_SHADOW = "in_shadow"


@dataclass(frozen=True, slots=True)
class PlanetMoon:
    """One moon of a planet: its place against the middle of the planet, true north up.

    ``magnitude`` is None while nothing of it is seen. ``on_disk`` is whether its shadow falls on
    the planet, with the place of the shadow in ``shadow_arcsec`` (east, north).
    """

    name: str
    east_arcsec: float
    north_arcsec: float
    magnitude: float | None
    state: MoonState
    shadow_arcsec: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Lanes:
    """How the four stand as seen along one line; distances in equatorial radii of Jupiter.

    ``aside`` is how far each passes beside the middle of the disk, stretched so that the disk's
    edge is at 1 all around; ``beyond`` is positive behind Jupiter.
    """

    aside: FloatArray
    beyond: FloatArray


def moon_places_km(aspect: Aspect) -> FloatArray:
    """Give the four moons (4, 3) from Jupiter's middle, ICRS axes, as their light left them."""
    return seen_places_km(moon_states_km(aspect.days), aspect.to_body_km)


def moon_states_km(days: float) -> FloatArray:
    """Give places and speeds (km a day) of the moons (4, 6), days (TT) after J2000."""
    from astronomy import JupiterMoons, Time  # heavy: read by threads and commands only

    moons = JupiterMoons(Time.FromTerrestrialTime(days))
    states = (moons.io, moons.europa, moons.ganymede, moons.callisto)
    return np.array([(s.x, s.y, s.z, s.vx, s.vy, s.vz) for s in states]) * AU_KM


def seen_places_km(states_km: FloatArray, to_body_km: FloatArray) -> FloatArray:
    """Give moons (..., 4, 3) as their light left them that comes in with Jupiter's (..., 3)."""
    places, speeds = states_km[..., :3], states_km[..., 3:]
    sight = to_body_km / np.linalg.norm(to_body_km, axis=-1, keepdims=True)
    late_days = np.einsum("...ij,...j->...i", places, sight) / LIGHT_KM_PER_S / _DAY_S
    return np.asarray(places - speeds * late_days[..., None])  # what is farther is seen earlier


def lanes_along(
    places_km: FloatArray, direction: FloatArray, days: float, radius_km: float
) -> Lanes:
    """Give how moons (..., 4, 3) pass Jupiter along directions (..., 3), towards it and beyond."""
    unit = direction / np.linalg.norm(direction, axis=-1, keepdims=True)
    round_places = stretched(places_km / radius_km, days)
    ray = stretched(unit, days)
    ray /= np.linalg.norm(ray, axis=-1, keepdims=True)
    along = np.einsum("...ij,...j->...i", round_places, ray)
    aside = np.linalg.norm(round_places - along[..., None] * ray[..., None, :], axis=-1)
    return Lanes(aside=aside, beyond=along)


def stretched(vectors: FloatArray, days: float) -> FloatArray:
    """Stretch space (..., 3) along Jupiter's axis so that the flattened globe becomes round."""
    pole = body_axes("jupiter", days)[2]
    more = 1.0 / (1.0 - FLATTENING["jupiter"]) - 1.0
    return np.asarray(vectors + more * (vectors @ pole)[..., None] * pole)


def jupiter_moons(aspect: Aspect) -> tuple[PlanetMoon, ...]:
    """Give where the four moons stand, from Io outwards."""
    places = moon_places_km(aspect)
    seen = lanes_along(places, aspect.to_body_km, aspect.days, aspect.radius_km)
    lit = lanes_along(places, aspect.from_sun_km, aspect.days, aspect.radius_km)
    east, north, sight = disk_axes(aspect)
    depth = aspect.distance_km + places @ sight
    offsets = np.stack([places @ east, places @ north], axis=1) / depth[:, None] * _ARCSEC
    away = 5.0 * math.log10(heliocentric_au(aspect) * aspect.distance_au)
    found = []
    for row, name in enumerate(NAMES):
        state = moon_state(seen, lit, row)
        hidden = state in {MoonState.BEHIND, MoonState.IN_SHADOW}
        found.append(
            PlanetMoon(
                name=name,
                east_arcsec=float(offsets[row, 0]),
                north_arcsec=float(offsets[row, 1]),
                magnitude=None if hidden else round(_MAGNITUDES[row] + away, 1),
                state=state,
                shadow_arcsec=_shadow(aspect, places[row], lit, row),
            )
        )
    return tuple(found)


def moon_state(seen: Lanes, lit: Lanes, row: int) -> MoonState:
    """Give where one moon stands: what is behind the disk is not said to be in shadow."""
    if seen.aside[row] < 1.0:
        return MoonState.BEHIND if seen.beyond[row] > 0.0 else MoonState.IN_FRONT
    if lit.aside[row] < 1.0 and lit.beyond[row] > 0.0:
        return MoonState.IN_SHADOW
    return MoonState.BESIDE


def _shadow(
    aspect: Aspect, place_km: FloatArray, lit: Lanes, row: int
) -> tuple[float, float] | None:
    """Give where the shadow of a moon falls on the disk, arcseconds east and north."""
    if lit.aside[row] >= 1.0 or lit.beyond[row] > 0.0:
        return None
    unit = aspect.from_sun_km / np.linalg.norm(aspect.from_sun_km)
    # In stretched space the globe is round: the ray from the moon meets it this far on.
    start = stretched(place_km[None, :] / aspect.radius_km, aspect.days)[0]
    ray = stretched(unit[None, :], aspect.days)[0]
    a, b, c = float(ray @ ray), float(start @ ray), float(start @ start) - 1.0
    on = (-b - math.sqrt(max(b * b - a * c, 0.0))) / a
    spot = place_km + unit * on * aspect.radius_km
    east, north, sight = disk_axes(aspect)
    scale = _ARCSEC / (aspect.distance_km + float(spot @ sight))
    return float(spot @ east) * scale, float(spot @ north) * scale
