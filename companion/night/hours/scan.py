"""One look through the whole night for many objects: when each is best, and how well it shows."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from companion.arrays import BoolArray, FloatArray, RowArray
from companion.night.hours.night_sky import NightSky
from companion.night.hours.places import Places
from companion.night.hours.spans import run_around
from companion.night.progress import Progress, go_on
from companion.night.sight.objects import NightObjects
from companion.night.sight.observer import Conditions
from companion.night.sight.reach import Reach
from companion.night.sight.scales import mag_per_arcsec2
from companion.sky import horizon_altitude_deg

LOW_LIMIT_DEG = 10.0
NEVER = -1  # in place of a step
_BLOCK = 512  # objects at a time: their arrays stay in the processor's cache
# A window holds while a thing stays visible; for what is at the limit or beyond, while it stays
# within this of its best.
_NEAR_BEST_MAG = 0.5


@dataclass(frozen=True, slots=True, eq=False)
class Scan:
    """n objects through a night; steps number those of the grid, ``NEVER`` where none is fit.

    ``reach_mag`` is the faintest magnitude, outside the air, that would be seen in the object's
    place at its best step.
    """

    best: RowArray
    first: RowArray
    last: RowArray
    reach_mag: FloatArray

    @property
    def up(self) -> BoolArray:
        """Which objects come over horizon and low limit at all."""
        return np.asarray(self.best != NEVER)


@dataclass(frozen=True, slots=True, eq=False)
class Curves:
    """A block of objects, step by step; arrays of shape (t, n)."""

    usable: BoolArray  # over horizon and low limit, the Sun far enough down
    reach_mag: FloatArray
    sine: FloatArray
    over_dusk: FloatArray  # by how many degrees the Sun stands lower than it may at most


@dataclass(frozen=True, slots=True, eq=False)
class Scanner:
    """What a scan needs beside the objects' places."""

    sky: NightSky
    conditions: Conditions
    low_limit_deg: float = LOW_LIMIT_DEG

    def scan(
        self, places: Places, objects: NightObjects, reach: Reach, progress: Progress | None = None
    ) -> Scan:
        """Look through the night in blocks.

        Raises
        ------
        Cancelled
            If ``progress`` says so.
        """
        count = len(objects)
        best, first, last = (np.full(count, NEVER, dtype=np.intp) for _ in range(3))
        found = Scan(best, first, last, np.full(count, np.nan))
        for rows in _blocks(count):
            go_on(progress, rows[0] / count)
            curves = self.curves(places.take(rows), reach.take(rows))
            self._reduce(curves, objects.magnitude[rows], rows, found)
        go_on(progress, 1.0)
        return found

    def curves(self, places: Places, reach: Reach) -> Curves:
        """Follow a block of objects through all steps."""
        sine = places.sine_of_altitude(self.sky.steps)
        cells = self.sky.cells_of(sine)
        light = self.sky.glow(cells)
        light += self.sky.moonlight(places, cells)
        light += self.sky.sunlight(places, cells)
        limits = reach.at(mag_per_arcsec2(light))
        limits -= self.conditions.extinction_mag * self.sky.airmass[cells]
        sun_deg = self.sky.grid.sun.altitude_airless_deg[self.sky.steps]
        over_dusk = reach.dusk_deg - sun_deg[:, None]
        usable = self._usable(places, sine, cells) & (over_dusk > 0.0)
        return Curves(usable, limits, sine, over_dusk)

    def _usable(self, places: Places, sine: FloatArray, cells: RowArray) -> BoolArray:
        altitude = self.sky.altitude_deg[cells]
        usable = (altitude >= max(self.low_limit_deg, 0.0)) & (sine > 0.0)
        horizon = places.grid.site.horizon
        if horizon:
            azimuth = places.azimuth_deg(self.sky.steps)
            usable &= altitude > horizon_altitude_deg(horizon, azimuth)
        return usable

    def _reduce(self, curves: Curves, magnitude: FloatArray, rows: RowArray, into: Scan) -> None:
        """Keep of a block what the list needs."""
        # The altitude decides between steps that are equally good, as for the Moon.
        quality = np.where(curves.usable, curves.reach_mag + 1e-3 * curves.sine, -np.inf)
        best = quality.argmax(axis=0)
        columns = np.arange(len(rows))
        some = np.isfinite(quality[best, columns])
        reach = curves.reach_mag[best, columns]
        floor = window_floor(reach, magnitude)
        fit = curves.usable & (curves.reach_mag >= floor)
        first, last = run_around(fit, best)
        steps = self.sky.steps
        into.best[rows] = np.where(some, steps[best], NEVER)
        into.first[rows] = np.where(some, steps[np.clip(first, 0, len(steps) - 1)], NEVER)
        into.last[rows] = np.where(some, steps[np.clip(last, 0, len(steps) - 1)], NEVER)
        into.reach_mag[rows] = np.where(some, reach, np.nan)


def window_floor(best_reach_mag: FloatArray, magnitude: FloatArray) -> FloatArray:
    """Reach from which on an object's window is open, by its best reach; shapes (n,)."""
    near_best = best_reach_mag - _NEAR_BEST_MAG
    return np.fmin(near_best, magnitude)


def _blocks(count: int) -> Iterator[RowArray]:
    for start in range(0, count, _BLOCK):
        yield np.arange(start, min(start + _BLOCK, count))
