"""A feature of the Moon as a target: found by name, aimed at in its place, told of."""

from datetime import UTC, datetime

import numpy as np
import pytest

from companion.about import AboutQuestion, about
from companion.night import Conditions, find_instrument
from companion.sky import (
    LOON_BARRENS,
    MOON,
    Ephemeris,
    TargetTable,
    load_catalogue,
    load_search,
    separation_deg,
)

UTC_NOW = datetime(2026, 10, 18, 23, 14, tzinfo=UTC)


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("crater copernicus", "moon:Copernicus"),  # a star is called so, too
        ("tycho", "moon:Tycho"),
        ("mare crisium", "moon:Mare Crisium"),
        ("crater atlas", "moon:Atlas"),
        ("atlas", "hip:17847"),  # the star's name comes first
        ("Copernicus A", "moon:Copernicus A"),
        ("moon:Tycho", "moon:Tycho"),
    ],
)
def test_features_answer_to_their_names(text: str, key: str) -> None:
    assert load_search().resolve(text).key == key
    assert load_catalogue().target(key).key == key


def test_features_are_found_while_they_are_typed() -> None:
    assert "moon:Copernicus" in [hit.target.key for hit in load_search().find("coperni")]


def test_a_feature_stands_where_its_page_draws_it(ephemeris: Ephemeris) -> None:
    search = load_search()
    targets = [MOON, *(search.resolve(name) for name in ("mare crisium", "tycho", "plato"))]
    moment = ephemeris.moment(LOON_BARRENS, UTC_NOW)
    vectors = moment.apparent(TargetTable.of(targets, UTC_NOW))
    page = about(
        ephemeris,
        AboutQuestion(MOON, LOON_BARRENS, UTC_NOW, find_instrument("150"), Conditions()),
    ).moon
    assert page is not None
    ground, radius = page.ground, page.here.diameter_arcsec / 2.0
    for at, target in enumerate(targets[1:], start=1):
        row = ground.features.names.index(target.name)
        drawn = radius * float(np.hypot(ground.east[row], ground.north[row]))
        apart = float(separation_deg(vectors[0], vectors[at])) * 3600.0
        assert apart == pytest.approx(drawn, abs=1.5)


def test_the_page_of_a_feature(ephemeris: Ephemeris) -> None:
    page = about(
        ephemeris,
        AboutQuestion(
            load_search().resolve("albategnius"),
            LOON_BARRENS,
            UTC_NOW,
            find_instrument("150"),
            Conditions(),
        ),
    )
    assert page.says[0] == "Albategnius is a crater on the Moon, 130 kilometres across."
    assert "Part of its floor lies in shadow." in page.says
    assert page.figures.true_size_km == pytest.approx(131.0, abs=2.0)
    assert page.picture is not None
    assert [label.text for label in page.picture.labels] == ["Albategnius"]


def test_the_page_of_what_lies_beyond_the_edge(ephemeris: Ephemeris) -> None:
    away = "Einstein"  # 89° west: libration takes it round the limb and back
    said = [
        about(
            ephemeris,
            AboutQuestion(
                load_search().resolve(away),
                LOON_BARRENS,
                datetime(2026, 10, day, 23, 14, tzinfo=UTC),
                find_instrument("150"),
                Conditions(),
            ),
        ).says
        for day in range(1, 29, 6)
    ]
    beyond = [any("turned away" in words for words in one) for one in said]
    assert any(beyond)
    assert not all(beyond)
