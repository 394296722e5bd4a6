"""How far sightings are from what the model expects, and how that moves with its parameters."""

from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.mount.model import PARAMETERS, to_dials
from companion.mount.observations import Observations

STEP_RAD: Final = 1e-5  # of the central differences: truncation and rounding are both about 1e-11
_STEPS = np.concatenate([np.zeros((1, len(PARAMETERS))), np.eye(len(PARAMETERS))]) * STEP_RAD
_PROBES = np.concatenate([_STEPS, -_STEPS[1:]])


def offsets(seen: Observations, parameters: FloatArray) -> FloatArray:
    """Give what is expected less what was read (2n,), azimuths first, then altitudes, in radians.

    Not-a-number where nothing was read.
    """
    azimuth, altitude = to_dials(parameters, seen.vectors, level=seen.level)
    return np.concatenate([_half_turn(azimuth - seen.azimuth), altitude - seen.altitude])


def offsets_and_slopes(seen: Observations, parameters: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Give the ``offsets`` and their derivatives (2n, 7).

    Central differences, all of them in one vectorised call of the model.
    """
    azimuth, altitude = to_dials(parameters + _PROBES, seen.vectors, level=seen.level)
    off = np.concatenate([_half_turn(azimuth[0] - seen.azimuth), altitude[0] - seen.altitude])
    count = len(PARAMETERS)
    turned = _half_turn(azimuth[1 : count + 1] - azimuth[count + 1 :])
    risen = altitude[1 : count + 1] - altitude[count + 1 :]
    return off, np.concatenate([turned, risen], axis=1).T / (2.0 * STEP_RAD)


def misfit(seen: Observations, parameters: FloatArray) -> FloatArray:
    """Give the misfit (2n,) in units of sigma, nothing where nothing was read."""
    sigma = np.concatenate([seen.sigma_azimuth, seen.sigma_altitude])
    return np.asarray(np.nan_to_num(offsets(seen, parameters) / sigma))


def misfit_and_jacobian(
    seen: Observations, parameters: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Give the misfit (2n,) in units of sigma and its derivatives (2n, 7), per radian."""
    off, slopes = offsets_and_slopes(seen, parameters)
    sigma = np.concatenate([seen.sigma_azimuth, seen.sigma_altitude])
    return np.nan_to_num(off / sigma), slopes / sigma[:, None]


def _half_turn(angle: FloatArray) -> FloatArray:
    """Bring angles in radians by whole turns to between -π and π."""
    return np.asarray((angle + np.pi) % (2.0 * np.pi) - np.pi)
