"""Make resources/names.json from the hand-made tables of names, doubles, variables and groups."""

import numpy as np
from build_tables import read_table, save_json
from numpy.typing import NDArray

from companion.sky.borders import constellation_of

Prompt = dict[str, object]


def star_entries() -> list[Prompt]:
    """Give one entry a star that has a name or a letter, ascending by HIP number."""
    entries: dict[int, Prompt] = {}

    def entry(hip: str) -> Prompt:
        return entries.setdefault(int(hip), {"hip": int(hip)})

    for row in read_table("bayer"):
        found = entry(row["hip"])
        if row["bayer"]:
            found["bayer"] = row["bayer"]
        if row["flamsteed"]:
            found["flamsteed"] = int(row["flamsteed"])
        found["constellation"] = row["constellation"]
    for row in read_table("star_names"):
        entry(row["hip"])["name"] = row["name"]
    for row in read_table("other_names"):
        _append(entry(row["hip"]), "also", row["name"])
    for table in ("variables", "coloured", "variable_names"):
        for row in read_table(table):
            if row["name"][0].isupper():  # a variable's own name; Bayer letters are there already
                _append(entry(row["hip"]), "variable", row["name"])
    return [entries[hip] for hip in sorted(entries)]


def _append(entry: Prompt, field: str, text: str) -> None:
    """Add a text to a list in an entry, once."""
    found = entry.setdefault(field, [])
    if isinstance(found, list) and text not in found:
        found.append(text)


def group_entries(columns: dict[str, NDArray[np.float64]]) -> list[Prompt]:
    """Give the star groups; their middle and size follow from their stars where those are given."""
    rows = {int(hip): i for i, hip in enumerate(columns["hip"])}
    entries = []
    for row in read_table("groups"):
        members = [int(hip) for hip in row["members"].split()]
        if members:
            picked = [rows[hip] for hip in members]
            ra, dec, size = _middle(columns["ra_deg"][picked], columns["dec_deg"][picked])
            flux = 10.0 ** (-0.4 * columns["magnitude"][picked])
            magnitude: float | None = round(float(-2.5 * np.log10(flux.sum())), 1)
        else:
            ra, dec = float(row["ra_deg"]), float(row["dec_deg"])
            size = float(row["size_arcmin"] or 0.0)
            magnitude = float(row["magnitude"]) if row["magnitude"] else None
        entries.append(
            {
                "key": row["key"],
                "name": row["name"],
                "kind": row["kind"],
                "aliases": [alias for alias in row["aliases"].split("|") if alias],
                "members": members,
                "ra_deg": round(ra, 4),
                "dec_deg": round(dec, 4),
                "major_arcmin": round(size) or None,
                "magnitude": magnitude,
                "constellation": str(constellation_of(ra, dec)),
            }
        )
    return entries


def _middle(
    ra_deg: NDArray[np.float64], dec_deg: NDArray[np.float64]
) -> tuple[float, float, float]:
    """Give the mean direction in degrees and the widest separation in arcminutes."""
    ra, dec = np.radians(ra_deg), np.radians(dec_deg)
    vectors = np.stack([np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)], axis=1)
    mean = vectors.mean(axis=0)
    x, y, z = mean / np.linalg.norm(mean)
    widest = np.degrees(np.arccos(np.clip(vectors @ vectors.T, -1.0, 1.0).min()))
    return (
        float(np.degrees(np.arctan2(y, x)) % 360.0),
        float(np.degrees(np.arcsin(z))),
        float(widest * 60.0),
    )


def _numbers(table: str, columns: tuple[str, ...], words: tuple[str, ...]) -> list[Prompt]:
    """Give the rows of a table, its number columns as numbers or None."""
    return [
        {"hip": int(row["hip"])}
        | {name: float(row[name]) if row[name] else None for name in columns}
        | {name: row[name] for name in words}
        for row in read_table(table)
    ]


def build(columns: dict[str, NDArray[np.float64]]) -> None:
    """Write the file."""
    save_json(
        "names.json",
        {
            "stars": star_entries(),
            "groups": group_entries(columns),
            "doubles": _numbers(
                "doubles",
                (
                    "primary_magnitude",
                    "companion_magnitude",
                    "separation_arcsec",
                    "position_angle_deg",
                ),
                ("colours",),
            ),
            "variables": _numbers(
                "variables", ("brightest", "faintest", "period_days"), ("name", "gcvs_type", "type")
            ),
            "coloured": _numbers("coloured", (), ("colour",)),
        },
    )
