"""What the data builders share: the hand-made tables in, files that are always alike out."""

import csv
import io
import json
import zipfile
from collections.abc import Mapping
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

HERE = Path(__file__).resolve().parent
RESOURCES = HERE.parent / "resources"
_TIME = (2000, 1, 1, 0, 0, 0)  # a fixed date in the archive: the same data make the same bytes


def read_table(name: str) -> list[dict[str, str]]:
    """Read one hand-made table from packaging/tables."""
    with (HERE / "tables" / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def save_arrays(name: str, arrays: Mapping[str, NDArray[np.generic]]) -> None:
    """Write an npz archive without pickles, the same bytes for the same arrays."""
    with zipfile.ZipFile(RESOURCES / name, "w", zipfile.ZIP_STORED) as archive:
        for key, array in arrays.items():
            buffer = io.BytesIO()
            np.lib.format.write_array(buffer, np.ascontiguousarray(array), allow_pickle=False)
            archive.writestr(zipfile.ZipInfo(f"{key}.npy", _TIME), buffer.getvalue())


def save_json(name: str, value: object) -> None:
    """Write JSON in UTF-8, one line."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    (RESOURCES / name).write_text(text + "\n", encoding="utf-8")
