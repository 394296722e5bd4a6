"""A clock in the wrong hour or time zone: all stars are off by one turn about the pole."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from companion.mount.daily_turn import turned_with_sky
from companion.mount.fit import least_cost
from companion.mount.model import directions_of, vectors_of
from companion.mount.observations import Observations, observations_of
from companion.mount.priors import prior_sigmas_deg
from companion.mount.records import Mount, Sighting
from companion.sky import airless_deg, refracted_deg

FloatArray = NDArray[np.float64]

_HOURS = np.arange(-12.0, 12.01, 0.5)
_AIR: Final = (1010.0, 10.0)  # hPa, °C: a pattern of 15° needs no better
_ROUNDS: Final = 18  # golden sections of one hour: to a second
_GOLDEN = (5.0**0.5 - 1.0) / 2.0
_ROUND_COST: Final = 6.0  # what a round number of hours may cost beyond the best one


@dataclass(frozen=True, slots=True)
class Shift:
    """The turn of the sky that explains the sightings.

    ``hours`` is what has to be added to the times as given. ``whole`` tells that it is a number
    of hours (15° each), ``quarter`` that it is one of quarter hours, as some time zones have.
    """

    hours: float
    cost: float
    whole: bool
    quarter: bool


def best_shift(mount: Mount, sightings: Sequence[Sighting], latitude_deg: float) -> Shift:
    """Find by how many hours all times would have to be moved for the best fit.

    A star's direction moves by 15° (15.041°) an hour about the pole. The azimuth zero takes up
    what of it goes about the vertical; the rest would need a base that leans by many degrees,
    which its prior does not allow.
    """
    used = [one for one in sightings if not one.set_aside]
    search = _Search(mount, used, latitude_deg)
    costs = [search.cost(float(hours)) for hours in _HOURS]
    around = float(_HOURS[int(np.argmin(costs))])
    hours, cost = _least(search, around - 0.5, around + 0.5)
    for step, whole in ((1.0, True), (0.25, False)):
        rounded = round(hours / step) * step
        rounded_cost = search.cost(rounded)
        # Under an hour, quarters lie closer than the sightings can tell apart.
        if abs(rounded) >= 1.0 and rounded_cost < cost + _ROUND_COST:
            return Shift(rounded, rounded_cost, whole=whole, quarter=True)
    return Shift(hours, cost, whole=False, quarter=False)


class _Search:
    """The cost of a fit by hours of shift, with what does not change kept."""

    def __init__(self, mount: Mount, used: Sequence[Sighting], latitude_deg: float) -> None:
        airless = airless_deg([one.altitude_deg for one in used], *_AIR)
        azimuths = np.radians([one.azimuth_deg for one in used])
        self._airless = vectors_of(azimuths, np.radians(airless))
        self._still = np.array([one.weak for one in used])  # compasses and levels don't turn
        self._seen = observations_of(mount, used)
        self._prior = np.radians(prior_sigmas_deg(mount))
        self._latitude_deg = latitude_deg

    def cost(self, hours: float) -> float:
        return least_cost(self._moved(hours), self._prior)

    def _moved(self, hours: float) -> Observations:
        turned = turned_with_sky(self._airless, self._latitude_deg, np.array(hours * 3600.0))
        azimuth, altitude = directions_of(turned)
        seen_deg = refracted_deg(np.degrees(altitude), *_AIR)
        vectors = vectors_of(azimuth, np.radians(seen_deg))
        vectors = np.where(self._still[:, None], self._seen.vectors, vectors)
        return replace(self._seen, vectors=vectors)


def _least(search: _Search, low: float, high: float) -> tuple[float, float]:
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
    return (left, cost_left) if cost_left < cost_right else (right, cost_right)
