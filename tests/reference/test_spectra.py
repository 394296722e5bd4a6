"""Spectral classes of bright stars against those of handbooks (Bright Star Catalogue; from memory).

Set before looking: authors differ by up to two subclasses.
"""

from datetime import UTC, datetime

import pytest

from companion.about import About, AboutQuestion, about
from companion.night import Conditions, find_instrument
from companion.sky import LOON_BARRENS, Ephemeris, load_search

SUBCLASSES = 2
HANDBOOK = {
    "Sirius": "A1", "Canopus": "F0", "Rigil Kentaurus": "G2", "Arcturus": "K1", "Vega": "A0",
    "Rigel": "B8", "Procyon": "F5", "Betelgeuse": "M2", "Altair": "A7", "Aldebaran": "K5",
    "Antares": "M1", "Spica": "B1", "Pollux": "K0", "Fomalhaut": "A3", "Deneb": "A2",
    "Regulus": "B7", "Castor": "A1", "Gacrux": "M3", "Bellatrix": "B2", "Alnilam": "B0",
    "Alnitak": "O9", "Mirfak": "F5", "Polaris": "F7", "Alphard": "K3", "Hamal": "K2",
    "Algol": "B8", "Denebola": "A3", "Kochab": "K4", "Mirach": "M0", "Scheat": "M2",
    "Wezen": "F8", "Sadr": "F8", "Eltanin": "K5", "Mizar": "A2", "Naos": "O4", "Nihal": "G5",
}  # fmt: skip


def page_of(ephemeris: Ephemeris, name: str) -> About:
    target = load_search().resolve(name)
    utc, eye = datetime(2026, 11, 18, 23, tzinfo=UTC), find_instrument("eye")
    return about(ephemeris, AboutQuestion(target, LOON_BARRENS, utc, eye, Conditions()))


@pytest.mark.parametrize("name", HANDBOOK)
def test_class(ephemeris: Ephemeris, name: str) -> None:
    page = page_of(ephemeris, name)
    assert page.spectral_class is not None
    assert abs(step_of(page.spectral_class) - step_of(HANDBOOK[name])) <= SUBCLASSES
    assert any(f"class {page.spectral_class}:" in said for said in page.says)
    assert "ephem" in page.sources["spectral class"]


@pytest.mark.parametrize("name", ["Capella", "Almach", "Dubhe", "Izar", "hip 100"])
def test_what_no_source_has_rightly_is_left_out(ephemeris: Ephemeris, name: str) -> None:
    page = page_of(ephemeris, name)
    assert page.spectral_class is None
    assert "spectral class" not in page.sources


def step_of(spectrum: str) -> int:
    return "OBAFGKM".index(spectrum[0]) * 10 + int(spectrum[1])
