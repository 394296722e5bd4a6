"""What is held of a mount before the first sighting."""

import itertools
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.mount.records import LEVELLED, Dial, Mount, Sighting

FREE_DEG: Final = 360.0 / 12.0**0.5  # sigma of a direction of which nothing is known
ALTITUDE_ZERO_DEG: Final = 2.0
TILT_DEG: Final = 1.0
# With a spirit level: its bubble shows 0.03° (0.5 mm in a metre), but a board that is not flat by
# 1 mm in 300 mm, a bearing not square by 0.5 mm in 200 mm and legs that sink by 2 mm in 500 mm
# add up to 0.3°, and not every level is turned round to be checked (common practice, no source).
TILT_LEVELLED_DEG: Final = 0.4
CONE_DEG: Final = 0.3
SKEW_DEG: Final = 0.3
SAG_DEG: Final = 0.1

# How far a base may stand from what is usual: a share of all bases, and the sigma of its tilts.
# A leg sinks in, a bubble is read from the side (common practice, no source).
_STANDING: Final = ((0.98, TILT_DEG), (0.02, 2.0))
_STANDING_LEVELLED: Final = ((0.88, TILT_LEVELLED_DEG), (0.12, 1.5))

# Error of a reading beyond step, centring and play that are known of: the scale of a half-Cauchy
# distribution, cut off where a dial would be no dial.
_UNKNOWN_PLAY_DEG: Final = 0.3
_NO_DIAL_DEG: Final = 1.2
_EDGES_DEG: Final = (0.0, 0.08, 0.2, 0.45, _NO_DIAL_DEG)
# Play that was measured is believed, but for a small share: it may have been measured wrongly.
_MISMEASURED: Final = 0.02


@dataclass(frozen=True, slots=True, eq=False)
class Cases:
    """k ways in which dials may read and a base may stand, each with its probability.

    ``sigmas`` (k, 7) are those of the parameters of ``model.PARAMETERS``, ``extra`` (k, 2) those
    of the errors of azimuth and altitude readings beyond what is known of the dials; all in
    radians. ``weights`` (k,) add up to one.
    """

    weights: FloatArray
    sigmas: FloatArray
    extra: FloatArray


def is_levelled(mount: Mount, sightings: Iterable[Sighting]) -> bool:
    """Tell whether the base was levelled with care: always, or this night and not set aside."""
    tonight = (one.target_key == LEVELLED and not one.set_aside for one in sightings)
    return mount.levelled_with_care or any(tonight)


def prior_sigmas_deg(mount: Mount, sightings: Iterable[Sighting] = ()) -> FloatArray:
    """Give the prior sigmas of the parameters of ``model.PARAMETERS``, in degrees.

    They are what a home-made or a plain commercial mount has (common practice, no source). The
    azimuth zero is free: its prior has the width of a direction of which nothing is known, about
    wherever the fit begins.
    """
    tilt_deg = TILT_LEVELLED_DEG if is_levelled(mount, sightings) else TILT_DEG
    return np.array([FREE_DEG, ALTITUDE_ZERO_DEG, tilt_deg, tilt_deg, CONE_DEG, SKEW_DEG, SAG_DEG])


def cases_of(mount: Mount, sightings: Iterable[Sighting] = ()) -> Cases:
    """Give what is held of a mount before it is sighted with: its dials' errors, its standing.

    Of the sightings only those count that tell that the base was levelled.

    How well the dials of a mount really read is not known but learnt from the sightings. The
    standard deviation of what nobody told has a half-Cauchy prior, as Gelman (2006, *Bayesian
    Analysis* 1, 515) recommends for a scale of which few values are seen; it is summed over a
    few cases, as in Rue, Martino & Chopin (2009, *J. R. Statist. Soc. B* 71, 319).
    """
    standing = _STANDING_LEVELLED if is_levelled(mount, sightings) else _STANDING
    usual = np.radians(prior_sigmas_deg(mount))
    weights, sigmas, extra = [], [], []
    for (a, azimuth), (e, altitude), (s, tilt_deg) in itertools.product(
        _extra_noise(mount.azimuth), _extra_noise(mount.altitude), standing
    ):
        weights.append(a * e * s)
        sigmas.append(np.concatenate([usual[:2], np.radians([tilt_deg, tilt_deg]), usual[4:]]))
        extra.append(np.radians([azimuth, altitude]))
    return Cases(np.array(weights), np.array(sigmas), np.array(extra))


def overall_sigmas_deg(cases: Cases) -> FloatArray:
    """Give the standard deviations (7,) of the parameters over all cases, in degrees."""
    return np.asarray(np.degrees(np.sqrt(cases.weights @ cases.sigmas**2)))


def _extra_noise(dial: Dial) -> list[tuple[float, float]]:
    """Give shares and the errors in degrees that a dial may have beyond what is known of it."""
    spread = [
        (_half_cauchy(low, high), ((low * low + low * high + high * high) / 3.0) ** 0.5)
        for low, high in itertools.pairwise(_EDGES_DEG)
    ]
    if dial.play_deg is None:
        return spread
    return [(1.0 - _MISMEASURED, 0.0), *((_MISMEASURED * share, size) for share, size in spread)]


def _half_cauchy(low_deg: float, high_deg: float) -> float:
    """Give the probability of a range under the half-Cauchy distribution that is cut off."""
    bounds = np.arctan(np.array([low_deg, high_deg, _NO_DIAL_DEG]) / _UNKNOWN_PLAY_DEG)
    return float((bounds[1] - bounds[0]) / bounds[2])
