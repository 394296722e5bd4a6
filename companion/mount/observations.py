"""Sightings as arrays: directions, angles of the dials and their errors."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from companion.mount.dial import angle_of
from companion.mount.model import vectors_of
from companion.mount.records import Dial, Mount, Sighting

FloatArray = NDArray[np.float64]

_ROOT_12 = 12.0**0.5
_STEEPEST: Final = 1e-3  # cosine of the altitude above which azimuths mean nothing
_FINEST_DEG: Final = 1e-3  # the air alone moves stars by as much


@dataclass(frozen=True, slots=True, eq=False)
class Observations:
    """n sightings; a missing reading is not-a-number, its sigma infinite. All in radians."""

    vectors: FloatArray  # (n, 3)
    azimuth: FloatArray  # (n,) angles of the dials
    altitude: FloatArray
    sigma_azimuth: FloatArray
    sigma_altitude: FloatArray
    level: bool


def reading_sigma_deg(dial: Dial) -> float:
    """Give the standard deviation of a reading that is rounded to the dial's step."""
    return dial.step_deg / _ROOT_12


def observations_of(mount: Mount, sightings: Sequence[Sighting]) -> Observations:
    """Turn sightings into arrays.

    A sighting's own ``sigma_deg`` stands for all of its error in both readings. Without it, the
    error is that of the dial's step and that of the centring, which in azimuth grows with the
    altitude as 1/cos.
    """
    directions = expected_observations(
        mount,
        np.array([one.azimuth_deg for one in sightings], float),
        np.array([one.altitude_deg for one in sightings], float),
    )
    own = np.array([np.nan if s.sigma_deg is None else s.sigma_deg for s in sightings], float)
    azimuth = _angles(mount.azimuth, [one.azimuth_reading_deg for one in sightings])
    altitude = _angles(mount.altitude, [one.altitude_reading_deg for one in sightings])
    return replace(
        directions,
        azimuth=azimuth,
        altitude=altitude,
        sigma_azimuth=_sigmas(own, directions.sigma_azimuth, azimuth),
        sigma_altitude=_sigmas(own, directions.sigma_altitude, altitude),
    )


def expected_observations(
    mount: Mount, azimuths_deg: FloatArray, altitudes_deg: FloatArray
) -> Observations:
    """Give sightings that have not been made: directions and errors, all angles at nothing."""
    vectors = vectors_of(np.radians(azimuths_deg), np.radians(altitudes_deg)).reshape(-1, 3)
    flat = np.maximum(np.cos(np.radians(altitudes_deg)), _STEEPEST)
    centring_deg = mount.centring_sigma_deg
    sigma_azimuth = np.hypot(reading_sigma_deg(mount.azimuth), centring_deg / flat)
    sigma_altitude = np.hypot(reading_sigma_deg(mount.altitude), centring_deg * np.ones_like(flat))
    return Observations(
        vectors,
        np.zeros_like(flat),
        np.zeros_like(flat),
        np.radians(sigma_azimuth),
        np.radians(sigma_altitude),
        mount.altitude.level_on_tube,
    )


def _angles(dial: Dial, readings_deg: Sequence[float | None]) -> FloatArray:
    return np.radians(
        [np.nan if reading is None else angle_of(dial, reading) for reading in readings_deg]
    )


def _sigmas(own_deg: FloatArray, sigma: FloatArray, angles: FloatArray) -> FloatArray:
    """Put a sighting's own error in the place of the dial's; infinite where nothing was read."""
    sigmas = np.where(np.isnan(own_deg), sigma, np.radians(np.maximum(own_deg, _FINEST_DEG)))
    return np.where(np.isnan(angles), np.inf, sigmas)
