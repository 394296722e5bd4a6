"""Refraction of the air.

Sæmundsson's formula from the true altitude and, for the way back, its exact inverse; scaled by
pressure and temperature (Meeus, *Astronomical Algorithms*, 2nd ed., chapter 16; Sæmundsson, *Sky &
Telescope* 72, 1986, 70). Pressure and temperature of the standard atmosphere (ISO 2533).
"""

import numpy as np
from numpy.typing import ArrayLike

from companion.arrays import FloatArray
from companion.sky.site import Site

LOWEST_REFRACTED_DEG = -1.0


def standard_pressure_hpa(elevation_m: float) -> float:
    """Give the pressure of the standard atmosphere at a height."""
    return float(1013.25 * (1.0 - 2.25577e-5 * elevation_m) ** 5.25588)


def standard_temperature_c(elevation_m: float) -> float:
    """Give the temperature of the standard atmosphere at a height."""
    return 15.0 - 0.0065 * elevation_m


def air_of(site: Site) -> tuple[float, float]:
    """Give pressure (hPa) and temperature (°C) at a site: the person's, or the standard's."""
    pressure, temperature = site.pressure_hpa, site.temperature_c
    return (
        standard_pressure_hpa(site.elevation_m) if pressure is None else pressure,
        standard_temperature_c(site.elevation_m) if temperature is None else temperature,
    )


def refraction_deg(
    altitude_airless_deg: ArrayLike, pressure_hpa: float, temperature_c: float
) -> FloatArray:
    """Give how much the air lifts a direction; nothing below one degree under the horizon."""
    altitude = np.asarray(altitude_airless_deg, float)
    safe = np.maximum(altitude, LOWEST_REFRACTED_DEG)
    angle = safe + 10.3 / (safe + 5.11)
    angle *= np.pi / 180.0
    lift = 1.02 / np.tan(angle)
    lift += 0.0019279
    lift *= pressure_hpa / 1010.0 * 283.0 / (273.0 + temperature_c) / 60.0
    lift *= altitude >= LOWEST_REFRACTED_DEG
    return np.asarray(lift)


def refracted_deg(
    altitude_airless_deg: ArrayLike, pressure_hpa: float, temperature_c: float
) -> FloatArray:
    """Give the altitude at which something is seen."""
    return np.asarray(altitude_airless_deg, float) + refraction_deg(
        altitude_airless_deg, pressure_hpa, temperature_c
    )


def airless_deg(altitude_deg: ArrayLike, pressure_hpa: float, temperature_c: float) -> FloatArray:
    """Give the airless altitude of something that is seen at ``altitude_deg``.

    The inverse of ``refracted_deg`` to 1e-9 degrees. Altitudes that refraction skips, between
    -1° and the lifted -1°, come back as -1°.
    """
    seen = np.asarray(altitude_deg, float)
    lowest = refracted_deg(LOWEST_REFRACTED_DEG, pressure_hpa, temperature_c)
    airless = np.maximum(seen, lowest)
    target = airless
    for _ in range(25):
        step = refracted_deg(airless, pressure_hpa, temperature_c) - target
        airless = np.maximum(airless - step, LOWEST_REFRACTED_DEG)
    below = np.minimum(seen, LOWEST_REFRACTED_DEG)
    return np.asarray(np.where(seen >= lowest, airless, below))
