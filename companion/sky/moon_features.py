"""The named places on the Moon's near side, as columns of one compact file.

From the Gazetteer of Planetary Nomenclature of the International Astronomical Union and the U.S.
Geological Survey (public domain): what lies within 100° of the middle of the near side, craters
with a letter from 3 km on.
"""

from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from companion.sky.resources import resource

# Stable codes, in the order in which the data file numbers them.
FEATURE_KINDS: Final = (
    "crater", "rille", "landing_site", "mountain", "ridge", "sea", "lake", "valley",
    "crater_chain", "bay", "cape", "scarp", "marsh", "plain", "ocean", "bright_marking",
)  # fmt: skip
STEP_DEG: Final = 0.01  # of the data file: 150 m at half a step
STEP_KM: Final = 0.1


@dataclass(frozen=True, eq=False)
class MoonFeatures:
    """All features, the largest first; every array has shape (n,).

    Selenographic places of the mean axes, planetographic, north and east positive, longitudes
    from -180 to 180. ``diameter_km`` of long features is their length. ``lettered`` craters have
    a letter beside the name of a larger one.
    """

    names: tuple[str, ...]
    kind: NDArray[np.uint8]  # in FEATURE_KINDS
    lettered: NDArray[np.bool_]
    latitude_deg: NDArray[np.float64]
    longitude_deg: NDArray[np.float64]
    diameter_km: NDArray[np.float64]

    def __len__(self) -> int:
        return len(self.names)

    def kind_of(self, row: int) -> str:
        """Give the kind of a feature, as a stable code."""
        return FEATURE_KINDS[int(self.kind[row])]

    @cached_property
    def vectors(self) -> NDArray[np.float64]:
        """Unit vectors (n, 3) on the Moon's own axes."""
        latitude, longitude = np.radians(self.latitude_deg), np.radians(self.longitude_deg)
        flat = np.cos(latitude)
        return np.stack(
            [flat * np.cos(longitude), flat * np.sin(longitude), np.sin(latitude)], axis=-1
        )


@lru_cache(maxsize=1)
def load_moon_features() -> MoonFeatures:
    """Read ``resources/moon_features.npz``, once in a process."""
    with np.load(resource("moon_features.npz"), allow_pickle=False) as file:
        return MoonFeatures(
            names=tuple(file["names"].tobytes().decode().split("\n")),
            kind=file["kind"],
            lettered=file["lettered"],
            latitude_deg=np.round(file["latitude_deg"] * STEP_DEG, 2),
            longitude_deg=np.round(file["longitude_deg"] * STEP_DEG, 2),
            diameter_km=np.round(file["diameter_km"] * STEP_KM, 1),
        )
