"""Make resources/moon_features.npz from the features of the Gazetteer of Planetary Nomenclature."""

import numpy as np
from build_tables import read_table, save_arrays
from numpy.typing import NDArray

from companion.sky.moon_features import FEATURE_KINDS, STEP_DEG, STEP_KM


def build() -> int:
    """Write the file, largest first, and give how many features it holds."""
    rows = read_table("moon_features")
    rows.sort(key=lambda row: (-float(row["diameter_km"]), row["name"]))
    codes = [row["kind"].replace(" ", "_") for row in rows]
    save_arrays(
        "moon_features.npz",
        {
            "names": np.frombuffer("\n".join(row["name"] for row in rows).encode(), dtype="u1"),
            "kind": np.array([FEATURE_KINDS.index(code) for code in codes], dtype="u1"),
            "lettered": np.array([row["named"] == "lettered" for row in rows]),
            "latitude_deg": _steps([row["latitude_deg"] for row in rows], STEP_DEG, "i2"),
            "longitude_deg": _steps([row["longitude_deg"] for row in rows], STEP_DEG, "i2"),
            "diameter_km": _steps([row["diameter_km"] for row in rows], STEP_KM, "u2"),
        },
    )
    return len(rows)


def _steps(values: list[str], step: float, kind: str) -> NDArray[np.generic]:
    return np.rint(np.array(values, dtype=float) / step).astype("i8").astype(kind)
