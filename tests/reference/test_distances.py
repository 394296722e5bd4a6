"""Distances of well-known objects against what handbooks and Gaia's second release give.

All values of ``distances_handbook.csv`` are from memory. The tolerances were set before any value
was looked at: what handbooks of the last twenty years differ by, kind by kind. M 39 stands 825
light years away in handbooks before Gaia's parallaxes and 980 since; the later value is used. Three
planetary nebulae, NGC 3242, 7009 and 7662, are told so differently that the program gives none.
"""

import csv
from pathlib import Path

import pytest

from companion.about import AboutQuestion, about
from companion.night import Conditions, find_instrument
from companion.sky import FIRST_UTC, LOON_BARRENS, Ephemeris, load_search

TABLE = Path(__file__).parent / "distances_handbook.csv"
ROWS = tuple(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))
# Parts of the value.
TOLERANCE = {
    "near star": 0.02,  # within 60 light years
    "star": 0.06,
    "far star": 0.15,  # parallaxes under 15 mas
    "galaxy": 0.2,
    "globular": 0.15,
    "open cluster": 0.2,
    "nebula": 0.3,
    "planetary": 0.4,
}
WHEN = FIRST_UTC.replace(year=2026)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["name"])
def test_distance(ephemeris: Ephemeris, row: dict[str, str]) -> None:
    target = load_search().resolve(row["name"])
    question = AboutQuestion(target, LOON_BARRENS, WHEN, find_instrument("10x50"), Conditions())
    told = about(ephemeris, question).figures.distance_ly
    assert told == pytest.approx(float(row["distance_ly"]), rel=TOLERANCE[row["kind"]])


def test_there_are_enough_of_them() -> None:
    assert len(ROWS) >= 130
    assert len({row["name"] for row in ROWS}) == len(ROWS)
