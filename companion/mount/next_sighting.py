"""The bright star whose sighting would help the queue most, and by how much."""

from collections.abc import Generator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Final

import numpy as np

from companion.arrays import FloatArray, RowArray
from companion.mount.aim import sky_covariances, sky_slopes
from companion.mount.alignment import Alignment
from companion.mount.fit import fit
from companion.mount.model import to_dials, vectors_of
from companion.mount.observations import expected_observations
from companion.mount.radius import radius_of
from companion.mount.records import Sighting
from companion.mount.slopes import misfit_and_jacobian
from companion.mount.stars import BrightStars
from companion.sky import angle_text

LOWEST_DEG: Final = 15.0  # below it the air shakes and refraction is uncertain
HIGHEST_DEG: Final = 75.0  # above it azimuth readings say little (both common practice, no source)
_WORTH_DEG: Final = 0.01
_NO_AIM_DEG: Final = 90.0
_NEARLY_FIRST: Final = 2.0  # the first star must be found without numbers: bright before all
_LOOKED_AT: Final = 3  # targets, the least sure ones, that a radius is worked out for
_NEARLY: Final = 1.1  # of stars that help as much to a tenth, the brightest is found soonest


@dataclass(frozen=True, slots=True)
class NextSighting:
    """A star to sight, with the largest 95% radius over the queue now and afterwards."""

    index: int  # in the stars that were offered
    name: str
    key: str
    azimuth_deg: float
    altitude_deg: float
    azimuth_reading_deg: float
    altitude_reading_deg: float
    radius_now_deg: float
    radius_then_deg: float
    words: str


def next_sighting(
    alignment: Alignment,
    stars: BrightStars,
    queue_azimuths_deg: Sequence[float],
    queue_altitudes_deg: Sequence[float],
) -> Generator[None, None, NextSighting | None]:
    """Choose the star that most reduces the largest predicted error over the queue.

    Of stars that help nearly as much the brightest is chosen. The search pauses between steps of
    some milliseconds, for whoever has a beat to keep.

    Parameters
    ----------
    alignment : Alignment
        As it is now.
    stars : BrightStars
        To choose from; only those from 15° to 75° high and within the mount's reach are taken.
    queue_azimuths_deg, queue_altitudes_deg : sequences of float
        Where the targets will be aimed at, refracted.

    Returns
    -------
    NextSighting or None
        None without a target or a star, or when no star would help by a hundredth of a degree.
    """
    low = max(LOWEST_DEG, alignment.mount.reach_low_deg)
    high = min(HIGHEST_DEG, alignment.mount.reach_high_deg)
    offered = np.flatnonzero((stars.altitude_deg >= low) & (stars.altitude_deg <= high))
    if not len(queue_azimuths_deg) or not len(offered):
        return None
    queue = _Queue.of(alignment, queue_azimuths_deg, queue_altitudes_deg)
    now = queue.largest_deg(alignment.covariance_rad2)
    then = queue.largest_deg(_covariances_with(alignment, stars, offered))
    nearly = _NEARLY_FIRST if float(now) > _NO_AIM_DEG else _NEARLY
    helps = np.flatnonzero(then <= then.min() * nearly)
    best = int(helps[np.argmin(stars.magnitude[offered][helps])])
    if float(now - then[best]) < _WORTH_DEG:
        return None
    yield
    return (yield from _chosen(alignment, stars, int(offered[best]), queue))


@dataclass(frozen=True, slots=True, eq=False)
class _Queue:
    """Where t targets will be aimed at, and how that moves with the parameters (t, 2, 7)."""

    azimuths_deg: FloatArray
    altitudes_deg: FloatArray
    slopes: FloatArray
    setting: FloatArray  # (t, 2, 2) in square degrees

    @classmethod
    def of(
        cls, alignment: Alignment, azimuths_deg: Sequence[float], altitudes_deg: Sequence[float]
    ) -> "_Queue":
        mount, posterior = alignment.mount, alignment.posterior
        vectors = vectors_of(np.radians(azimuths_deg), np.radians(altitudes_deg))
        level = mount.altitude.level_on_tube
        turned, raised = to_dials(alignment.parameters_rad, vectors, level=level)
        _, setting = sky_covariances(mount, posterior, turned, raised)
        return cls(
            np.array(azimuths_deg, float),
            np.array(altitudes_deg, float),
            sky_slopes(mount, alignment.parameters_rad, turned, raised),
            np.einsum("k,tkij->tij", posterior.weights, setting),
        )

    def largest_deg(self, covariances: FloatArray) -> FloatArray:
        """Give the largest 95% radius over the targets, for covariances (..., 7, 7).

        All cases are taken together as one Gaussian: good enough to choose a star by.
        """
        return np.asarray(np.minimum(self._radii_deg(covariances), 180.0).max(axis=-1))

    def stated_deg(self, alignment: Alignment) -> float:
        """Give the largest radius that aims state, over the targets that are least sure."""
        worst = np.argsort(-self._radii_deg(alignment.covariance_rad2), kind="stable")[:_LOOKED_AT]
        places = self.azimuths_deg[worst].tolist(), self.altitudes_deg[worst].tolist()
        return max(aim.radius95_deg for aim in alignment.aims(*places))

    def _radii_deg(self, covariances: FloatArray) -> FloatArray:
        fitted = self.slopes @ covariances[..., None, :, :] @ np.swapaxes(self.slopes, -1, -2)
        return radius_of(np.degrees(np.degrees(fitted)) + self.setting)


def _covariances_with(alignment: Alignment, stars: BrightStars, offered: RowArray) -> FloatArray:
    """Give the covariances (k, 7, 7) once each of the offered stars had been sighted."""
    seen = expected_observations(
        alignment.mount, stars.azimuth_deg[offered], stars.altitude_deg[offered]
    ).with_extra(np.sqrt(alignment.posterior.extra_variance))
    _, slopes = misfit_and_jacobian(seen, alignment.parameters_rad)
    count = len(offered)
    pairs = np.stack([slopes[:count], slopes[count:]], axis=1)  # (k, 2, 7), in units of sigma
    before = alignment.covariance_rad2
    innovation = pairs @ before @ np.swapaxes(pairs, -1, -2) + np.eye(2)
    gain = before @ np.swapaxes(pairs, -1, -2) @ np.linalg.inv(innovation)
    return np.asarray(before - gain @ pairs @ before)


def _chosen(
    alignment: Alignment, stars: BrightStars, index: int, queue: _Queue
) -> Generator[None, None, NextSighting | None]:
    azimuth_deg, altitude_deg = float(stars.azimuth_deg[index]), float(stars.altitude_deg[index])
    aim = alignment.aim(azimuth_deg, altitude_deg)
    name = stars.names[index]
    sighted = Sighting(
        datetime.max.replace(tzinfo=UTC),
        name,
        stars.keys[index],
        azimuth_deg,
        altitude_deg,
        aim.azimuth_reading_deg,
        aim.altitude_reading_deg,
    )
    then = fit(alignment.mount, [*alignment.used, sighted])
    yield
    now_deg, then_deg = queue.stated_deg(alignment), queue.stated_deg(then)
    if now_deg - then_deg < _WORTH_DEG:
        return None
    if now_deg > _NO_AIM_DEG:
        words = f"Sight {name} first: without it no aim is possible."
    else:
        words = f"{name} helps most: the least certain aim in the queue would be within "
        words += f"{angle_text(then_deg)}, not {angle_text(now_deg)}."
    return NextSighting(
        index,
        name,
        stars.keys[index],
        azimuth_deg,
        altitude_deg,
        aim.azimuth_reading_deg,
        aim.altitude_reading_deg,
        now_deg,
        then_deg,
        words,
    )
