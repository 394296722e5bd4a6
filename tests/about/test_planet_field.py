"""Uranus and Neptune among the stars: which stand with them, and how they are told from those."""

import math
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from companion.about import About, AboutQuestion, about
from companion.about.planet_field import field_words
from companion.about.record import FieldStar, PlanetField
from companion.night import Conditions, find_instrument
from companion.sky import LOON_BARRENS, Ephemeris, load_catalogue, load_faint_stars, unit_vectors

UTC_NOW = datetime(2026, 11, 26, 23, 14, tzinfo=UTC)
SIGHT = 0.02  # degrees: what aberration and the motion of stars since their epoch may shift


def page_of(ephemeris: Ephemeris, body: str, instrument: str, utc: datetime = UTC_NOW) -> About:
    target = load_catalogue().target(f"body:{body}")
    question = AboutQuestion(target, LOON_BARRENS, utc, find_instrument(instrument), Conditions())
    return about(ephemeris, question)


def field_of(page: About) -> PlanetField:
    assert page.planet is not None
    assert page.planet.field is not None
    return page.planet.field


@pytest.mark.parametrize("body", ["uranus", "neptune"])
@pytest.mark.parametrize("instrument", ["10x50", "150"])
def test_the_stars_are_those_of_the_catalogues(
    ephemeris: Ephemeris, body: str, instrument: str
) -> None:
    """Counted anew from the columns around the apparent place that the aim uses."""
    field = field_of(page_of(ephemeris, body, instrument))
    seen = ephemeris.moment(LOON_BARRENS, UTC_NOW).body(body)
    here = unit_vectors(seen.ra_deg, seen.dec_deg)
    counts = []
    for reach in (field.field_deg / 2.0 - SIGHT, field.field_deg / 2.0 + SIGHT):
        count = 0
        for columns in (load_catalogue().stars, load_faint_stars()):
            there = unit_vectors(columns.ra_deg, columns.dec_deg)
            near = there @ here > math.cos(math.radians(reach))
            count += int(np.count_nonzero(near & (columns.magnitude <= 10.0)))
        counts.append(count)
    assert counts[0] <= len(field.stars) <= counts[1]
    assert max(one.separation_deg for one in field.stars) <= field.field_deg / 2.0


def test_it_moves_as_its_apparent_places_do(ephemeris: Ephemeris) -> None:
    field = field_of(page_of(ephemeris, "uranus", "150"))
    places = [
        ephemeris.moment(LOON_BARRENS, UTC_NOW + timedelta(days=day)).body("uranus")
        for day in (0, 1)
    ]
    east = (places[1].ra_deg - places[0].ra_deg) * math.cos(math.radians(places[0].dec_deg))
    north = places[1].dec_deg - places[0].dec_deg
    # Aberration alone shifts what stands opposite the Sun by 0.35″ in a day.
    assert field.moves_deg == pytest.approx(math.hypot(east, north), abs=0.5 / 3600.0)
    way = math.degrees(math.atan2(east, north)) % 360.0
    assert field.moves_position_angle_deg == pytest.approx(way, abs=1.0)
    assert 180.0 < field.moves_position_angle_deg < 360.0  # opposite the Sun planets go west


def test_the_magnitude_decides_what_is_said() -> None:
    beside = (
        FieldStar("HIP 1", 4.5, 0.3, 90.0),
        FieldStar("HIP 2", 5.8, 0.4, 180.0),
        FieldStar("", 9.0, 0.1, 270.0),
    )
    field = PlanetField(5.7, 1.2, 10.0, beside, 0.04, 270.0)
    said = field_words(field)
    assert said[0] == "In a field of 1.2°, 3 stars stand with it to magnitude 10.0."
    assert said[1] == "One of them is brighter than it: HIP 1 of magnitude 4.5, 18′ to its east."
    assert said[2] == "One of them is about as bright: HIP 2 of magnitude 5.8, 24′ to its south."
    assert said[3] == (
        "It stands 6.0′ east of the nearest of them, one of magnitude 9.0, which is 3.3 magnitudes "
        "fainter."
    )
    assert said[4] == "By this time tomorrow it moves 2.4′ towards the west; the stars stay."
    alone = PlanetField(5.7, 1.2, 10.0, beside[2:], 0.04, 270.0)
    assert field_words(alone)[1] == "It is the brightest of them all."
    empty = PlanetField(5.7, 0.2, 10.0, (), 0.04, 270.0)
    assert field_words(empty)[0].startswith("It stands alone")


def test_what_the_instrument_does_not_show_is_not_told_apart(ephemeris: Ephemeris) -> None:
    page = page_of(ephemeris, "neptune", "eye")
    assert page.planet is not None
    assert page.planet.field is None
    assert page.look_for == ()
    assert "does not show by eye here" in page.says[-1]
    assert page_of(ephemeris, "pluto", "10x50").look_for == ()


def test_near_the_sun_nothing_is_said_of_stars(ephemeris: Ephemeris) -> None:
    """Uranus stands with the Sun in late May 2027."""
    page = page_of(ephemeris, "uranus", "150", datetime(2027, 5, 25, 12, tzinfo=UTC))
    assert page.planet is not None
    assert page.planet.field is None
    assert page.caution


def test_the_picture_has_the_planet_named_among_them(ephemeris: Ephemeris) -> None:
    page = page_of(ephemeris, "uranus", "150")
    field = field_of(page)
    assert page.picture is not None
    assert len(page.picture.dots) == len(field.stars) + 1
    reach = page.picture.field_arcsec
    assert reach == pytest.approx(field.field_deg * 1800.0)
    assert all(math.hypot(dot.x, dot.y) <= reach for dot in page.picture.dots if reach)
    assert page.picture.labels[0].text == "Uranus"
    assert page.picture.labels[1].text == f"{field.stars[0].magnitude:.1f}"
