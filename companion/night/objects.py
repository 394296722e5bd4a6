"""Many targets as columns, made once and used for every night."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from companion.night.brightness import (
    ALWAYS_SEEN,
    CORE_SIZE,
    POINTS,
    STAR_CLUSTERS,
    STARS_BELOW_TOTAL,
    Known,
    brightness_of,
)
from companion.night.star_limit import SKY_COLOUR
from companion.sky import Target

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class NightObjects:
    """What the visibility of n targets is computed from; every array has shape (n,).

    ``magnitude`` is NaN where nothing is known. ``core_size`` is the part of the size that holds
    half of the light, NaN where the whole is the best guess; ``stars_below`` is how much fainter
    than the total single stars are, infinite where there are none to see.
    """

    targets: tuple[Target, ...]
    magnitude: FloatArray
    sigma_mag: FloatArray
    colour_index: FloatArray
    area_arcmin2: FloatArray
    major_arcmin: FloatArray
    core_size: FloatArray
    stars_below: FloatArray
    point: NDArray[np.bool_]
    always: NDArray[np.bool_]
    known: tuple[Known, ...]
    size_guessed: NDArray[np.bool_]

    def __len__(self) -> int:
        return len(self.targets)

    @classmethod
    def of(cls, targets: Iterable[Target]) -> "NightObjects":
        """Make the columns of some targets, in their order."""
        chosen = tuple(targets)
        found = [brightness_of(target) for target in chosen]
        size = np.array([(b.major_arcmin, b.minor_arcmin) for b in found]).reshape(-1, 2)
        colours = [SKY_COLOUR if t.colour_index is None else t.colour_index for t in chosen]
        clusters = np.array([t.kind in STAR_CLUSTERS for t in chosen], dtype=bool)
        return cls(
            targets=chosen,
            magnitude=np.array([b.magnitude for b in found], dtype=np.float64),
            sigma_mag=np.array([b.sigma_mag for b in found], dtype=np.float64),
            colour_index=np.array(colours, dtype=np.float64),
            area_arcmin2=np.pi / 4.0 * size[:, 0] * size[:, 1],
            major_arcmin=size[:, 0],
            core_size=np.array([CORE_SIZE.get(t.kind, np.nan) for t in chosen], dtype=np.float64),
            stars_below=np.where(clusters, STARS_BELOW_TOTAL, np.inf),
            point=np.array([t.kind in POINTS for t in chosen], dtype=bool),
            always=np.array([t.kind in ALWAYS_SEEN for t in chosen], dtype=bool),
            known=tuple(b.known for b in found),
            size_guessed=np.array([b.size_guessed for b in found], dtype=bool),
        )

    def take(self, rows: NDArray[np.intp]) -> "NightObjects":
        """Give some of the rows as columns of their own."""
        picked = rows.tolist()
        return NightObjects(
            targets=tuple(self.targets[i] for i in picked),
            magnitude=self.magnitude[rows],
            sigma_mag=self.sigma_mag[rows],
            colour_index=self.colour_index[rows],
            area_arcmin2=self.area_arcmin2[rows],
            major_arcmin=self.major_arcmin[rows],
            core_size=self.core_size[rows],
            stars_below=self.stars_below[rows],
            point=self.point[rows],
            always=self.always[rows],
            known=tuple(self.known[i] for i in picked),
            size_guessed=self.size_guessed[rows],
        )
