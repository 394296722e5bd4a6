"""Make resources/group_lines.json: the lines of the star groups, by catalogue numbers.

The table writes stars as ``bet.UMa`` (Bayer letter), ``17.Tau`` (Flamsteed number) or ``110672``
(HIP number, for the few without a letter in our tables).
"""

from itertools import pairwise

import numpy as np
from build_tables import read_table, save_json
from numpy.typing import NDArray

from companion.sky import constellation_of, ra_dec_of, unit_vectors

Prompt = dict[str, object]
NORTHERN_DEG = 15.0  # nearer to the equator, a group serves both hemispheres


def group_lines(columns: dict[str, NDArray[np.float64]]) -> list[Prompt]:
    """Give one entry a group; names come from groups.csv where that has the group."""
    rows = {int(hip): row for row, hip in enumerate(columns["hip"])}
    called = {row["key"]: row for row in read_table("groups")}
    return [
        _entry(row, called.get(row["key"], row), columns, rows) for row in read_table("group_lines")
    ]


def _entry(
    row: dict[str, str],
    called: dict[str, str],
    columns: dict[str, NDArray[np.float64]],
    rows: dict[int, int],
) -> Prompt:
    chains = [_stars(text) for text in row["lines"].split("|")]
    stars = list(dict.fromkeys(hip for chain in chains for hip in chain))
    picked = [rows[hip] for hip in stars]
    ra, dec = ra_dec_of(
        unit_vectors(columns["ra_deg"][picked], columns["dec_deg"][picked]).mean(axis=0)
    )
    return {
        "key": row["key"],
        "name": called["name"],
        "aliases": [alias for alias in called["aliases"].split("|") if alias],
        "constellation": str(constellation_of(float(ra), float(dec))),
        "hemisphere": _hemisphere(float(dec)),
        "stars": stars,
        "lines": [list(pair) for chain in chains for pair in pairwise(chain)],
        "rows": [_stars(text) for text in row["rows"].split("|") if text],
    }


def _hemisphere(dec_deg: float) -> str:
    if abs(dec_deg) < NORTHERN_DEG:
        return "equatorial"
    return "northern" if dec_deg > 0.0 else "southern"


def _stars(text: str) -> list[int]:
    """Turn written stars into HIP numbers.

    Raises
    ------
    KeyError
        If the tables know no such letter or number.
    """
    return [_hip(word) for word in text.split()]


def _hip(word: str) -> int:
    letter, _dot, constellation = word.partition(".")
    if not constellation:
        return int(word)
    field = "flamsteed" if letter.isdigit() else "bayer"
    for row in read_table("bayer"):
        if row[field] == letter and row["constellation"] == constellation:
            return int(row["hip"])
    raise KeyError(word)


def build(columns: dict[str, NDArray[np.float64]]) -> int:
    """Write the file; give the number of groups."""
    entries = group_lines(columns)
    save_json("group_lines.json", entries)
    return len(entries)
