"""The daily turn of the sky: hour angle and declination, and when an altitude is crossed.

Spherical trigonometry: Meeus, *Astronomical Algorithms*, 2nd ed., chapters 13 and 15.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from companion.arrays import FloatArray
from companion.sky.vectors import unit_vectors

TURN_DEG_PER_S = 360.98564736629 / 86400.0  # of the Earth against the stars (UT1, IAU 1982)
TURN_RAD_PER_S = math.radians(TURN_DEG_PER_S)
_POLE = 1e-9  # cos(latitude) · cos(declination) under which an altitude does not change


def equator_axes(latitude_deg: float) -> FloatArray:
    """Give the matrix (3, 3) between the axes of the horizon and those of the equator.

    Those of the horizon are north, east and up; those of the equator are the point of the upper
    equator in the meridian, the west, and the celestial pole. The matrix leads either way.
    """
    sine, cosine = math.sin(math.radians(latitude_deg)), math.cos(math.radians(latitude_deg))
    return np.array([[-sine, 0.0, cosine], [0.0, -1.0, 0.0], [cosine, 0.0, sine]])


def turned_west(vectors: FloatArray, seconds: ArrayLike) -> FloatArray:
    """Give directions (..., 3) by the axes of the equator some seconds later.

    ``seconds`` broadcasts with the directions; earlier where negative.
    """
    angle = TURN_RAD_PER_S * np.asarray(seconds, dtype=np.float64)
    sine, cosine = np.sin(angle), np.cos(angle)
    across, west, pole = np.moveaxis(vectors, -1, 0)
    turned = (across * cosine - west * sine, across * sine + west * cosine)
    return np.stack(np.broadcast_arrays(*turned, pole), axis=-1)


@dataclass(frozen=True, slots=True)
class Diurnal:
    """Where n directions stand in the daily turn, degrees; arrays of shape (n,)."""

    hour_angle_deg: FloatArray  # west of the meridian positive, -180 to 180
    declination_deg: FloatArray  # of date, without refraction
    latitude_deg: float

    @classmethod
    def of(
        cls, latitude_deg: float, azimuth_deg: ArrayLike, altitude_airless_deg: ArrayLike
    ) -> "Diurnal":
        """Take directions by where they stand from one latitude."""
        local = unit_vectors(np.atleast_1d(azimuth_deg), np.atleast_1d(altitude_airless_deg))
        across, west, pole = (local @ equator_axes(latitude_deg)).T
        return cls(
            np.degrees(np.arctan2(west, across)),
            np.degrees(np.arctan2(pole, np.hypot(across, west))),
            latitude_deg,
        )

    def cosine_at(self, altitude_airless_deg: ArrayLike) -> FloatArray:
        """Give the cosine of the hour angle at which an altitude is crossed.

        Above 1 the altitude is never reached, below -1 it is never left downwards.
        """
        phi, delta = np.radians(self.latitude_deg), np.radians(self.declination_deg)
        rise = np.sin(np.radians(altitude_airless_deg)) - np.sin(phi) * np.sin(delta)
        scale = np.cos(phi) * np.cos(delta)
        still = np.where(rise > 0, np.inf, -np.inf)
        return np.asarray(
            np.where(np.abs(scale) < _POLE, still, rise / np.maximum(np.abs(scale), _POLE))
        )

    def seconds_until_below(self, altitude_airless_deg: ArrayLike) -> FloatArray:
        """Give how long each stays above an altitude: 0 where it is below, infinite where always.

        Good to a second for stars and to minutes for the Moon, which moves meanwhile.
        """
        cosine = self.cosine_at(altitude_airless_deg)
        half_deg = np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0)))
        left = (half_deg - self.hour_angle_deg) / TURN_DEG_PER_S
        above = np.abs(self.hour_angle_deg) < half_deg
        return np.asarray(np.where(cosine <= -1.0, np.inf, np.where(above, left, 0.0)))

    def seconds_until_above(self, altitude_airless_deg: ArrayLike) -> FloatArray:
        """Give how long until each rises over an altitude: 0 where above, infinite where never."""
        cosine = self.cosine_at(altitude_airless_deg)
        half_deg = np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0)))
        wait = ((-half_deg - self.hour_angle_deg) % 360.0) / TURN_DEG_PER_S
        above = np.abs(self.hour_angle_deg) < half_deg
        never = cosine >= 1.0
        return np.asarray(np.where(never, np.inf, np.where(above, 0.0, wait)))
