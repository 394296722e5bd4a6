"""Two sightings alone: the angle between two stars is known, whatever the mount does."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.mount.model import PARAMETERS, to_sky, vectors_of
from companion.mount.observations import observations_of
from companion.mount.priors import cases_of, overall_sigmas_deg
from companion.mount.records import Mount, Sighting

_STEP_RAD = 1e-5
_LIMIT_SIGMAS: Final = 3.29  # one honest pair in a thousand lies beyond


@dataclass(frozen=True, slots=True)
class PairAngle:
    """The angle between two stars as it is and as the dials have it."""

    known_deg: float
    measured_deg: float
    sigma_deg: float

    @property
    def questioned(self) -> bool:
        """Tell whether one honest pair in a thousand would be as far off."""
        return abs(self.measured_deg - self.known_deg) > _LIMIT_SIGMAS * self.sigma_deg


def pair_angle(mount: Mount, first: Sighting, second: Sighting) -> PairAngle | None:
    """Compare the angle between two stars with that between their readings.

    Neither the azimuth zero nor a leaning base changes it; what an altitude zero, cone, skew and
    sag may do by their priors is part of the sigma. None where a reading is missing.
    """
    both = (first, second)
    if any(s.azimuth_reading_deg is None or s.altitude_reading_deg is None for s in both):
        return None
    cases = cases_of(mount)
    extra = np.sqrt(cases.weights @ cases.extra**2)
    seen = observations_of(mount, both).with_extra(extra)
    spread = np.stack([seen.azimuth, seen.altitude])
    count = len(PARAMETERS)
    probes = np.concatenate([np.eye(count), -np.eye(count)]) * _STEP_RAD
    swung = _angles_between(mount, probes, spread)
    by_parameter = (swung[:count] - swung[count:]) / (2.0 * _STEP_RAD)
    variance = float(np.sum((by_parameter * np.radians(overall_sigmas_deg(cases))) ** 2))
    for which, sigmas in enumerate((seen.sigma_azimuth, seen.sigma_altitude)):
        for star in (0, 1):
            step = np.zeros_like(spread)
            step[which, star] = _STEP_RAD
            nothing = np.zeros(count)
            slope = (
                _angles_between(mount, nothing, spread + step)
                - _angles_between(mount, nothing, spread - step)
            ) / (2.0 * _STEP_RAD)
            variance += float(slope * sigmas[star]) ** 2
    return PairAngle(
        float(np.degrees(_between(seen.vectors))),
        float(np.degrees(_angles_between(mount, np.zeros(count), spread))),
        float(np.degrees(variance**0.5)),
    )


def widest_deg(sightings: Sequence[Sighting]) -> float:
    """Give the largest angle between any two of the sightings' directions; 0 for one or none."""
    if len(sightings) < 2:
        return 0.0
    vectors = vectors_of(
        np.radians([one.azimuth_deg for one in sightings]),
        np.radians([one.altitude_deg for one in sightings]),
    )
    return float(np.degrees(np.arccos(np.clip(vectors @ vectors.T, -1.0, 1.0).min())))


def _angles_between(mount: Mount, parameters: FloatArray, spread: FloatArray) -> FloatArray:
    """Give the angle between two settings of the dials, (azimuths, altitudes)."""
    level = mount.altitude.level_on_tube
    return _between(to_sky(parameters, spread[0], spread[1], level=level))


def _between(vectors: FloatArray) -> FloatArray:
    """Give the angle between two unit vectors (..., 2, 3), exact for small and large ones."""
    first, second = vectors[..., 0, :], vectors[..., 1, :]
    cross = np.linalg.norm(np.cross(first, second), axis=-1)
    return np.asarray(np.arctan2(cross, np.sum(first * second, axis=-1)))
