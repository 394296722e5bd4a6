"""Stops in plain numbers: what a route is, when each stop comes, and what it gains.

Time goes in whole slots from the start of the evening. The turn to a stop begins when the one
before ends; whoever arrives early waits there, and may wait longer for a better sight.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from companion.arrays import FloatArray, RowArray

START = -1  # in place of a stop: where the tube is at the beginning
NOT_THEN = -1.0  # in place of a gain: the stop may not begin then


@dataclass(frozen=True, eq=False)
class RouteProblem:
    """n stops in an evening of some slots.

    Attributes
    ----------
    gain : ndarray
        What a stop gives that begins in a slot, (n, slots); ``NOT_THEN`` where it may not.
    service : ndarray
        Slots that each takes, (n,).
    turn : ndarray
        Slots of the turn from a stop (row stop + 1; row 0 is the beginning) to another, in each
        stretch of the evening: (stretches, n + 1, n).
    stretch : int
        Slots in a stretch.
    turn_price, wait_price : ndarray
        What a slot of turning to a stop, and of waiting for it, takes off its gain, (n,).
    """

    gain: FloatArray
    service: RowArray
    turn: RowArray
    stretch: int
    turn_price: FloatArray
    wait_price: FloatArray

    def __len__(self) -> int:
        return len(self.service)

    @property
    def slots(self) -> int:
        """Slots of the evening."""
        return int(self.gain.shape[1])

    @cached_property
    def able(self) -> tuple[int, ...]:
        """Stops that may begin at all."""
        return tuple(np.flatnonzero((self.gain >= 0.0).any(axis=1)).tolist())

    @cached_property
    def next_start(self) -> RowArray:
        """First slot from each on in which a stop may begin, (n, slots + 1); ``slots`` if none."""
        slots = np.arange(self.slots)
        at = np.where(self.gain >= 0.0, slots, self.slots)
        found = np.full((len(self), self.slots + 1), self.slots)
        found[:, :-1] = np.minimum.accumulate(at[:, ::-1], axis=1)[:, ::-1]
        return found

    @cached_property
    def _last_start(self) -> RowArray:
        """Last slot up to each in which a stop may begin, (n, slots); -1 if none."""
        at = np.where(self.gain >= 0.0, np.arange(self.slots), -1)
        return np.maximum.accumulate(at, axis=1)

    def stretch_of(self, slot: int) -> int:
        """Stretch that a slot lies in."""
        return min(slot // self.stretch, len(self.turn) - 1)

    def turn_to(self, origin: int, stop: int, slot: int) -> int:
        """Slots of a turn that begins in a slot."""
        return int(self.turn[self.stretch_of(slot), origin + 1, stop])

    @cached_property
    def lists(self) -> "RouteLists":
        """The same as lists, which single look-ups read faster."""
        turns = self.turn.tolist()
        return RouteLists(
            self.gain.tolist(),
            self.service.tolist(),
            [*turns, *[turns[-1]] * (self.slots // self.stretch + 1 - len(turns))],
            self.turn_price.tolist(),
            self.wait_price.tolist(),
            self.next_start.tolist(),
        )

    def total(self, route: Sequence[int], starts: Sequence[int]) -> float:
        """Give the gain of a route less the price of turning and waiting: what is to be most."""
        total, left, here = 0.0, 0, START
        for stop, start in zip(route, starts, strict=True):
            turn = self.turn_to(here, stop, left)
            total += float(self.gain[stop, start]) - turn * float(self.turn_price[stop])
            total -= (start - left - turn) * float(self.wait_price[stop])
            left, here = start + int(self.service[stop]), stop
        return total

    def gained(self, route: Sequence[int], starts: Sequence[int]) -> float:
        """Give the gain of a route alone."""
        return float(self.gain[list(route), list(starts)].sum()) if route else 0.0

    def latest_starts(self, route: Sequence[int], starts: Sequence[int]) -> list[int]:
        """Latest start of each stop of a route that loses none of the others."""
        latest = [0] * len(route)
        free_until = self.slots
        for at in range(len(route) - 1, -1, -1):
            stop = route[at]
            last = min(free_until - int(self.service[stop]), self.slots - 1)
            latest[at] = max(int(self._last_start[stop, last]), starts[at])
            left = starts[at - 1] + int(self.service[route[at - 1]]) if at else 0
            free_until = latest[at] - self.turn_to(route[at - 1] if at else START, stop, left)
        return latest


@dataclass(frozen=True, slots=True)
class RouteLists:
    """A problem as nested lists; ``turn`` for every stretch up to the last slot."""

    gain: list[list[float]]
    service: list[int]
    turn: list[list[list[int]]]
    turn_price: list[float]
    wait_price: list[float]
    next_start: list[list[int]]
