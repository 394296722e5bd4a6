"""What is held of a mount after its sightings: every case with its weight, mean and covariance."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from companion.arrays import FloatArray, RowArray
from companion.mount.observations import Observations
from companion.mount.priors import Cases
from companion.mount.slopes import offsets_and_slopes

_LEFT_OUT: Final = 1e-3  # probability of all the cases together that are dropped


@dataclass(frozen=True, slots=True, eq=False)
class Posterior:
    """k cases, the likeliest first; in radians.

    ``weights`` (k,) add up to one; ``means`` (k, 7) and ``covariances`` (k, 7, 7) are those of the
    parameters, ``extra`` (k, 2) the errors of the readings beyond what is known of the dials,
    ``costs`` (k,) the least sums of squared misfits, priors included. ``log_evidence`` is the
    natural logarithm of the probability density of all readings, in degrees, before anything but
    the priors was known: it is what explanations are compared by. ``readings`` counts them.
    """

    weights: FloatArray
    means: FloatArray
    covariances: FloatArray
    extra: FloatArray
    costs: FloatArray
    log_evidence: float
    readings: int

    @property
    def tail(self) -> float:
        """Give the probability that honest readings fit worse.

        The least cost of a fit with Gaussian priors is distributed as chi² with as many degrees of
        freedom as there are readings; its tail by Wilson & Hilferty (1931, PNAS 17, 684).
        """
        if not self.readings:
            return 1.0
        ninth = 2.0 / (9.0 * self.readings)
        cube_root = (float(self.costs[0]) / self.readings) ** (1.0 / 3.0)
        return 0.5 * math.erfc((cube_root - 1.0 + ninth) / (2.0 * ninth) ** 0.5)

    @property
    def mean(self) -> FloatArray:
        """Give the mean (7,) over all cases."""
        return np.asarray(self.weights @ self.means)

    @property
    def covariance(self) -> FloatArray:
        """Give the covariance (7, 7) over all cases."""
        apart = self.means - self.mean
        spread = self.covariances + apart[:, :, None] * apart[:, None, :]
        return np.asarray(np.einsum("k,kij->ij", self.weights, spread))

    @property
    def extra_variance(self) -> FloatArray:
        """Give the variance (2,) of azimuth and altitude readings beyond what is known."""
        return np.asarray(self.weights @ self.extra**2)


def posterior_of(
    seen: Observations, cases: Cases, centre: FloatArray, at: FloatArray
) -> tuple[Posterior, int]:
    """Weigh the cases by what was seen; the model is taken as linear about a point.

    The evidence of each case is that of a linear model with Gaussian errors (MacKay 1992, *Neural
    Computation* 4, 415): a case that allows for more is the less probable for it, unless the
    readings ask for it.

    Parameters
    ----------
    seen : Observations
        With the errors that are known of.
    cases : Cases
        Before anything was seen.
    centre : (7,) array
        Mean of the prior, radians.
    at : (7,) array
        Parameters near the best ones, radians.

    Returns
    -------
    Posterior, int
        And which of the cases is the likeliest.
    """
    off, slopes = offsets_and_slopes(seen, at)
    sigma = _sigmas(seen, cases.extra)
    read = np.isfinite(sigma[0])
    off, slopes, sigma = off[read], slopes[read], sigma[:, read]
    held = (at - centre) / cases.sigmas
    unit = np.broadcast_to(np.eye(len(at)), (len(held), len(at), len(at)))
    scaled = slopes * cases.sigmas[:, None, :] / sigma[:, :, None]
    orthogonal, triangle = np.linalg.qr(np.concatenate([scaled, unit], axis=1))
    misfit = np.concatenate([off / sigma, held], axis=1)
    wanted = (np.swapaxes(orthogonal, -1, -2) @ misfit[:, :, None])[:, :, 0]
    root = cases.sigmas[:, :, None] * np.linalg.inv(triangle)
    costs = np.maximum(np.sum(misfit**2, axis=1) - np.sum(wanted**2, axis=1), 0.0)
    occam = np.sum(np.log(np.abs(np.diagonal(triangle, axis1=1, axis2=2))), axis=1)
    spread = np.sum(np.log(np.degrees(sigma)), axis=1) + 0.5 * np.log(2.0 * np.pi) * read.sum()
    logs = np.log(cases.weights) - 0.5 * costs - occam - spread
    total = float(np.logaddexp.reduce(logs))
    means = at - (root @ wanted[:, :, None])[:, :, 0]
    kept = _worth_keeping(np.exp(logs - total))
    weights = np.exp(logs[kept] - total)
    return Posterior(
        weights / weights.sum(),
        means[kept],
        root[kept] @ np.swapaxes(root[kept], -1, -2),
        cases.extra[kept],
        costs[kept],
        total,
        int(read.sum()),
    ), int(kept[0])


def _sigmas(seen: Observations, extra: FloatArray) -> FloatArray:
    """Give the errors (k, 2n) of azimuth readings, then of altitude readings, in each case."""
    known = np.stack([seen.sigma_azimuth, seen.sigma_altitude])
    more = np.where(seen.by_dial, extra[:, :, None], 0.0)
    return np.asarray(np.hypot(known, more).reshape(len(extra), -1))


def _worth_keeping(weights: FloatArray) -> RowArray:
    """Give the cases, the likeliest first, that together are as good as all."""
    order = np.argsort(-weights, kind="stable")
    enough = int(np.searchsorted(np.cumsum(weights[order]), 1.0 - _LEFT_OUT)) + 1
    return order[:enough]
