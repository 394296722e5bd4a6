"""Fits a mount's parameters to its sightings: Gauss-Newton, maximum a posteriori."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from companion.arrays import BoolArray, FloatArray
from companion.mount.alignment import Alignment, in_use
from companion.mount.model import PARAMETERS, lean, to_dials, vectors_of
from companion.mount.observations import Observations, observations_of
from companion.mount.posterior import Posterior, posterior_of
from companion.mount.priors import Cases, cases_of
from companion.mount.records import Mount, Sighting
from companion.mount.slopes import misfit, misfit_and_jacobian

_MOST_ROUNDS: Final = 12
_MOST_HALVINGS: Final = 8
_GAINS_LITTLE: Final = 1e-6  # of the cost; the posterior takes one more step from there
_MOST_CASES: Final = 3  # likeliest cases that the parameters are fitted anew for


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
        off, jacobian = misfit_and_jacobian(self.seen, parameters)
        held = (parameters - self.mean) / self.sigma
        return _Point(parameters, off, jacobian, float(off @ off + held @ held))

    def cost(self, parameters: FloatArray) -> float:
        """Give the cost alone, at a fifteenth of the work."""
        off = misfit(self.seen, parameters)
        held = (parameters - self.mean) / self.sigma
        return float(off @ off + held @ held)

    def better(self, point: _Point) -> _Point | None:
        """Take one Gauss-Newton step, halved until it helps; None where nothing helps.

        Solved by Q and R of the slopes, priors below them, by parameters in units of their prior:
        R loses only half as many digits as the Hessian, its square, where a reading is a million
        times as sure as a prior.
        """
        whole = np.concatenate([point.jacobian * self.sigma, np.eye(len(PARAMETERS))])
        orthogonal, triangle = np.linalg.qr(whole)
        held = (point.parameters - self.mean) / self.sigma
        wanted = orthogonal.T @ np.concatenate([point.misfit, held])
        step = -self.sigma * np.linalg.solve(triangle, wanted)
        for _ in range(_MOST_HALVINGS):
            if self.cost(point.parameters + step) < point.cost:
                return self.at(point.parameters + step)
            step = step / 2.0
        return None

    def run(self, start: FloatArray) -> _Point:
        """Step from a start until nothing is gained any more."""
        point = self.at(start)
        for _ in range(_MOST_ROUNDS):
            found = self.better(point)
            if found is None:
                break
            gained = point.cost - found.cost
            point = found
            if gained < _GAINS_LITTLE * (100.0 + found.cost):
                break
        return point


def fit(mount: Mount, sightings: Sequence[Sighting], doubted: Sequence[Sighting] = ()) -> Alignment:
    """Fit a mount to its sightings; those set aside are only compared with the result.

    Parameters
    ----------
    mount : Mount
        Its dials say what the readings mean, and how finely they are read.
    sightings : sequence of Sighting
        From none up. Without any azimuth reading the azimuth zero stays unknown and the radius of
        an aim is that of the whole sky. Compass and levels enter as sightings with one reading
        and a sigma of their own.
    doubted : sequence of Sighting
        Those of them that something contradicts: they are left out of the fit as well.

    Returns
    -------
    Alignment
        With the posterior over all cases of ``priors.cases_of``: how well the dials read is learnt
        from the sightings. Effects that the sightings cannot tell apart stay at their priors
        and are named in ``undetermined``.
    """
    used = in_use(sightings, doubted)
    posterior = fitted(observations_of(mount, used), cases_of(mount, used))
    return Alignment(mount, tuple(sightings), posterior, tuple(doubted))


def fitted(seen: Observations, cases: Cases) -> Posterior:
    """Give the posterior of all cases, the model taken as linear about the best of the likeliest.

    Parameters
    ----------
    seen : Observations
        With the errors that are known of.
    cases : Cases
        As held before.
    """
    likeliest = int(np.argmax(cases.weights))
    point, problem = _best(seen, cases, likeliest)
    centre, at = problem.mean, point.parameters
    for _ in range(_MOST_CASES):
        posterior, found = posterior_of(seen, cases, centre, at)
        if found == likeliest:
            break
        likeliest = found
        at = _problem(seen, cases, likeliest, centre).run(posterior.means[0]).parameters
    return posterior


def least_cost(seen: Observations, cases: Cases) -> float:
    """Give the cost of the best fit of the likeliest case: misfits and priors, in sigma²."""
    return _best(seen, cases, int(np.argmax(cases.weights)))[0].cost


def _best(seen: Observations, cases: Cases, case: int) -> tuple[_Point, _Problem]:
    """Run from each start and keep the lowest cost."""
    found = []
    for start in _start_values(seen):
        problem = _problem(seen, cases, case, start)
        found.append((problem.run(start), problem))
    return min(found, key=lambda pair: pair[0].cost)


def _problem(seen: Observations, cases: Cases, case: int, start: FloatArray) -> _Problem:
    # The azimuth zero is free: a prior about the start itself pulls it nowhere.
    mean = np.zeros(len(PARAMETERS))
    mean[0] = start[0]
    return _Problem(seen.with_extra(cases.extra[case]), mean, cases.sigmas[case])


def best_rotation(
    from_vectors: FloatArray, to_vectors: FloatArray, weights: FloatArray
) -> FloatArray:
    """Give the rotation (3, 3) that brings vectors (n, 3) best onto others.

    Wahba's problem (1965, SIAM Review 7, 409), solved by singular values (Kabsch 1976, Acta
    Cryst. A32, 922): it minimises the weighted sum of squared distances, and is never a mirror
    image.
    """
    left, _, right = np.linalg.svd((to_vectors * weights[:, None]).T @ from_vectors)
    sign = np.sign(np.linalg.det(left) * np.linalg.det(right))
    return np.asarray(left @ np.diag([1.0, 1.0, sign]) @ right)


def _start_values(seen: Observations) -> list[FloatArray]:
    """Give parameters to begin from: azimuth zero alone and, from two sightings up, tilts too."""
    starts = [_offset_only(seen)]
    full = np.isfinite(seen.sigma_azimuth) & np.isfinite(seen.sigma_altitude)
    if np.count_nonzero(full) >= 2:
        starts.append(_rotation_start(seen, full))
    return starts


def _offset_only(seen: Observations) -> FloatArray:
    """Give the weighted circular mean of what the azimuth dial is off by."""
    start = np.zeros(len(PARAMETERS))
    usable = np.isfinite(seen.sigma_azimuth)
    if usable.any():
        expected, _ = to_dials(start, seen.vectors[usable], level=seen.level)
        off = expected - seen.azimuth[usable]
        weights = seen.sigma_azimuth[usable] ** -2.0
        start[0] = np.angle(np.sum(weights * np.exp(1j * off)))
    return start


def _rotation_start(seen: Observations, full: BoolArray) -> FloatArray:
    """Take a rotation apart into the lean of the vertical axis and the azimuth zero."""
    shown = vectors_of(seen.azimuth[full], seen.altitude[full])
    weights = seen.sigma_altitude[full] ** -2.0
    rotation = best_rotation(shown, seen.vectors[full], weights / weights.max())
    axis = rotation[:, 2]
    size = np.hypot(axis[0], axis[1])
    by_size = np.arctan2(size, axis[2]) / size if size > 0.0 else 0.0
    start = np.zeros(len(PARAMETERS))
    start[2:4] = by_size * axis[:2]
    upright = lean(start[2], start[3]).T @ rotation
    start[0] = np.arctan2(upright[1, 0], upright[0, 0])
    return start
