"""An aim: what the dials must show, and where the target then is with what probability."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.mount.model import PARAMETERS, directions_of, to_sky
from companion.mount.observations import reading_sigma_deg
from companion.mount.posterior import Posterior
from companion.mount.radius import probability_within
from companion.mount.records import Mount

NO_AIM_DEG: Final = 60.0  # a target that may be farther away is not aimed at
_STEP_RAD = 1e-5


@dataclass(frozen=True, slots=True, eq=False)
class Aim:
    """The readings that bring a target to the centre, and how far it may be from there.

    ``weights`` (k,) and ``covariances_deg2`` (k, 2, 2) tell the angle in the sky between the
    target and the centre of the field once the dials are set as told, across (towards greater
    azimuths) and upwards: the uncertainty of the fit, and that of setting both dials, with their
    steps, their play and what the sightings told of their other errors. ``radius95_deg`` holds
    the target with 95% probability. It is an angle in the sky, not in readings, so it stays
    small near the zenith, where azimuth readings run. ``fit_radius95_deg`` is the same of the
    fit alone, for dials set without any error. ``gap_deg`` is how near the mount can come at
    all: above zero only where cone and skew keep the tube from the top of the base; it is part of
    the radius.
    """

    azimuth_reading_deg: float
    altitude_reading_deg: float
    radius95_deg: float
    fit_radius95_deg: float
    weights: FloatArray
    covariances_deg2: FloatArray
    gap_deg: float = 0.0

    @property
    def known(self) -> bool:
        """Tell whether the readings are worth setting at all."""
        return self.radius95_deg <= NO_AIM_DEG

    def probability_within(self, field_radius_deg: float) -> float:
        """Give the probability that the target is in a round field of this radius (half width)."""
        radius = field_radius_deg - self.gap_deg
        return float(probability_within(self.covariances_deg2, radius, self.weights))


def sky_covariances(
    mount: Mount, posterior: Posterior, azimuth: FloatArray, altitude: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Give the covariances in square degrees of where set dials point in the sky.

    Parameters
    ----------
    mount : Mount
        For the steps and the play of its dials.
    posterior : Posterior
        Of the fit, with k cases.
    azimuth, altitude : (n,) arrays
        Angles of the dials in radians.

    Returns
    -------
    fit, setting : (n, k, 2, 2) arrays
        The uncertainty of the fit in each case, about the mean of all, and that of setting both
        dials.
    """
    parameters = posterior.mean
    by_parameter = sky_slopes(mount, parameters, azimuth, altitude)[:, None]
    fitted = by_parameter @ posterior.covariances @ np.swapaxes(by_parameter, -1, -2)
    apart = by_parameter @ (posterior.means - parameters)[:, :, None]
    fitted += apart @ np.swapaxes(apart, -1, -2)
    known = np.radians([reading_sigma_deg(mount.azimuth), reading_sigma_deg(mount.altitude)])
    variances = known**2 + posterior.extra**2
    by_dial = _dial_slopes(mount, parameters, azimuth, altitude)[:, None]
    setting = (by_dial * variances[:, None, :]) @ np.swapaxes(by_dial, -1, -2)
    return np.degrees(np.degrees(fitted)), np.degrees(np.degrees(setting))


def sky_slopes(
    mount: Mount, parameters_rad: FloatArray, azimuth: FloatArray, altitude: FloatArray
) -> FloatArray:
    """Give how the direction in the sky moves with the parameters while the dials stand still.

    Returns (n, 2, 7): across and upwards, by each parameter.
    """
    count = len(PARAMETERS)
    steps = np.eye(count) * _STEP_RAD
    probes = parameters_rad + np.concatenate([steps, -steps, np.zeros((1, count))])
    pointed = to_sky(probes, azimuth, altitude, level=mount.altitude.level_on_tube)
    moved = (pointed[:count] - pointed[count : 2 * count]) / (2.0 * _STEP_RAD)
    return _in_tangent(moved, pointed[-1])


def _dial_slopes(
    mount: Mount, parameters_rad: FloatArray, azimuth: FloatArray, altitude: FloatArray
) -> FloatArray:
    """Give how the direction in the sky moves with the two dials, (n, 2, 2)."""
    level = mount.altitude.level_on_tube
    turn = np.array([[0.0], [_STEP_RAD], [-_STEP_RAD], [0.0], [0.0]])
    rise = np.array([[0.0], [0.0], [0.0], [_STEP_RAD], [-_STEP_RAD]])
    pointed = to_sky(parameters_rad, azimuth + turn, altitude + rise, level=level)
    moved = np.stack([pointed[1] - pointed[2], pointed[3] - pointed[4]]) / (2.0 * _STEP_RAD)
    return _in_tangent(moved, pointed[0])


def _in_tangent(moved: FloatArray, pointed: FloatArray) -> FloatArray:
    """Take displacements (k, n, 3) at directions (n, 3) apart into across and upwards."""
    azimuth, altitude = directions_of(pointed)
    zero = np.zeros_like(azimuth)
    across = np.stack([-np.sin(azimuth), np.cos(azimuth), zero], axis=-1)
    upwards = np.stack(
        [
            -np.sin(altitude) * np.cos(azimuth),
            -np.sin(altitude) * np.sin(azimuth),
            np.cos(altitude),
        ],
        axis=-1,
    )
    parts = [np.einsum("kni,ni->nk", moved, axis) for axis in (across, upwards)]
    return np.stack(parts, axis=1)
