"""Stars to compare a variable one with: steady, single, around its range, and drawn."""

import math
from datetime import UTC, datetime

import numpy as np
import pytest

from companion.about import About, AboutQuestion, about
from companion.about.comparison import comparison
from companion.about.field import field_around, polar_of
from companion.about.record import FieldStar
from companion.about.seeing_power import power_of
from companion.night import Conditions, find_instrument
from companion.sky import (
    LOON_BARRENS,
    Ephemeris,
    StarName,
    load_catalogue,
    load_search,
    unit_vectors,
)

UTC_NOW = datetime(2026, 11, 18, 23, 14, tzinfo=UTC)
VARIABLES = tuple(load_catalogue().names.variables)


def question_of(hip: int, instrument: str) -> AboutQuestion:
    target = load_catalogue().star(hip)
    return AboutQuestion(target, LOON_BARRENS, UTC_NOW, find_instrument(instrument), Conditions())


def page_of(ephemeris: Ephemeris, name: str, instrument: str) -> About:
    hip = int(load_search().resolve(name).key[4:])
    return about(ephemeris, question_of(hip, instrument))


def stars_of(hip: int, instrument: str) -> tuple[FieldStar, ...]:
    question = question_of(hip, instrument)
    power = power_of(question.instrument, question.conditions)
    return comparison(load_catalogue().names.variables[hip], question, power).stars


@pytest.mark.parametrize("instrument", ["eye", "10x50", "150"])
@pytest.mark.parametrize("hip", VARIABLES)
def test_every_variable_has_three_to_six_around_its_range(hip: int, instrument: str) -> None:
    """Down to what the instrument shows, and to what the catalogue has: magnitude 10.2."""
    star = load_catalogue().names.variables[hip]
    found = stars_of(hip, instrument)
    assert 3 <= len(found) <= 6
    magnitudes = [one.magnitude for one in found]
    assert magnitudes == sorted(magnitudes)
    assert magnitudes[0] <= star.brightest
    question = question_of(hip, instrument)
    shown = power_of(question.instrument, question.conditions).limit_magnitude
    reached = (
        min(star.faintest, 10.2) if shown < star.brightest else min(shown, star.faintest, 10.2)
    )
    assert magnitudes[-1] >= reached - 0.7
    if star.faintest < min(shown - 1.0, 9.0):
        assert magnitudes[-1] >= star.faintest


@pytest.mark.parametrize("hip", VARIABLES)
def test_none_of_them_varies_as_far_as_known(hip: int) -> None:
    catalogue = load_catalogue()
    called: dict[str, StarName] = {one.best(): one for one in catalogue.names.stars.values()}
    for one in stars_of(hip, "150"):
        number = called[one.name].hip if one.name in called else int(one.name.split()[1])
        assert number not in catalogue.names.variables
        known = catalogue.names.stars.get(number)
        assert known is None or not known.variable
        row = catalogue.stars.row(number)
        assert row is not None
        assert catalogue.stars.scatter_mag[row] < 0.09


def test_algol_is_compared_with_what_observers_use(ephemeris: Ephemeris) -> None:
    """Mirfak (1.79) and ε and δ Per (2.89, 3.01) are in every guide (magnitudes from memory)."""
    stars = {one.name: one for one in page_of(ephemeris, "algol", "eye").comparison_stars}
    assert {"Mirfak", "ε Per", "δ Per"} <= set(stars)
    assert stars["Mirfak"].magnitude == pytest.approx(1.79, abs=0.03)
    # Algol 3h08.2m +40°57′, Mirfak 3h24.3m +49°52′ (from memory): 9.4° to the north by east.
    assert stars["Mirfak"].separation_deg == pytest.approx(9.4, abs=0.1)
    assert stars["Mirfak"].position_angle_deg == pytest.approx(16.3, abs=1.0)


def test_separation_and_angle_are_those_on_the_sphere() -> None:
    """By the spherical triangle: cosine rule and four-part formula."""
    ra, dec = np.array([40.0, 55.0, 47.5]), np.array([41.0, 30.0, 60.0])
    here = unit_vectors(47.0, 41.0)
    apart, angle = polar_of(here, unit_vectors(ra, dec))
    a, d, d0 = np.radians(ra - 47.0), np.radians(dec), math.radians(41.0)
    cosine = math.sin(d0) * np.sin(d) + math.cos(d0) * np.cos(d) * np.cos(a)
    assert apart == pytest.approx(np.degrees(np.arccos(cosine)))
    east = np.sin(a) * np.cos(d)
    north = math.cos(d0) * np.sin(d) - math.sin(d0) * np.cos(d) * np.cos(a)
    assert angle == pytest.approx(np.degrees(np.arctan2(east, north)) % 360.0)


def test_a_field_holds_all_stars_of_both_catalogues() -> None:
    here = unit_vectors(150.0, 20.0)
    field = field_around(here, 2026.9, 3.0, 9.0)
    assert field.separation_deg.max() <= 3.0
    assert field.magnitude.max() <= 9.0
    assert np.all(np.diff(field.magnitude) >= 0.0)
    assert np.count_nonzero(field.hip) > 20
    wider = field_around(here, 2026.9, 6.0, 9.0)
    assert np.count_nonzero(wider.separation_deg <= 3.0) == len(field.hip)


def test_they_are_drawn_with_their_magnitudes(ephemeris: Ephemeris) -> None:
    page = page_of(ephemeris, "r leo", "150")
    assert page.picture is not None
    texts = [label.text for label in page.picture.labels]
    for one in page.comparison_stars:
        assert any(text.startswith(f"{one.magnitude:.1f}") for text in texts)
    radius = page.picture.radius_arcsec
    assert all(math.hypot(label.x, label.y) < radius for label in page.picture.labels)
    # In a Newtonian, turned as it shows it: what lies north is drawn where north is marked.
    north = math.radians(page.picture.north_deg or 0.0)
    for one in page.comparison_stars:
        if one.separation_deg * 3600.0 > radius:
            continue
        toward = one.separation_deg * 3600.0 * math.cos(math.radians(one.position_angle_deg))
        along = [
            label.x * math.sin(north) + label.y * math.cos(north)
            for label in page.picture.labels
            if label.text == f"{one.magnitude:.1f}"
        ]
        assert min(abs(value - toward) for value in along) < 1.0


def test_what_lacks_at_an_end_is_said(ephemeris: Ephemeris) -> None:
    assert any("larger instrument" in said for said in page_of(ephemeris, "r crb", "eye").says)
    assert any("as faint as it gets" in said for said in page_of(ephemeris, "r leo", "150").says)
    assert not page_of(ephemeris, "vega", "eye").comparison_stars
