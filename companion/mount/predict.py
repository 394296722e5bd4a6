"""How probable readings are by what an alignment expects of them."""

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from companion.arrays import FloatArray
from companion.mount.alignment import Alignment
from companion.mount.observations import Observations
from companion.mount.slopes import offsets_and_slopes

_erfc = np.vectorize(math.erfc, otypes=[float])


@dataclass(frozen=True, slots=True, eq=False)
class Expected:
    """n pairs of readings, each as an alignment that never saw it expects it.

    ``off_rad`` (n, 2) is what was expected less what was read, azimuth and altitude, nothing where
    nothing was read. ``log_density`` (n,) is the natural logarithm of the probability density of
    the readings, in degrees; ``tail`` (n,) the probability that honest readings lie as far off.
    """

    off_rad: FloatArray
    log_density: FloatArray
    tail: FloatArray


def expected(alignment: Alignment, seen: Observations) -> Expected:
    """Compare readings with what an alignment expects, one by one.

    Parameters
    ----------
    alignment : Alignment
        With k cases.
    seen : Observations
        n directions with their readings, as if each were the only new one.
    """
    posterior = alignment.posterior
    off, slopes = offsets_and_slopes(seen, posterior.mean)
    count = len(seen.vectors)
    by_parameter = np.stack([slopes[:count], slopes[count:]], axis=1)  # (n, 2, 7)
    sigma = np.stack([seen.sigma_azimuth, seen.sigma_altitude], axis=1)  # (n, 2)
    read = np.isfinite(sigma)
    by_parameter = np.where(read[:, :, None], by_parameter, 0.0)
    offsets = np.where(read, np.stack([off[:count], off[count:]], axis=1), 0.0)
    apart = np.einsum("nip,kp->nki", by_parameter, posterior.means - posterior.mean)
    away = np.degrees(offsets[:, None, :] + apart)  # (n, k, 2)
    more = np.where(seen.by_dial[:, None, None], posterior.extra**2, 0.0)  # (n, k, 2)
    variances = np.degrees(np.degrees(np.where(read, sigma, 0.0)[:, None, :] ** 2 + more))
    # A reading that is missing must neither raise nor lower the density.
    variances = np.where(read[:, None, :], variances, 0.5 / np.pi)
    spread = (
        by_parameter[:, None] @ posterior.covariances @ np.swapaxes(by_parameter, 1, 2)[:, None]
    )
    covariance = np.degrees(np.degrees(spread)) + variances[..., None] * np.eye(2)
    chi2 = np.einsum("nki,nkij,nkj->nk", away, np.linalg.inv(covariance), away)
    root = 0.5 * np.log(np.linalg.det(covariance)) + np.log(2.0 * np.pi)
    logs = np.log(posterior.weights) - 0.5 * chi2 - root
    return Expected(
        offsets,
        np.logaddexp.reduce(logs, axis=1),
        _tails(chi2, read.sum(axis=1), posterior.weights),
    )


def misread(alignment: Alignment, seen: Observations, by_deg: float) -> FloatArray:
    """Give the log densities (n,) of readings that were misread by about so many degrees."""
    wide = np.radians(by_deg)
    wrong = replace(
        seen,
        sigma_azimuth=np.hypot(seen.sigma_azimuth, wide),
        sigma_altitude=np.hypot(seen.sigma_altitude, wide),
    )
    return expected(alignment, wrong).log_density


def _tails(chi2: FloatArray, readings: NDArray[np.int_], weights: FloatArray) -> FloatArray:
    """Give the probability (n,) of larger chi² (n, k) of one reading or of two."""
    one, two = _erfc(np.sqrt(0.5 * chi2)), np.exp(-0.5 * chi2)
    return np.asarray(np.where((readings > 1)[:, None], two, one) @ weights)
