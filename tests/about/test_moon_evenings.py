"""The coming evenings' edge of the Moon's night: when, where, and what stands at it."""

from datetime import UTC, datetime, timedelta
from itertools import pairwise

import numpy as np
import pytest

from companion.about import AboutQuestion, MoonEvening, Terminator, about
from companion.about.moon_evenings import NOTABLE, coming_evenings
from companion.about.seeing_power import power_of
from companion.night import Conditions, darkness, find_instrument, night_grid
from companion.sky import (
    DRY_PAN,
    LOON_BARRENS,
    Ephemeris,
    Site,
    body_axes,
    load_catalogue,
    load_moon_features,
)

UTC_NOW = datetime(2026, 11, 18, 20, tzinfo=UTC)


def evenings_of(
    ephemeris: Ephemeris, site: Site, utc: datetime = UTC_NOW, instrument: str = "150"
) -> tuple[MoonEvening, ...]:
    return coming_evenings(
        ephemeris, site, utc, power_of(find_instrument(instrument), Conditions())
    )


def edges_of(evenings: tuple[MoonEvening, ...]) -> list[Terminator]:
    return [one.terminator for one in evenings if one.terminator is not None]


@pytest.mark.parametrize("site", [LOON_BARRENS, DRY_PAN])
def test_seven_evenings_after_dusk_with_the_moon_up(ephemeris: Ephemeris, site: Site) -> None:
    evenings = evenings_of(ephemeris, site)
    assert len(evenings) == 7
    assert all(later.day - one.day == timedelta(days=1) for one, later in pairwise(evenings))
    for edge in edges_of(evenings):
        moment = ephemeris.moment(site, edge.utc)
        assert moment.body("moon").altitude_deg > 7.5
        assert moment.body("moon").altitude_deg == pytest.approx(edge.altitude_deg, abs=0.5)
        dusk = darkness(night_grid(ephemeris, site, edge.utc)).civil.begins_utc
        assert dusk is not None
        assert dusk - timedelta(minutes=2) <= edge.utc <= dusk + timedelta(hours=5, minutes=2)


def test_it_moves_on_by_half_a_degree_an_hour(ephemeris: Ephemeris) -> None:
    """The Sun goes around the Moon in 29.53 days, 12.19° a day (Meeus, ch. 53)."""
    edges = edges_of(evenings_of(ephemeris, LOON_BARRENS))
    for one, later in pairwise(edges):
        days = (later.utc - one.utc) / timedelta(days=1)
        on = (later.colongitude_deg - one.colongitude_deg) % 360.0
        assert on == pytest.approx(12.19 * days, abs=0.15)


def test_the_edge_is_where_the_sun_stands_on_the_horizon(ephemeris: Ephemeris) -> None:
    """Before full Moon where it rises, after it where it sets."""
    edges = edges_of(evenings_of(ephemeris, LOON_BARRENS))
    assert {edge.rising for edge in edges} == {True, False}  # full on 24 November 2026
    for edge in edges:
        aspect = ephemeris.aspect("moon", edge.utc, LOON_BARRENS)
        sun = -aspect.from_sun_km / np.linalg.norm(aspect.from_sun_km)
        axes = body_axes("moon", aspect.days)
        for shift, lit in ((-1.0, not edge.rising), (1.0, edge.rising)):
            angle = np.radians(edge.longitude_deg + shift)
            ground = np.array([np.cos(angle), np.sin(angle), 0.0]) @ axes
            assert (float(ground @ sun) > 0.0) == lit


def test_what_stands_at_it_lies_near_it_and_the_best_known_comes_first(
    ephemeris: Ephemeris,
) -> None:
    features = load_moon_features()
    longitude = dict(zip(features.names, features.longitude_deg.tolist(), strict=True))
    latitude = dict(zip(features.names, features.latitude_deg.tolist(), strict=True))
    for edge in edges_of(evenings_of(ephemeris, LOON_BARRENS)):
        assert 0 < len(edge.features) <= 6
        known = [name in NOTABLE for name in edge.features]
        assert known == sorted(known, reverse=True)
        for name in edge.features:
            if abs(latitude[name]) < 50.0:
                assert abs(longitude[name] - edge.longitude_deg) < 22.0
    assert "Copernicus" in edges_of(evenings_of(ephemeris, LOON_BARRENS))[0].features
    assert set(features.names) >= NOTABLE


def test_evenings_without_the_moon_have_nothing(ephemeris: Ephemeris) -> None:
    waning = evenings_of(ephemeris, LOON_BARRENS, datetime(2026, 12, 2, 20, tzinfo=UTC))
    assert len(waning) == 7
    assert edges_of(waning) == []
    bright = evenings_of(
        ephemeris, Site("north", 70.0, 20.0), datetime(2026, 6, 20, 12, tzinfo=UTC)
    )
    assert len(bright) == 7
    assert edges_of(bright) == []


def test_tonight_counts_while_it_lasts(ephemeris: Ephemeris) -> None:
    late = datetime(2026, 11, 19, 1, tzinfo=UTC)  # 21:00 by the site's clocks
    assert edges_of(evenings_of(ephemeris, LOON_BARRENS, late))[0].utc == late
    after = evenings_of(ephemeris, LOON_BARRENS, late + timedelta(hours=4))
    assert after[0].day.isoformat() == "2026-11-19"
    assert len(after) == 7


def test_the_page_of_a_feature_has_none(ephemeris: Ephemeris) -> None:
    def ask(key: str) -> AboutQuestion:
        target = load_catalogue().target(key)
        eye = find_instrument("eye")
        return AboutQuestion(target, LOON_BARRENS, UTC_NOW, eye, Conditions())

    whole = about(ephemeris, ask("body:moon")).moon
    part = about(ephemeris, ask("moon:Copernicus")).moon
    assert whole is not None
    assert part is not None
    assert len(whole.coming) == 7
    assert all(edge.features == () for edge in edges_of(whole.coming))  # the eye shows no craters
    assert part.coming == ()
