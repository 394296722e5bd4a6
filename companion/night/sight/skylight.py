"""How bright the sky is in a direction: its own glow, the Moon, twilight, day."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from companion.arrays import FloatArray
from companion.night.sight.air import airmass
from companion.night.sight.scales import mag_per_arcsec2, nanolamberts

_SUN_MAG = -26.74
_NEAREST_DEG = 0.5  # the scattering law diverges at the source itself
# Patat, Ugolnikov & Postylyakov 2006 (A&A 455, 385), table 2, V at the zenith against the
# depression of the Sun beyond 5°, fitted from 5° to 15°.
_PATAT = (11.84, 1.518, -0.057)
_PATAT_FROM_DEG, _PATAT_TO_DEG = 5.0, 15.0
_PARANAL_NIGHT = 21.9  # the site's own glow, which the fit contains
_FADE_MAG_PER_DEG = 1.0  # of the shallow and of the last twilight (Schaefer 1993)


@dataclass(frozen=True, slots=True)
class Lights:
    """Sun and Moon as seen from the site; scalars, or arrays that broadcast over times.

    ``moon_phase_angle_deg`` is 0 at full Moon, 180 at new Moon. Altitudes are refracted.
    """

    sun_altitude_deg: float | FloatArray
    moon_altitude_deg: float | FloatArray
    moon_phase_angle_deg: float | FloatArray


@dataclass(frozen=True, slots=True)
class SkyLight:
    """Luminance of the sky in a direction by its sources, nL; arrays of one shape."""

    glow: FloatArray
    moon: FloatArray
    sun: FloatArray

    @property
    def total(self) -> FloatArray:
        """V surface brightness of all together, mag/arcsec²."""
        return mag_per_arcsec2(self.glow + self.moon + self.sun)

    @property
    def without_moon(self) -> FloatArray:
        """V surface brightness as it would be with the Moon away, mag/arcsec²."""
        return mag_per_arcsec2(self.glow + self.sun)

    @property
    def without_sun(self) -> FloatArray:
        """V surface brightness as it would be in full darkness, mag/arcsec²."""
        return mag_per_arcsec2(self.glow + self.moon)


def scattering_path(altitude_deg: ArrayLike) -> FloatArray:
    """Airmass for scattered light, flat near the horizon (Krisciunas & Schaefer 1991)."""
    zenith = np.radians(90.0 - np.maximum(np.asarray(altitude_deg, dtype=np.float64), 0.0))
    return np.asarray((1.0 - 0.96 * np.sin(zenith) ** 2) ** -0.5)


def glow_nl(zenith_mag: float, altitude_deg: ArrayLike, extinction_mag: float) -> FloatArray:
    """Sky without Moon and Sun, brighter towards the horizon (same paper), nL."""
    path = scattering_path(altitude_deg)
    return np.asarray(
        nanolamberts(zenith_mag) * 10.0 ** (-0.4 * extinction_mag * (path - 1.0)) * path
    )


def scattering(distance_deg: ArrayLike) -> FloatArray:
    """How much of a light's beam the air sends our way (same paper).

    Molecules and dust beyond 10° from the light, the aureole within.
    """
    rho = np.maximum(np.asarray(distance_deg, dtype=np.float64), _NEAREST_DEG)
    molecules = 10.0**5.36 * (1.06 + np.cos(np.radians(rho)) ** 2)
    dust = np.where(rho < 10.0, 6.2e7 * rho**-2, 10.0 ** (6.15 - rho / 40.0))
    return np.asarray(molecules + dust)


def moon_magnitude(phase_angle_deg: ArrayLike) -> FloatArray:
    """V magnitude of the Moon at its mean distance (same paper)."""
    alpha = np.abs(np.asarray(phase_angle_deg, dtype=np.float64))
    return np.asarray(-12.73 + 0.026 * alpha + 4e-9 * alpha**4)


def moon_nl(
    lights: Lights, distance_deg: ArrayLike, altitude_deg: ArrayLike, extinction_mag: float
) -> FloatArray:
    """Moonlight scattered by the air, nL; none while the Moon is down (same paper).

    Parameters
    ----------
    lights : Lights
        The Moon's altitude and phase.
    distance_deg : array_like
        From the Moon to the direction looked at.
    altitude_deg : array_like
        Of the direction looked at.
    extinction_mag : float
        Zenith extinction in V, mag per airmass.
    """
    light = _scattered(
        moon_magnitude(lights.moon_phase_angle_deg),
        lights.moon_altitude_deg,
        distance_deg,
        altitude_deg,
        extinction_mag,
    )
    return np.where(np.asarray(lights.moon_altitude_deg) > 0.0, light, 0.0)


def sun_nl(
    lights: Lights, distance_deg: ArrayLike, altitude_deg: ArrayLike, extinction_mag: float
) -> FloatArray:
    """Twilight, or the daylight sky while the Sun is up, nL; the parts are explained below."""
    depression = -np.asarray(lights.sun_altitude_deg, dtype=np.float64)
    twilight = twilight_nl(lights, distance_deg, altitude_deg, extinction_mag)
    day = daylight_nl(lights, distance_deg, altitude_deg, extinction_mag)
    # Both laws meet near sunset; the fainter holds on either side of it.
    return np.where(depression > 0.0, np.minimum(twilight, day), day)


def twilight_nl(
    lights: Lights, distance_deg: ArrayLike, altitude_deg: ArrayLike, extinction_mag: float
) -> FloatArray:
    """Light of the Sun below the horizon, nL.

    At the zenith it is Patat et al. 2006 less the night's own glow; towards the horizon and the
    Sun it brightens as Schaefer 1993 (Vistas in Astronomy 36, 311; from memory) has it.
    """
    depression = -np.asarray(lights.sun_altitude_deg, dtype=np.float64)
    return np.asarray(
        nanolamberts(twilight_zenith_mag(depression))
        * _towards_sun(
            depression, np.asarray(distance_deg), np.asarray(altitude_deg), extinction_mag
        )
    )


def daylight_nl(
    lights: Lights, distance_deg: ArrayLike, altitude_deg: ArrayLike, extinction_mag: float
) -> FloatArray:
    """Light of the risen Sun, nL: the law of moonlight with the Sun's magnitude (same review)."""
    return _scattered(_SUN_MAG, lights.sun_altitude_deg, distance_deg, altitude_deg, extinction_mag)


def twilight_zenith_mag(depression_deg: ArrayLike) -> FloatArray:
    """Scattered sunlight alone at the zenith, mag/arcsec², by how far the Sun is down."""
    depression = np.asarray(depression_deg, dtype=np.float64)
    inner = np.clip(depression, _PATAT_FROM_DEG, _PATAT_TO_DEG) - _PATAT_FROM_DEG
    whole = _PATAT[0] + _PATAT[1] * inner + _PATAT[2] * inner**2
    sunlight = mag_per_arcsec2(nanolamberts(whole) - nanolamberts(_PARANAL_NIGHT))
    outside = depression - _PATAT_FROM_DEG - inner
    return np.asarray(sunlight + _FADE_MAG_PER_DEG * outside)


def sky_light(
    lights: Lights,
    *,
    zenith_mag: float,
    extinction_mag: float,
    altitude_deg: ArrayLike,
    moon_distance_deg: ArrayLike,
    sun_distance_deg: ArrayLike,
) -> SkyLight:
    """Add up the sky in a direction; all arrays broadcast against each other."""
    shape = np.broadcast_shapes(
        np.shape(altitude_deg), np.shape(moon_distance_deg), np.shape(lights.sun_altitude_deg)
    )
    parts = (
        glow_nl(zenith_mag, altitude_deg, extinction_mag),
        moon_nl(lights, moon_distance_deg, altitude_deg, extinction_mag),
        sun_nl(lights, sun_distance_deg, altitude_deg, extinction_mag),
    )
    return SkyLight(*(np.broadcast_to(part, shape) for part in parts))


def _scattered(
    magnitude: ArrayLike,
    light_altitude_deg: ArrayLike,
    distance_deg: ArrayLike,
    altitude_deg: ArrayLike,
    extinction_mag: float,
) -> FloatArray:
    """Light of one source, dimmed on its way in and scattered on ours."""
    strength = 10.0 ** (-0.4 * (np.asarray(magnitude) + 16.57))
    way_in = 10.0 ** (-0.4 * extinction_mag * scattering_path(light_altitude_deg))
    ours = 1.0 - 10.0 ** (-0.4 * extinction_mag * scattering_path(altitude_deg))
    return np.asarray(scattering(distance_deg) * strength * way_in * ours)


def _towards_sun(
    depression_deg: FloatArray,
    distance_deg: FloatArray,
    altitude_deg: FloatArray,
    extinction_mag: float,
) -> FloatArray:
    """Twilight in a direction as a multiple of that at the zenith (Schaefer 1993)."""
    zenith_distance = 90.0 - np.maximum(altitude_deg, 0.0)
    horizon_glow = 10.0 ** (0.4 * zenith_distance / (360.0 * extinction_mag))
    nearness = (90.0 + depression_deg) / np.maximum(distance_deg, 5.0)
    column = 1.0 - 10.0 ** (-0.4 * extinction_mag * airmass(altitude_deg))
    return np.asarray(horizon_glow * nearness * column / (1.0 - 10.0 ** (-0.4 * extinction_mag)))
