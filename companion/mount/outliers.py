"""Sightings that the others contradict: each is compared with a fit that never saw it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.mount.alignment import Alignment
from companion.mount.fit import fit
from companion.mount.observations import observations_of
from companion.mount.predict import expected
from companion.mount.records import Mount, Sighting
from companion.mount.slopes import misfit_and_jacobian

QUESTIONED: Final = 1e-3  # one honest sighting in a thousand is as far off
_HONEST: Final = 0.01  # one honest sighting in a hundred is farther off
_LEAST_FREE: Final = 1e-6  # of a reading that alone tells a parameter


@dataclass(frozen=True, slots=True, eq=False)
class Outlier:
    """A sighting as the others see it.

    ``tail`` is the probability that an honest sighting is as far off, ``without`` the alignment
    that never saw it, and ``off_deg`` the angle in the sky between them. ``compared`` is the
    sighting with those of its readings that the others can say anything about. ``exchanged`` says
    that an honest sighting would have its two readings the other way round.
    """

    sighting: Sighting
    compared: Sighting
    tail: float
    off_deg: float
    without: Alignment
    exchanged: bool = False

    @property
    def questioned(self) -> bool:
        """Tell whether one honest sighting in a thousand would be as far off."""
        return self.tail < QUESTIONED

    @property
    def readings(self) -> int:
        """Count the readings that were compared."""
        both = (self.compared.azimuth_reading_deg, self.compared.altitude_reading_deg)
        return sum(one is not None for one in both)


def leave_one_out(
    mount: Mount, sightings: Sequence[Sighting], most: int | None = None
) -> list[Outlier]:
    """Compare sightings in use with a fit to all the others.

    Parameters
    ----------
    mount : Mount
        With its dials.
    sightings : sequence of Sighting
        Those set aside are passed over. One with an azimuth reading is left uncompared in azimuth
        while no other has one: nothing is known of the azimuth zero then.
    most : int, optional
        How many are compared: those that agree least with one common fit. All if not given.
    """
    used = [one for one in sightings if not one.set_aside]
    chosen = list(range(len(used)))
    if most is not None and len(used) > most:
        agreeing = log_densities_without(fit(mount, used))
        chosen = sorted(np.argsort(agreeing, kind="stable")[:most].tolist())
    found = []
    for i in chosen:
        one, others = used[i], used[:i] + used[i + 1 :]
        known = any(other.azimuth_reading_deg is not None for other in others)
        compared = one if known else replace(one, azimuth_reading_deg=None)
        if compared.azimuth_reading_deg is None and compared.altitude_reading_deg is None:
            continue
        found.append(_compare(fit(mount, others), compared, one))
    return found


def log_densities_without(alignment: Alignment) -> FloatArray:
    """Give how probable each sighting in use is by the others, without fitting them anew.

    Exact for a linear model: leaving a reading out divides its residual by the share of it that
    the fit left free (Cook & Weisberg 1982, *Residuals and Influence in Regression*, ch. 2). Of
    several cases the harmonic mean of the densities counts.

    Returns
    -------
    (n,) array
        Natural logarithms of the densities of the readings, per radian.
    """
    seen, posterior = observations_of(alignment.mount, alignment.used), alignment.posterior
    count = len(alignment.used)
    logs = np.zeros((len(posterior.weights), count))
    for case, mean in enumerate(posterior.means):
        noise = seen.with_extra(posterior.extra[case])
        misfit, slopes = misfit_and_jacobian(noise, mean)
        pairs = np.stack([slopes[:count], slopes[count:]], axis=1)
        off = np.stack([misfit[:count], misfit[count:]], axis=1)
        free = np.eye(2) - pairs @ posterior.covariances[case] @ np.swapaxes(pairs, -1, -2)
        size = np.maximum(np.linalg.det(free), _LEAST_FREE)
        chi2 = np.einsum("ni,nij,nj->n", off, np.linalg.pinv(free, _LEAST_FREE), off)
        sigma = np.stack([noise.sigma_azimuth, noise.sigma_altitude])
        spread = np.sum(np.log(np.where(np.isfinite(sigma), sigma, 1.0)), axis=0)
        logs[case] = 0.5 * np.log(size) - 0.5 * chi2 - spread
    return np.asarray(-np.logaddexp.reduce(np.log(posterior.weights)[:, None] - logs, axis=0))


def _compare(without: Alignment, compared: Sighting, original: Sighting) -> Outlier:
    seen = expected(without, observations_of(without.mount, [compared]))
    off = np.degrees(seen.off_rad[0])
    flat = np.cos(np.radians(original.altitude_deg))
    return Outlier(
        original,
        compared,
        float(seen.tail[0]),
        float(np.hypot(off[0] * flat, off[1])),
        without,
        seen.tail[0] < QUESTIONED and _fits_exchanged(without, compared),
    )


def _fits_exchanged(without: Alignment, one: Sighting) -> bool:
    """Tell whether the readings fit the other way round; not where only one is compared."""
    if one.azimuth_reading_deg is None or one.altitude_reading_deg is None:
        return False
    other = replace(
        one,
        azimuth_reading_deg=one.altitude_reading_deg,
        altitude_reading_deg=one.azimuth_reading_deg,
    )
    tail = expected(without, observations_of(without.mount, [other])).tail[0]
    return bool(tail > _HONEST)
