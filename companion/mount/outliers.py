"""Sightings that the others contradict: each is compared with a fit that never saw it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from companion.mount.alignment import Alignment
from companion.mount.fit import fit, misfit_and_jacobian
from companion.mount.observations import observations_of
from companion.mount.records import Mount, Sighting

FloatArray = NDArray[np.float64]

# Chi² that one honest sighting in a thousand exceeds, by its number of readings (1 or 2).
LIMITS: Final = {1: 10.83, 2: 13.82}


@dataclass(frozen=True, slots=True, eq=False)
class Outlier:
    """A sighting as the others see it.

    ``chi2`` is its squared misfit over the variance of the prediction and of its readings,
    ``without`` the alignment that never saw it, and ``off_deg`` the angle in the sky between
    them.
    """

    sighting: Sighting
    chi2: float
    readings: int
    off_deg: float
    without: Alignment

    @property
    def questioned(self) -> bool:
        """Tell whether one honest sighting in a thousand would be as far off."""
        return self.chi2 > LIMITS[self.readings]


def leave_one_out(mount: Mount, sightings: Sequence[Sighting]) -> list[Outlier]:
    """Compare every sighting in use with a fit to all the others.

    A sighting with an azimuth reading is left uncompared while no other has one: nothing is
    known of the azimuth zero then.
    """
    used = [one for one in sightings if not one.set_aside]
    found = []
    for i, one in enumerate(used):
        others = used[:i] + used[i + 1 :]
        known = any(other.azimuth_reading_deg is not None for other in others)
        compared = one if known else replace(one, azimuth_reading_deg=None)
        if compared.azimuth_reading_deg is None and compared.altitude_reading_deg is None:
            continue
        without = fit(mount, others)
        found.append(_compare(without, compared, one))
    return found


def _compare(without: Alignment, compared: Sighting, original: Sighting) -> Outlier:
    """Give the misfit of a sighting by its whole covariance, that of the prediction included."""
    seen = observations_of(without.mount, [compared])
    misfit, jacobian = misfit_and_jacobian(seen, without.parameters_rad)
    sigmas = np.concatenate([seen.sigma_azimuth, seen.sigma_altitude])
    read = np.isfinite(sigmas)
    slopes = jacobian[read]
    covariance = slopes @ without.covariance_rad2 @ slopes.T + np.eye(int(read.sum()))
    chi2 = float(misfit[read] @ np.linalg.solve(covariance, misfit[read]))
    off = np.degrees(np.where(read, misfit * np.where(read, sigmas, 0.0), 0.0))
    flat = np.cos(np.radians(original.altitude_deg))
    return Outlier(original, chi2, int(read.sum()), float(np.hypot(off[0] * flat, off[1])), without)
