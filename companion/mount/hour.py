"""A clock in the wrong hour or time zone: all stars are off by one turn about the pole."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from companion.mount.daily_turn import turned_with_sky
from companion.mount.fit import fitted, least_cost
from companion.mount.model import directions_of, vectors_of
from companion.mount.observations import Observations, observations_of
from companion.mount.posterior import Posterior
from companion.mount.priors import cases_of
from companion.mount.records import Mount, Sighting
from companion.sky import airless_deg, refracted_deg

# How probable a wrong clock is, whatever the sightings say (common practice, no source).
_WHOLE: Final = 0.02 / 24.0  # of each number of whole hours: summer time, a time zone
_QUARTER: Final = 0.002 / 72.0  # of each other quarter hour: the zones that are not whole hours off
_MINUTES: Final = 0.0015  # of any other time at all
_MINUTES_SCALE_H: Final = 0.5  # how far a clock that was set by hand is off

_HOURS = np.arange(-12.0, 12.01, 1.0)
_AIR: Final = (1010.0, 10.0)  # hPa, °C: a pattern of 15° needs no better
_ROUNDS: Final = 12  # golden sections of two hours: to half a minute
_GOLDEN = (5.0**0.5 - 1.0) / 2.0
_CURVED_H: Final = 0.05  # over which the evidence's width is taken
_MOST_SEARCHED: Final = 12  # sightings that the search is made with


@dataclass(frozen=True, slots=True)
class Shift:
    """The turn of the sky that explains the sightings.

    ``hours`` is what has to be added to the times as given. ``whole`` tells that it is a number
    of hours (15° each), ``quarter`` that it is one of quarter hours, as some time zones have.
    ``log_evidence`` is that of the readings and of such a clock together, ``tail`` the probability
    that honest readings fit worse.
    """

    hours: float
    log_evidence: float
    tail: float
    whole: bool
    quarter: bool


def best_shift(mount: Mount, sightings: Sequence[Sighting], latitude_deg: float) -> Shift:
    """Find by how many hours all times would have to be moved for the best fit.

    A star's direction moves by 15° (15.041°) an hour about the pole. The azimuth zero takes up
    what of it goes about the vertical; the rest looks like a base that leans, and with dials on
    the axes it looks exactly so: only how far bases lean, and how clocks go wrong, tells the two
    apart. A clock may be off by any minute, so that a certain minute is improbable, but a round
    number of hours is not.
    """
    used = [one for one in sightings if not one.set_aside]
    search = _Search(mount, _spread(used, _MOST_SEARCHED), latitude_deg)
    costs = [search.cost(float(hours)) for hours in _HOURS]
    around = float(_HOURS[int(np.argmin(costs))])
    best = _least(search, around - 1.0, around + 1.0)
    whole = _Search(mount, used, latitude_deg)
    round_hours = {math.floor(best), math.ceil(best), round(best * 4.0) / 4.0}
    shifts = [_rounded(whole, float(hours)) for hours in sorted(round_hours) if abs(hours) >= 1.0]
    return max([*shifts, _any_minute(whole, best)], key=lambda shift: shift.log_evidence)


def _rounded(search: "_Search", hours: float) -> Shift:
    whole = hours == round(hours)
    probable = math.log(_WHOLE if whole else _QUARTER)
    found = search.fitted(hours)
    return Shift(hours, found.log_evidence + probable, found.tail, whole=whole, quarter=True)


def _any_minute(search: "_Search", hours: float) -> Shift:
    """Sum the evidence over all minutes: a peak of the height and the width that it has."""
    sides = (hours - _CURVED_H, hours + _CURVED_H)
    found, *beside = (search.fitted(moved) for moved in (hours, *sides))
    peaked = 2.0 * found.log_evidence - sum(one.log_evidence for one in beside)
    curvature = max(peaked, 1e-3) / _CURVED_H**2
    width_h = (2.0 * math.pi / curvature) ** 0.5
    density = math.exp(-abs(hours) / _MINUTES_SCALE_H) / (2.0 * _MINUTES_SCALE_H)
    evidence = found.log_evidence + math.log(_MINUTES * density * width_h)
    return Shift(hours, evidence, found.tail, whole=False, quarter=False)


class _Search:
    """The cost of a fit by hours of shift, with what does not change kept."""

    def __init__(self, mount: Mount, used: Sequence[Sighting], latitude_deg: float) -> None:
        airless = airless_deg([one.altitude_deg for one in used], *_AIR)
        azimuths = np.radians([one.azimuth_deg for one in used])
        self._airless = vectors_of(azimuths, np.radians(airless))
        self._still = np.array([one.weak for one in used])  # compasses and levels don't turn
        self._seen = observations_of(mount, used)
        self._cases = cases_of(mount, used)
        self._latitude_deg = latitude_deg

    def cost(self, hours: float) -> float:
        return least_cost(self._moved(hours), self._cases)

    def fitted(self, hours: float) -> Posterior:
        return fitted(self._moved(hours), self._cases)

    def _moved(self, hours: float) -> Observations:
        turned = turned_with_sky(self._airless, self._latitude_deg, np.array(hours * 3600.0))
        azimuth, altitude = directions_of(turned)
        seen_deg = refracted_deg(np.degrees(altitude), *_AIR)
        vectors = vectors_of(azimuth, np.radians(seen_deg))
        vectors = np.where(self._still[:, None], self._seen.vectors, vectors)
        return replace(self._seen, vectors=vectors)


def _spread(used: Sequence[Sighting], most: int) -> list[Sighting]:
    """Give at most so many sightings, from all of the night."""
    return [used[i] for i in sorted(set(np.linspace(0, len(used) - 1, most).round().astype(int)))]


def _least(search: _Search, low: float, high: float) -> float:
    """Narrow down the least cost by golden sections (Kiefer 1953)."""
    left, right = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
    cost_left, cost_right = search.cost(left), search.cost(right)
    for _ in range(_ROUNDS):
        if cost_left < cost_right:
            high, right, cost_right = right, left, cost_left
            left = high - _GOLDEN * (high - low)
            cost_left = search.cost(left)
        else:
            low, left, cost_left = left, right, cost_right
            right = low + _GOLDEN * (high - low)
            cost_right = search.cost(right)
    return left if cost_left < cost_right else right
