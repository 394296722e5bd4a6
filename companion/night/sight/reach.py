"""The faintest magnitude of each object on skies of any brightness, with the best eyepiece."""

from dataclasses import dataclass

import numpy as np

from companion.arrays import FloatArray, RowArray
from companion.night.sight.limits import object_limits
from companion.night.sight.objects import NightObjects
from companion.night.sight.observer import Conditions
from companion.night.sight.views import View
from companion.sky import SUN_UP_DEG

# Skies between which limits are interpolated, mag/arcsec²: day to the darkest place on Earth.
SKIES = np.concatenate(
    [np.arange(2.0, 11.0, 3.0), np.arange(11.0, 20.5, 0.5), np.arange(20.5, 22.8, 0.25)]
)
_FINE = 100  # cells per magnitude of the table that finds the place between skies
# From where of the Sun on clusters, nebulae and galaxies are looked for: about the middle of
# nautical twilight (common practice, no source).
_DUSK_OF_PATCHES_DEG = -9.0
_ALWAYS = 40.0  # stands for "seen whatever the sky"


@dataclass(frozen=True, slots=True, eq=False)
class Reach:
    """``limits`` has shape (n, skies).

    ``dusk_deg`` (n,) is how high the Sun may stand at most, airless, for somebody to be sent there:
    nobody is sent out by day, nor to anything but points of light before the sky is fairly dark.
    """

    limits: FloatArray
    dusk_deg: FloatArray

    @classmethod
    def of(cls, objects: NightObjects, views: tuple[View, ...], conditions: Conditions) -> "Reach":
        """Compute each distinct kind of object once: most of a catalogue looks alike."""
        first, which = _distinct(objects)
        some = objects.take(first)
        best = np.full((len(first), len(SKIES)), -np.inf)
        for view in views:
            best = np.maximum(best, object_limits(view, SKIES, some, conditions))
        dusk = np.where(objects.point | objects.always, SUN_UP_DEG, _DUSK_OF_PATCHES_DEG)
        return cls(np.minimum(best, _ALWAYS)[which], dusk)

    def take(self, rows: RowArray) -> "Reach":
        """Give some of the rows."""
        return Reach(self.limits[rows], self.dusk_deg[rows])

    def at(self, sky_mag: FloatArray) -> FloatArray:
        """Limits on each object's own skies; (t, n) in and out."""
        cells = (sky_mag * _FINE - SKIES[0] * _FINE).astype(np.intp)
        np.clip(cells, 0, len(_LOWER) - 1, out=cells)
        lower, share = _LOWER[cells], _SHARE[cells]
        columns = np.arange(len(self.limits)) * len(SKIES)
        flat = self.limits.ravel()
        low = flat[columns + lower]
        return np.asarray(low + share * (flat[columns + lower + 1] - low))


def _table() -> tuple[RowArray, FloatArray]:
    """Lower neighbour and share of the way to the upper one, for each fine cell."""
    count = int((SKIES[-1] - SKIES[0]) * _FINE)
    sky = SKIES[0] + (np.arange(count) + 0.5) / _FINE
    lower = np.clip(np.searchsorted(SKIES, sky) - 1, 0, len(SKIES) - 2)
    return lower, (sky - SKIES[lower]) / (SKIES[lower + 1] - SKIES[lower])


_LOWER, _SHARE = _table()


def _distinct(objects: NightObjects) -> tuple[RowArray, RowArray]:
    """Rows that stand for all, and which of them stands for each row.

    Sizes are told apart to 5%, areas to 2%, colours to 0.1 mag: less than 0.03 mag in the limit.
    """
    traits = np.stack(
        [
            np.round(50.0 * np.log10(np.maximum(objects.area_arcmin2, 1e-6))),
            np.round(20.0 * np.log10(np.maximum(objects.major_arcmin, 1e-3))),
            np.round(10.0 * objects.colour_index) * objects.point,
            *np.nan_to_num(np.round(objects.parts, 2), nan=-1.0).reshape(-1, 4).T,
            np.minimum(objects.stars_below, 99.0),
            np.nan_to_num(objects.separation_arcsec, nan=-1.0),
            objects.point + 2.0 * objects.always,
        ],
        axis=1,
    )
    key = np.zeros(len(objects), dtype=np.int64)
    for trait in traits.T:
        values, codes = np.unique(trait, return_inverse=True)
        key = key * len(values) + codes
    _, first, which = np.unique(key, return_index=True, return_inverse=True)
    return first.astype(np.intp), which.astype(np.intp)
