"""The whole NGC and IC, with what Messier and Caldwell add, as columns and as targets."""

import json
import re
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from companion.arrays import BoolArray, FloatArray
from companion.sky.constellation import ABBREVIATIONS
from companion.sky.resources import resource
from companion.sky.target import Bulge, Kind, LightFrom, Target

KINDS = tuple(Kind)  # the order in which the data file numbers them
LIGHTS, BULGES = tuple(LightFrom), tuple(Bulge)  # the same
_NAME = re.compile(r"([A-Za-z]+)(\d+)(.*)\Z")
_WRITTEN_OUT = {"Mel": "Melotte", "Cl": "Collinder", "B": "Barnard", "H": "Harvard"}
# Objects that NGC and IC lack: their names only stand for a number that is kept beside them.
_NUMBERED_BELOW = {"M", "C", "Cr", "Tr", "Stock", "Sh", "Abell", "Mi"}
_ESTIMATED = "brightness estimated from blue light"
_NOT_REAL = "catalogued, but nothing is there"


@dataclass(frozen=True, slots=True, eq=False)
class DeepSkyColumns:
    """All objects, in the order of the data file; every array has shape (n,), NaN is unknown.

    ``magnitude`` is V, and ``light_from`` tells how it is known; ``part_arcmin`` and
    ``part_magnitude`` are of the bright part that is seen of something large.
    ``surface_brightness`` is the mean in B, mag/arcsec², within the 25 mag/arcsec² isophote
    (galaxies only). ``duplicate_of`` is the row of the object that a repeated number means, or -1.
    ``messier``, ``caldwell``, ``ugc``, ``pgc`` are 0 where none.
    """

    name: NDArray[np.str_]
    kind: NDArray[np.uint8]
    ra_deg: FloatArray
    dec_deg: FloatArray
    major_arcmin: NDArray[np.float32]
    minor_arcmin: NDArray[np.float32]
    position_angle_deg: NDArray[np.float32]
    magnitude: NDArray[np.float32]
    part_arcmin: NDArray[np.float32]
    part_magnitude: NDArray[np.float32]
    light_from: NDArray[np.uint8]
    bulge: NDArray[np.uint8]
    surface_brightness: NDArray[np.float32]
    constellation: NDArray[np.uint8]
    messier: NDArray[np.uint8]
    caldwell: NDArray[np.uint8]
    ugc: NDArray[np.int32]
    pgc: NDArray[np.int32]
    duplicate_of: NDArray[np.int32]
    real: BoolArray


@dataclass(eq=False)
class DeepSky:
    """Columns with the names that belong to them; targets are made on first use."""

    columns: DeepSkyColumns
    names: dict[str, list[str]]  # catalogue name -> common names, best known first
    numbers: dict[str, list[str]]  # catalogue name -> numbers in other catalogues
    notes: dict[str, str]

    @cached_property
    def rows(self) -> dict[str, int]:
        """Row of each catalogue name such as ``NGC0224``."""
        return {name: row for row, name in enumerate(self.columns.name.tolist())}

    @cached_property
    def repeats(self) -> dict[int, list[int]]:
        """Rows of the repeated numbers of each object that has some."""
        found: dict[int, list[int]] = {}
        for row in np.flatnonzero(self.columns.duplicate_of >= 0).tolist():
            found.setdefault(self.original(row), []).append(row)
        return found

    @cached_property
    def messier_rows(self) -> dict[int, int]:
        """Row of each Messier number."""
        return _numbered(self.columns.messier)

    @cached_property
    def caldwell_rows(self) -> dict[int, int]:
        """Row of each Caldwell number."""
        return _numbered(self.columns.caldwell)

    @cached_property
    def ugc_rows(self) -> dict[int, int]:
        """Row of each UGC number."""
        return _numbered(self.columns.ugc)

    @cached_property
    def pgc_rows(self) -> dict[int, int]:
        """Row of each PGC number."""
        return _numbered(self.columns.pgc)

    @cached_property
    def targets(self) -> tuple[Target, ...]:
        """Every object that is really there, once."""
        keep = self.columns.real & (self.columns.duplicate_of < 0)
        return tuple(self.target(row) for row in np.flatnonzero(keep).tolist())

    def original(self, row: int) -> int:
        """Follow a repeated number to the row of the object it means."""
        other = int(self.columns.duplicate_of[row])
        return row if other < 0 else other

    def has_place(self, row: int) -> bool:
        """Say whether a row has a position; a few lost objects have none (zeros in the file)."""
        return bool(self.columns.ra_deg[row] or self.columns.dec_deg[row])

    def target(self, row: int) -> Target:
        """Make the target of a row; a repeated number gives the object that it means."""
        c, row = self.columns, self.original(row)
        name = str(c.name[row])
        designations = self.designations(row)
        common = list(self.names.get(name, []))
        for repeat in self.repeats.get(row, ()):
            common += self.names.get(str(c.name[repeat]), [])
            designations += self.designations(repeat)
        # A number is said before a name, except the numbers that hardly anybody knows.
        numbered = bool(c.messier[row]) or name.startswith(("NGC", "IC"))
        shown = (designations if numbered or not common else common)[0]
        return Target(
            key=f"ngc:{name}",
            name=shown,
            kind=KINDS[c.kind[row]],
            ra_deg=float(c.ra_deg[row]),
            dec_deg=float(c.dec_deg[row]),
            magnitude=_known(c.magnitude[row]),
            major_arcmin=_known(c.major_arcmin[row]),
            minor_arcmin=_known(c.minor_arcmin[row]),
            part_arcmin=_known(c.part_arcmin[row]),
            part_magnitude=_known(c.part_magnitude[row]),
            light_from=LIGHTS[c.light_from[row]],
            bulge=BULGES[c.bulge[row]],
            position_angle_deg=_known(c.position_angle_deg[row]),
            constellation=ABBREVIATIONS[c.constellation[row]],
            aliases=tuple(a for a in (*common, *designations) if a != shown),
            note=self._note(row),
        )

    def _note(self, row: int) -> str:
        """Say what a person should know before looking."""
        if not self.columns.real[row]:
            return _NOT_REAL
        parts = [self.notes.get(str(self.columns.name[row]), "")]
        estimated = LIGHTS[self.columns.light_from[row]] is LightFrom.BLUE
        parts += [_ESTIMATED] if estimated else []
        return "; ".join(filter(None, parts))

    def designations(self, row: int) -> list[str]:
        """Give the catalogue numbers of a row as people write them, Messier first."""
        c, name = self.columns, str(self.columns.name[row])
        found = []
        if c.messier[row]:
            found.append(f"M {c.messier[row]}")
        spaced = _spaced(name)
        if spaced and spaced not in found:
            found.append(spaced)
        if c.caldwell[row]:
            found.append(f"C {c.caldwell[row]}")
        return list(dict.fromkeys((*found, *self.numbers.get(name, ()))))


def load_deep_sky() -> DeepSky:
    """Read ``resources/deep_sky.npz`` and ``resources/deep_sky_names.json``."""
    with np.load(resource("deep_sky.npz"), allow_pickle=False) as file:
        arrays = {key: file[key] for key in file.files}
    arrays["name"] = arrays["name"].astype(np.str_)
    words = json.loads(resource("deep_sky_names.json").read_text(encoding="utf-8"))
    return DeepSky(DeepSkyColumns(**arrays), words["names"], words["numbers"], words["notes"])


def _numbered(column: NDArray[np.integer]) -> dict[int, int]:
    """Map each number above zero to its first row."""
    rows = np.flatnonzero(column)[::-1].tolist()
    return {int(column[row]): row for row in rows}


def _known(value: np.floating) -> float | None:
    """Turn NaN into None, and single precision into the shortest decimal that means it."""
    return None if np.isnan(value) else float(str(np.float32(value)))


def _spaced(name: str) -> str:
    """Write ``NGC0224`` as ``NGC 224``; empty for names that only stand for another number."""
    match = _NAME.match(name)
    if match is None or match[1] in _NUMBERED_BELOW:
        return ""
    prefix = _WRITTEN_OUT.get(match[1], match[1])
    return f"{prefix} {match[2].lstrip('0')}{match[3].replace('_', ' ')}"
