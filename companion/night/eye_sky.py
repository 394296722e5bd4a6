"""The faintest star that the bare eye finds at one moment, by direction: site, Moon, twilight."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from companion.arrays import FloatArray
from companion.night.sight.air import airmass
from companion.night.sight.observer import Conditions
from companion.night.sight.scales import naked_eye_limit
from companion.night.sight.skylight import Lights, sky_light
from companion.sky import Moment, horizontal_separation_deg

# Altitude of the Sun's centre, and the faintest star that the eye finds in a clear twilight sky
# (common practice, no source). With the Sun 18° down twilight takes nothing away.
_TWILIGHT: Final = (
    (-18.0, 8.0), (-16.0, 6.0), (-12.0, 4.5), (-9.0, 3.0), (-6.0, 1.2), (-3.0, -1.0), (0.0, -3.5),
)  # fmt: skip
_NIGHT_DEG: Final = -18.0
_ALL_ROUND_DEG: Final = tuple(range(0, 360, 45))
_HIGH_DEG: Final = (30.0, 45.0, 60.0, 75.0, 90.0)


@dataclass(frozen=True, slots=True, eq=False)
class EyeSky:
    """The sky of one moment as the eye meets it; ``eye_sky`` makes it."""

    conditions: Conditions
    lights: Lights
    sun_altitude_deg: float  # airless
    moon_deg: tuple[float, float]  # azimuth and altitude as seen

    @property
    def faintest(self) -> float:
        """The faintest star that is found anywhere: high up, and away from the Moon."""
        azimuth, altitude = np.meshgrid(_ALL_ROUND_DEG, _HIGH_DEG)
        return float(self.limit(azimuth, altitude).max())

    @property
    def without_sun(self) -> "EyeSky":
        """The same sky as it would be with the Sun far down."""
        return replace(self, sun_altitude_deg=min(self.sun_altitude_deg, _NIGHT_DEG))

    def limit(self, azimuth_deg: ArrayLike, altitude_deg: ArrayLike) -> FloatArray:
        """Give the magnitude, as catalogues have it, of the faintest star found in directions.

        What the sky's own light and the Moon's leave (``naked_eye_limit``, which counts the
        zenith's air in), less what more air takes away; never beyond what twilight leaves.

        Parameters
        ----------
        azimuth_deg, altitude_deg : array_like
            Seen directions, refracted; below the horizon the horizon's limit is given.
        """
        azimuth, altitude = np.asarray(azimuth_deg, float), np.asarray(altitude_deg, float)
        extinction_mag = self.conditions.extinction_mag
        light = sky_light(
            self.lights,
            zenith_mag=self.conditions.zenith_mag,
            extinction_mag=extinction_mag,
            altitude_deg=altitude,
            moon_distance_deg=horizontal_separation_deg(*self.moon_deg, azimuth, altitude),
            sun_distance_deg=np.full(altitude.shape, 90.0),
        )
        dark = naked_eye_limit(light.without_sun)
        sun, left = zip(*_TWILIGHT, strict=True)
        twilight = np.interp(self.sun_altitude_deg, np.array(sun), np.array(left))
        more_air = extinction_mag * (airmass(altitude) - 1.0)
        return np.asarray(np.minimum(dark, twilight) - more_air)


def eye_sky(moment: Moment, conditions: Conditions) -> EyeSky:
    """Give the sky of a moment as the bare eye meets it.

    Parameters
    ----------
    moment : Moment
        Site and time.
    conditions : Conditions
        How dark and clear the night is there.
    """
    sun, moon = moment.body("sun"), moment.body("moon")
    phase = np.degrees(np.arccos(np.clip(2.0 * moon.lit_fraction - 1.0, -1.0, 1.0)))
    return EyeSky(
        conditions=conditions,
        lights=Lights(sun.altitude_deg, moon.altitude_deg, float(phase)),
        sun_altitude_deg=sun.altitude_airless_deg,
        moon_deg=(moon.azimuth_deg, moon.altitude_deg),
    )
