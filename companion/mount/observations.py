"""Sightings as arrays: directions, angles of the dials and their errors."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from companion.arrays import BoolArray, FloatArray
from companion.mount.dial import angle_of
from companion.mount.model import vectors_of
from companion.mount.records import Dial, Mount, Sighting

_ROOT_12 = 12.0**0.5
_STEEPEST: Final = 1e-3  # cosine of the altitude above which azimuths mean nothing
_FINEST_DEG: Final = 1e-3  # the air alone moves stars by as much
# Of a dial with play the tube rests on one flank or the other three times out of four, else
# anywhere between them (common practice, no source).
_PLAY_SHARE: Final = (0.75 / 4.0 + 0.25 / 12.0) ** 0.5


@dataclass(frozen=True, slots=True, eq=False)
class Observations:
    """n sightings; a missing reading is not-a-number, its sigma infinite. All in radians.

    ``by_dial`` (n,) tells that the errors are those of the dials, which may read worse than is
    known of them, and not those that somebody gave with the sighting.
    """

    vectors: FloatArray  # (n, 3)
    azimuth: FloatArray  # (n,) angles of the dials
    altitude: FloatArray
    sigma_azimuth: FloatArray
    sigma_altitude: FloatArray
    by_dial: BoolArray
    level: bool

    def with_extra(self, extra: FloatArray) -> "Observations":
        """Give the same with errors (azimuth, altitude) added to those of the dials."""
        azimuth, altitude = np.where(self.by_dial, extra[:, None], 0.0)
        return replace(
            self,
            sigma_azimuth=np.hypot(self.sigma_azimuth, azimuth),
            sigma_altitude=np.hypot(self.sigma_altitude, altitude),
        )


def reading_sigma_deg(dial: Dial) -> float:
    """Give the standard deviation of a reading by what is known of its dial.

    It is rounded to the dial's step; and with play it is off by up to half of that to either side,
    according to the side from which the star was approached last.
    """
    return float(np.hypot(dial.step_deg / _ROOT_12, (dial.play_deg or 0.0) * _PLAY_SHARE))


def observations_of(mount: Mount, sightings: Sequence[Sighting]) -> Observations:
    """Turn sightings into arrays.

    A sighting's own ``sigma_deg`` stands for all of its error in both readings. Without it, the
    error is that of the dial's step and play and that of the centring, which in azimuth grows
    with the altitude as 1/cos.
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
        by_dial=np.isnan(own),
    )


def as_if(
    mount: Mount, sighting: Sighting, azimuths_deg: FloatArray, altitudes_deg: FloatArray
) -> Observations:
    """Give n sightings with the readings of one, as if it had been of each of n directions."""
    one = observations_of(mount, [sighting])
    directions = expected_observations(mount, azimuths_deg, altitudes_deg)
    like = np.zeros(len(directions.vectors), int)
    own = np.array([np.nan if sighting.sigma_deg is None else sighting.sigma_deg])[like]
    return replace(
        directions,
        azimuth=one.azimuth[like],
        altitude=one.altitude[like],
        sigma_azimuth=_sigmas(own, directions.sigma_azimuth, one.azimuth[like]),
        sigma_altitude=_sigmas(own, directions.sigma_altitude, one.altitude[like]),
        by_dial=one.by_dial[like],
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
        np.ones(flat.shape, bool),
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
