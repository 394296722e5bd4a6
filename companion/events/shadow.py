"""The Earth's shadow at the Moon, and how two discs cover each other."""

from dataclasses import dataclass

import numpy as np

from companion.arrays import FloatArray
from companion.events.moon import MOON_RADIUS_KM
from companion.events.scene import Scene
from companion.sky import disc_radii_rad, separations_rad

SUN_RADIUS_KM = 695700.0
EARTH_RADIUS_KM = 6378.137
AU_KM = 149597870.7
_AIR = 1.01  # by which air enlarges the shadow of the flattened Earth, Danjon's rule


@dataclass(frozen=True, slots=True, eq=False)
class Shadow:
    """Angles at the Moon in radians, as from the middle of the Earth; arrays (k,).

    Shadow by Danjon's rule, as in Espenak & Meeus, *Five Millennium Canon of Lunar Eclipses* (NASA
    TP-2009-214172).
    """

    apart: FloatArray  # of the Moon's middle from the shadow's
    umbra: FloatArray
    penumbra: FloatArray
    moon: FloatArray

    @property
    def umbral_magnitude(self) -> FloatArray:
        """Share of the Moon's diameter in the umbra; below zero outside."""
        return np.asarray((self.umbra + self.moon - self.apart) / (2.0 * self.moon))

    @property
    def penumbral_magnitude(self) -> FloatArray:
        """Share of the Moon's diameter in the penumbra."""
        return np.asarray((self.penumbra + self.moon - self.apart) / (2.0 * self.moon))


def shadow_at(scene: Scene, seconds: FloatArray) -> Shadow:
    """Give the shadow and the Moon at some moments."""
    moon, sun = (scene.span.geocentric(body, seconds) for body in ("moon", "sun"))
    parallax = _AIR * disc_radii_rad(moon, EARTH_RADIUS_KM)
    sun_parallax = disc_radii_rad(sun, EARTH_RADIUS_KM)
    sun_radius = disc_radii_rad(sun, SUN_RADIUS_KM)
    return Shadow(
        separations_rad(moon, -sun),
        parallax + sun_parallax - sun_radius,
        parallax + sun_parallax + sun_radius,
        disc_radii_rad(moon, MOON_RADIUS_KM),
    )


def axis_miss_km(scene: Scene, seconds: FloatArray) -> FloatArray:
    """Give by how much the Moon's penumbra misses the Earth; below zero where it falls on it."""
    moon, sun = (scene.span.geocentric(body, seconds) * AU_KM for body in ("moon", "sun"))
    axis = moon - sun
    length = np.linalg.norm(axis, axis=1)
    axis /= length[:, None]
    miss = np.linalg.norm(np.cross(moon, axis), axis=1)
    spread = np.arcsin((SUN_RADIUS_KM + MOON_RADIUS_KM) / length)
    ahead = -np.einsum("ij,ij->i", moon, axis)
    penumbra = ahead * np.tan(spread) + MOON_RADIUS_KM / np.cos(spread)
    return np.asarray(miss - penumbra - EARTH_RADIUS_KM)


def covered_share(sun: float, moon: float, apart: float) -> float:
    """Give the share of a disc's area that another one covers; radii and distance in one unit."""
    if apart >= sun + moon:
        return 0.0
    if apart <= abs(sun - moon):
        return min(1.0, (moon / sun) ** 2)
    a = np.arccos((apart**2 + sun**2 - moon**2) / (2.0 * apart * sun))
    b = np.arccos((apart**2 + moon**2 - sun**2) / (2.0 * apart * moon))
    lens = sun**2 * (a - np.sin(2.0 * a) / 2.0) + moon**2 * (b - np.sin(2.0 * b) / 2.0)
    return float(lens / (np.pi * sun**2))
