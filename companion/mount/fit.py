"""Fits a mount's parameters to its sightings: Gauss-Newton, maximum a posteriori."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from companion.mount.alignment import Alignment
from companion.mount.model import PARAMETERS, to_dials
from companion.mount.observations import Observations, observations_of
from companion.mount.priors import prior_sigmas_deg
from companion.mount.records import Mount, Sighting
from companion.mount.start import start_values

FloatArray = NDArray[np.float64]

STEP_RAD = 1e-5  # of the central differences: truncation and rounding are both about 1e-11
_MOST_ROUNDS = 20
_MOST_HALVINGS = 12
_STEPS = np.concatenate([np.zeros((1, len(PARAMETERS))), np.eye(len(PARAMETERS))]) * STEP_RAD
_PROBES = np.concatenate([_STEPS, -_STEPS[1:]])


@dataclass(frozen=True, slots=True, eq=False)
class _Point:
    """The misfit at one set of parameters, in units of sigma."""

    parameters: FloatArray
    misfit: FloatArray  # (2n,) azimuths, then altitudes
    jacobian: FloatArray  # (2n, 7)
    cost: float


@dataclass(frozen=True, slots=True, eq=False)
class _Problem:
    """What is fitted: observations against a Gaussian prior (mean, sigma in radians)."""

    seen: Observations
    mean: FloatArray
    sigma: FloatArray

    def at(self, parameters: FloatArray) -> _Point:
        misfit, jacobian = misfit_and_jacobian(self.seen, parameters)
        held = (parameters - self.mean) / self.sigma
        return _Point(parameters, misfit, jacobian, float(misfit @ misfit + held @ held))

    def factors(self, point: _Point) -> tuple[FloatArray, FloatArray]:
        """Give Q and R of the slopes, priors below them, by parameters in units of their prior.

        The square of R is the Hessian; R itself loses only half as many digits where a reading
        is a million times as sure as a prior.
        """
        whole = np.concatenate([point.jacobian * self.sigma, np.eye(len(PARAMETERS))])
        orthogonal, triangle = np.linalg.qr(whole)
        return orthogonal, triangle

    def covariance(self, point: _Point) -> FloatArray:
        _, triangle = self.factors(point)
        root = self.sigma[:, None] * np.linalg.inv(triangle)
        return np.asarray(root @ root.T)

    def better(self, point: _Point) -> _Point | None:
        """Take one Gauss-Newton step, halved until it helps; None where nothing helps."""
        orthogonal, triangle = self.factors(point)
        held = (point.parameters - self.mean) / self.sigma
        wanted = orthogonal.T @ np.concatenate([point.misfit, held])
        step = -self.sigma * np.linalg.solve(triangle, wanted)
        for _ in range(_MOST_HALVINGS):
            found = self.at(point.parameters + step)
            if found.cost < point.cost:
                return found
            step = step / 2.0
        return None


def fit(mount: Mount, sightings: Sequence[Sighting]) -> Alignment:
    """Fit a mount to its sightings; those set aside are only compared with the result.

    Parameters
    ----------
    mount : Mount
        Its dials say what the readings mean, and how finely they are read.
    sightings : sequence of Sighting
        From none up. Without any azimuth reading the azimuth zero stays unknown and the radius of
        an aim is that of the whole sky. Compass and levels enter as sightings with one reading
        and a sigma of their own.

    Returns
    -------
    Alignment
        With the full posterior covariance. Effects that the sightings cannot tell apart stay at
        their priors (``priors.prior_sigmas_deg``) and are named in ``undetermined``.
    """
    used = [one for one in sightings if not one.set_aside]
    seen = observations_of(mount, used)
    prior_deg = prior_sigmas_deg(mount)
    point, problem = _best(seen, np.radians(prior_deg))
    return Alignment(
        mount=mount,
        sightings=tuple(sightings),
        parameters_rad=point.parameters,
        covariance_rad2=problem.covariance(point),
        prior_sigmas_deg=prior_deg,
        cost=point.cost,
    )


def least_cost(seen: Observations, prior_sigmas_rad: FloatArray) -> float:
    """Give the cost of the best fit alone: what is left of misfits and priors, in sigma²."""
    return _best(seen, prior_sigmas_rad)[0].cost


def misfit_and_jacobian(
    seen: Observations, parameters: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Give the misfit (2n,) in units of sigma and its derivatives (2n, 7), per radian.

    Central differences, all of them in one vectorised call of the model.
    """
    azimuth, altitude = to_dials(parameters + _PROBES, seen.vectors, level=seen.level)
    off = (azimuth[0] - seen.azimuth + np.pi) % (2.0 * np.pi) - np.pi
    misfit = np.concatenate(
        [off / seen.sigma_azimuth, (altitude[0] - seen.altitude) / seen.sigma_altitude]
    )
    count = len(PARAMETERS)
    turned = azimuth[1 : count + 1] - azimuth[count + 1 :]
    turned = (turned + np.pi) % (2.0 * np.pi) - np.pi
    risen = altitude[1 : count + 1] - altitude[count + 1 :]
    both = np.concatenate([turned / seen.sigma_azimuth, risen / seen.sigma_altitude], axis=1)
    return np.nan_to_num(misfit), both.T / (2.0 * STEP_RAD)


def _best(seen: Observations, sigma: FloatArray) -> tuple[_Point, _Problem]:
    """Run from each start and keep the lowest cost."""
    found = [_run(seen, start, sigma) for start in start_values(seen)]
    return min(found, key=lambda pair: pair[0].cost)


def _run(seen: Observations, start: FloatArray, sigma: FloatArray) -> tuple[_Point, _Problem]:
    # The azimuth zero is free: a prior about the start itself pulls it nowhere.
    mean = np.zeros(len(PARAMETERS))
    mean[0] = start[0]
    problem = _Problem(seen, mean, sigma)
    point = problem.at(start)
    for _ in range(_MOST_ROUNDS):
        found = problem.better(point)
        if found is None:
            break
        gained = point.cost - found.cost
        point = found
        if gained < 1e-12 * (1.0 + found.cost):
            break
    return point, problem
