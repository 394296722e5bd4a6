"""Make resources/deep_sky.npz and deep_sky_names.json from OpenNGC (package PyOngc)."""

import re
import sqlite3
from collections.abc import Callable

import numpy as np
import pyongc
from build_tables import read_table, save_arrays, save_json
from numpy.typing import NDArray

from companion.sky.borders import constellation_of
from companion.sky.constellation import ABBREVIATIONS
from companion.sky.deep_sky import BULGES, KINDS, LIGHTS
from companion.sky.target import Bulge, Kind, LightFrom

Row = dict[str, str]

_KINDS = {
    "*": Kind.STAR,
    "**": Kind.DOUBLE,
    "*Ass": Kind.GROUP,
    "OCl": Kind.OPEN_CLUSTER,
    "GCl": Kind.GLOBULAR,
    "Cl+N": Kind.CLUSTER_NEBULA,
    "G": Kind.GALAXY,
    "GPair": Kind.GALAXY,
    "GTrpl": Kind.GALAXY,
    "GGroup": Kind.GALAXY,
    "PN": Kind.PLANETARY,
    "HII": Kind.NEBULA,
    "EmN": Kind.NEBULA,
    "Neb": Kind.NEBULA,
    "RfN": Kind.NEBULA,
    "SNR": Kind.REMNANT,
    "DrkN": Kind.DARK_NEBULA,
}
# A galaxy's V fainter than this much above its B is the magnitude of its middle only.
_LEAST_GALAXY_COLOUR = 0.2
_USUAL_COLOURS = (0.2, 1.5)
# Gas and dust; of what is not a cluster, a magnitude in blue light is that of the star within.
_STARLIT = ("Neb", "RfN", "EmN", "HII")
_NEBULAE = (*_STARLIT, "SNR", "DrkN")
_SMALL_BULGE = re.compile(r"S(A?B)?c")
_LARGE_BULGE = re.compile(r"E|E-S0|S0|S0-a|S(A?B)?(a|ab|b|bc)")
# Mean surface brightness, V mag/arcsec², beyond which no early type has a bright middle: dwarf
# spheroidals (from memory; the brightest of them reach 23).
_DWARF_SURFACE = 23.0
_WRITTEN = {"Sharpless": "Sh2-{}"}


def read_ongc() -> list[Row]:
    """Read all objects as text, empty where unknown, with the corrections made by hand."""
    base = sqlite3.connect(f"file:{pyongc.DBPATH}?mode=ro", uri=True)
    base.row_factory = sqlite3.Row
    rows = [
        {key: "" if item[key] is None else str(item[key]) for key in item.keys()}  # noqa: SIM118
        for item in base.execute("SELECT * FROM objects ORDER BY id")
    ]
    identifiers: dict[str, list[str]] = {}
    for name, identifier in base.execute("SELECT name, identifier FROM objIdentifiers"):
        identifiers.setdefault(name, []).append(identifier)
    base.close()
    by_name = {row["name"]: row for row in rows}
    for fix in read_table("deep_sky_fixes"):
        by_name[fix["name"]][fix["field"]] = fix["value"].replace("|", ",")
    for entry in read_table("handbook"):
        take_handbook(by_name[entry["name"]], entry)
    for row in rows:
        row["all_identifiers"] = " ".join(identifiers.get(row["name"], []))
    return rows + more_objects(list(rows[0]))


def more_objects(columns: list[str]) -> list[Row]:
    """Give the objects that OpenNGC lacks, in its columns; its positions are in radians."""
    return [
        dict.fromkeys(columns, "")
        | entry
        | {
            "ra": str(np.radians(float(entry["ra_deg"]))),
            "dec": str(np.radians(float(entry["dec_deg"]))),
        }
        for entry in read_table("more_objects")
    ]


def numbers(rows: list[Row]) -> dict[str, list[str]]:
    """Give the numbers of each object in other catalogues, as people write them.

    Raises
    ------
    SystemExit
        If a number belongs to an object that there is not, or to two.
    """
    known, found = {row["name"] for row in rows}, dict[str, list[str]]()
    for entry in read_table("catalogue_numbers"):
        text = _WRITTEN.get(entry["catalogue"], entry["catalogue"] + " {}").format(entry["number"])
        if entry["name"] not in known or any(text in texts for texts in found.values()):
            raise SystemExit(f"catalogue_numbers.csv: {text} is doubtful")
        found.setdefault(entry["name"], []).append(text)
    return found


def take_handbook(row: Row, entry: Row) -> None:
    """Put the values of a handbook in place of the database's, where the handbook has one."""
    fields = {"magnitude": "vmag", "major_arcmin": "majax", "minor_arcmin": "minax", "type": "type"}
    row.update({ours: entry[theirs] for theirs, ours in fields.items() if entry[theirs]})
    row.update(
        part_arcmin=entry["part_arcmin"], part_magnitude=entry["part_magnitude"], handbook="yes"
    )


def colour_group(row: Row) -> str:
    """Give the group whose usual B - V stands in for an unknown one: kind, galaxies by form."""
    return row["type"] + (row["hubble"][:2] if row["type"] == "G" else "")


def usual_colours(rows: list[Row]) -> dict[str, float]:
    """Give the median B - V of each group with at least five known ones."""
    known: dict[str, list[float]] = {}
    for row in rows:
        if row["vmag"] and row["bmag"]:
            colour = float(row["bmag"]) - float(row["vmag"])
            if _USUAL_COLOURS[0] <= colour <= _USUAL_COLOURS[1]:
                for group in {colour_group(row), row["type"]}:
                    known.setdefault(group, []).append(colour)
    return {group: float(np.median(found)) for group, found in known.items() if len(found) >= 5}


def visual(row: Row, colours: dict[str, float]) -> tuple[float, LightFrom]:
    """Give V and where it comes from; NaN where nothing is known."""
    blue = float(row["bmag"]) if row["bmag"] else np.nan
    if row["vmag"]:
        v = float(row["vmag"])
        if "handbook" in row:
            return v, LightFrom.EYE if row["type"] in _NEBULAE else LightFrom.MEASURED
        if not (row["type"] == "G" and blue - v < _LEAST_GALAXY_COLOUR):
            return v, LightFrom.MEASURED
    if not row["bmag"] or row["type"] in _STARLIT:
        return np.nan, LightFrom.MEASURED
    colour = colours.get(colour_group(row), colours.get(row["type"], colours["G"]))
    return round(blue - colour, 1), LightFrom.BLUE


def bulge(row: Row, magnitude: float) -> Bulge:
    """Say how bright the middle of a galaxy is by its form; dwarfs of early type have none."""
    if not row["type"].startswith("G") or row["type"] == "GCl":
        return Bulge.NONE
    if _SMALL_BULGE.fullmatch(row["hubble"]):
        return Bulge.SMALL
    if not _LARGE_BULGE.fullmatch(row["hubble"]):
        return Bulge.NONE
    if row["majax"] and row["hubble"].startswith("E"):
        area = np.pi / 4.0 * float(row["majax"]) * float(row["minax"] or row["majax"])
        if magnitude + 2.5 * np.log10(area * 3600.0) > _DWARF_SURFACE:
            return Bulge.NONE
    return Bulge.LARGE


def number(row: Row, pattern: str) -> int:
    """Give the number of another catalogue among a row's identifiers, 0 where there is none."""
    match = re.search(pattern, row["all_identifiers"])
    return int(match[1]) if match else 0


def duplicates(rows: list[Row]) -> NDArray[np.int32]:
    """Give the row that each repeated number means, -1 for all others."""
    places = {row["name"]: i for i, row in enumerate(rows)}
    messier = {row["messier"].zfill(3): i for i, row in enumerate(rows) if row["type"] != "Dup"}
    out = np.full(len(rows), -1, "i4")
    for i, row in enumerate(rows):
        if row["type"] != "Dup":
            continue
        named = [
            places.get(f"{prefix}{row[column]}")
            for prefix, column in (("NGC", "ngc"), ("IC", "ic"))
            if row[column]
        ]
        named.append(messier.get(row["messier"].zfill(3)) if row["messier"] else None)
        out[i] = next(j for j in named if j is not None and rows[j]["type"] != "Dup")
    return out


def _floats(rows: list[Row], column: str, kind: str) -> NDArray[np.generic]:
    return np.array([float(row.get(column) or np.nan) for row in rows], dtype=kind)


def _integers(rows: list[Row], kind: str, pick: Callable[[Row], int]) -> NDArray[np.generic]:
    return np.array([pick(row) for row in rows], dtype=kind)


def columns(rows: list[Row]) -> dict[str, NDArray[np.generic]]:
    """Give the arrays of the file."""
    colours = usual_colours(rows)
    magnitudes = [visual(row, colours) for row in rows]
    ra = np.degrees(np.array([float(row["ra"] or 0.0) for row in rows]))
    dec = np.degrees(np.array([float(row["dec"] or 0.0) for row in rows]))
    codes = {name: i for i, name in enumerate(ABBREVIATIONS)}
    kinds = {kind: i for i, kind in enumerate(KINDS)}
    return {
        "name": np.array([row["name"].replace(" ", "_") for row in rows], dtype="S"),
        "kind": _integers(rows, "u1", lambda row: kinds[_KINDS.get(row["type"], Kind.OTHER)]),
        "ra_deg": ra,
        "dec_deg": dec,
        "major_arcmin": _floats(rows, "majax", "f4"),
        "minor_arcmin": _floats(rows, "minax", "f4"),
        "position_angle_deg": _floats(rows, "pa", "f4"),
        "magnitude": np.array([v for v, _light in magnitudes], dtype="f4"),
        "light_from": np.array([LIGHTS.index(light) for _v, light in magnitudes], dtype="u1"),
        "part_arcmin": _floats(rows, "part_arcmin", "f4"),
        "part_magnitude": _floats(rows, "part_magnitude", "f4"),
        "bulge": np.array(
            [
                BULGES.index(bulge(row, v))
                for row, (v, _light) in zip(rows, magnitudes, strict=True)
            ],
            dtype="u1",
        ),
        "surface_brightness": _floats(rows, "sbrightn", "f4"),
        "constellation": np.array(
            [codes[str(name)] for name in constellation_of(ra, dec)], dtype="u1"
        ),
        "messier": _integers(
            rows, "u1", lambda row: 0 if row["type"] == "Dup" else int(row["messier"] or 0)
        ),
        "caldwell": _integers(rows, "u1", lambda row: number(row, r"\bC(\d{3})\b")),
        "ugc": _integers(rows, "i4", lambda row: number(row, r"\bUGC(\d+)\b")),
        "pgc": _integers(rows, "i4", lambda row: number(row, r"\bPGC(\d+)\b")),
        "duplicate_of": duplicates(rows),
        "real": np.array([row["type"] != "NonEx" and row["ra"] != "" for row in rows]),
    }


def common_names(rows: list[Row]) -> dict[str, list[str]]:
    """Give the names in words, the database's own first, then those entered by hand."""
    names: dict[str, list[str]] = {}
    for row in rows:
        for name in filter(None, map(str.strip, row["commonnames"].split(","))):
            names.setdefault(row["name"], []).append(name)
    for entry in read_table("deep_sky_names"):
        found = names.setdefault(entry["name"], [])
        if entry["also"].casefold() not in map(str.casefold, found):
            found.append(entry["also"])
    return names


def build() -> dict[str, NDArray[np.generic]]:
    """Write both files and give the arrays."""
    rows = read_ongc()
    arrays = columns(rows)
    save_arrays("deep_sky.npz", arrays)
    known = {row["name"] for row in rows}
    names = common_names(rows)
    if unknown := set(names) - known:
        raise SystemExit(f"deep_sky_names.csv names objects that do not exist: {unknown}")
    notes = {row["name"]: row["note"] for row in rows if row.get("note")}
    save_json("deep_sky_names.json", {"names": names, "numbers": numbers(rows), "notes": notes})
    return arrays
