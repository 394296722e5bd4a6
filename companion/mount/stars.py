"""Bright stars at one moment, and which of them the typed readings would have fitted."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Final

import numpy as np
from numpy.typing import NDArray

from companion.mount.aim import sky_covariances
from companion.mount.alignment import Alignment
from companion.mount.dial import angle_of
from companion.mount.model import directions_of, to_sky, vectors_of
from companion.mount.records import Sighting

FloatArray = NDArray[np.float64]

FITS_CHI2: Final = 13.8  # of two degrees of freedom: one in a thousand lies beyond
_BRIGHTER_CHI2: Final = 1.84  # by magnitude: the brighter of two is mistaken more often
_SAME_DEG: Final = 0.02


@dataclass(frozen=True, slots=True, eq=False)
class BrightStars:
    """n bright stars as they stand at one moment: true azimuth and refracted altitude."""

    names: tuple[str, ...]
    keys: tuple[str, ...]
    azimuth_deg: FloatArray
    altitude_deg: FloatArray
    magnitude: FloatArray


StarsAt = Callable[[datetime], BrightStars]


@dataclass(frozen=True, slots=True)
class Fitting:
    """A star that a sighting's readings would fit, and how far off it is then."""

    name: str
    key: str
    azimuth_deg: float
    altitude_deg: float
    off_deg: float
    chi2: float
    score: float  # the lower, the likelier


def fitting_stars(
    alignment: Alignment, sighting: Sighting, stars: BrightStars, most: int = 3
) -> tuple[Fitting, ...]:
    """Give the stars that a sighting's two readings fit by an alignment without it.

    The likeliest first: chi² of the distance in the sky against the error of the alignment and
    of the reading, and brighter stars before fainter ones (about ``e`` times per magnitude, which
    is how star counts grow; common practice, no source).
    """
    if sighting.azimuth_reading_deg is None or sighting.altitude_reading_deg is None:
        return ()
    away, chi2 = _distances(alignment, sighting, stars)
    itself = _away_from(sighting, stars) < _SAME_DEG
    candidates = (chi2 < FITS_CHI2) & (stars.altitude_deg > 0.0) & ~itself
    score = chi2 + _BRIGHTER_CHI2 * stars.magnitude
    order = [int(i) for i in np.argsort(score) if candidates[i]][:most]
    return tuple(
        Fitting(
            stars.names[i],
            stars.keys[i],
            float(stars.azimuth_deg[i]),
            float(stars.altitude_deg[i]),
            float(away[i]),
            float(chi2[i]),
            float(score[i]),
        )
        for i in order
    )


def _distances(
    alignment: Alignment, sighting: Sighting, stars: BrightStars
) -> tuple[FloatArray, FloatArray]:
    """Give how far each star is from where the readings point, in degrees and as chi²."""
    mount = alignment.mount
    azimuth = np.radians([angle_of(mount.azimuth, sighting.azimuth_reading_deg or 0.0)])
    altitude = np.radians([angle_of(mount.altitude, sighting.altitude_reading_deg or 0.0)])
    pointed = to_sky(
        alignment.parameters_rad, azimuth, altitude, level=mount.altitude.level_on_tube
    )
    fitted, setting = sky_covariances(
        mount, alignment.parameters_rad, alignment.covariance_rad2, azimuth, altitude
    )
    covariance = fitted[0] + setting[0] + np.eye(2) * mount.centring_sigma_deg**2
    if sighting.sigma_deg is not None:
        covariance = fitted[0] + np.eye(2) * sighting.sigma_deg**2
    offsets = _tangent_offsets_deg(pointed[0], stars)
    away = np.hypot(offsets[:, 0], offsets[:, 1])
    chi2 = np.einsum("ni,ij,nj->n", offsets, np.linalg.inv(covariance), offsets)
    return away, np.asarray(chi2)


def _tangent_offsets_deg(pointed: FloatArray, stars: BrightStars) -> FloatArray:
    """Give (n, 2) angles across and upwards from a direction to each star, true in length."""
    azimuth, _altitude = directions_of(pointed)
    vectors = vectors_of(np.radians(stars.azimuth_deg), np.radians(stars.altitude_deg))
    across = np.array([-np.sin(azimuth), np.cos(azimuth), 0.0])
    upwards = np.cross(pointed, across)  # (north, east, up) is left-handed
    flat = np.stack([vectors @ across, vectors @ upwards], axis=-1)
    size = np.linalg.norm(flat, axis=-1)
    angle = np.degrees(np.arctan2(size, vectors @ pointed))
    return np.asarray(flat * (angle / np.maximum(size, 1e-12))[:, None])


def _away_from(sighting: Sighting, stars: BrightStars) -> FloatArray:
    """Give how far each star is from the one that was meant."""
    meant = vectors_of(
        np.radians(np.array(sighting.azimuth_deg)), np.radians(np.array(sighting.altitude_deg))
    )
    offsets = _tangent_offsets_deg(meant, stars)
    return np.asarray(np.hypot(offsets[:, 0], offsets[:, 1]))
