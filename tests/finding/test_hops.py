from dataclasses import replace
from datetime import UTC, datetime
from itertools import pairwise

import numpy as np
import pytest

from companion.finding import FieldStars, Hops, Optics, Place, Viewing, hops_to, seen_vectors
from companion.sky import (
    DRY_PAN,
    LOON_BARRENS,
    Catalogue,
    Ephemeris,
    Moment,
    SearchIndex,
    TargetTable,
    separation_deg,
    unit_vectors,
)

NIGHT = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
SOUTHERN_NIGHT = datetime(2026, 10, 10, 19, 14, tzinfo=UTC)


def finder(field_deg: float = 6.0, viewing: Viewing = Viewing.TURNED) -> Optics:
    return Optics("finder", 8.0, field_deg, 6.25, 7.5, viewing)


def field_stars(catalogue: Catalogue, moment: Moment, limit: float = 6.5) -> FieldStars:
    rows = catalogue.stars.brighter_than(limit)
    vectors = unit_vectors(catalogue.stars.ra_deg[rows], catalogue.stars.dec_deg[rows])
    seen = moment.horizontal_of(vectors)
    return FieldStars.of(
        catalogue.stars,
        rows,
        seen.azimuth_deg,
        seen.altitude_deg,
        lambda hip: catalogue.star(hip).name,
    )


def place_of(search: SearchIndex, moment: Moment, name: str) -> Place:
    target = search.resolve(name)
    seen = moment.horizontal(TargetTable.of([target], moment.utc))
    return Place(
        seen_vectors(seen.azimuth_deg, seen.altitude_deg)[0], target.name, target.magnitude
    )


@pytest.fixture(scope="module")
def moment(ephemeris: Ephemeris) -> Moment:
    return ephemeris.moment(LOON_BARRENS, NIGHT)


@pytest.fixture(scope="module")
def stars(catalogue: Catalogue, moment: Moment) -> FieldStars:
    return field_stars(catalogue, moment)


def check(hops: Hops, stars: FieldStars, place: Place, look: Optics) -> None:
    """A way is unbroken, starts bright, ends at the target and never leaves the field."""
    row = {int(hip): i for i, hip in enumerate(stars.hip)}
    for steps in (hops.steps, hops.second):
        if not steps:
            continue
        assert stars.magnitude[row[steps[0].start_hip]] <= 4.2
        for before, after in pairwise(steps):
            assert before.hip == after.start_hip
        assert steps[-1].name == place.name
        for step in steps:
            assert step.fields < 0.8
            end = seen_vectors(step.azimuth_deg, step.altitude_deg)
            start = stars.vectors[row[step.start_hip]]
            assert float(separation_deg(start, end)) == pytest.approx(step.leg_deg, abs=1e-6)
            assert step.sentence.endswith(".")
        assert np.allclose(
            seen_vectors(steps[-1].azimuth_deg, steps[-1].altitude_deg), place.vector
        )


@pytest.mark.parametrize(
    "name", ["M 31", "M 13", "M 57", "M 27", "M 15", "NGC 869", "Saturn", "M 11", "NGC 7293"]
)
def test_hops_lead_from_a_bright_star_to_the_target(
    name: str, stars: FieldStars, search: SearchIndex, moment: Moment
) -> None:
    place = place_of(search, moment, name)
    hops = hops_to(stars, place, finder())
    assert hops.steps
    assert hops.second
    assert not hops.advice
    used = {step.hip for step in hops.steps if step.hip}
    assert not used & {step.hip for step in hops.second if step.hip}
    check(hops, stars, place, finder())


def test_the_andromeda_galaxy_goes_by_mirach_and_mu(
    stars: FieldStars, search: SearchIndex, moment: Moment
) -> None:
    """The way that everybody goes: Mirach, μ, ν (common practice, no source)."""
    hops = hops_to(stars, place_of(search, moment, "M 31"), finder())
    assert hops.steps[0].start_name == "Mirach"
    assert hops.steps[0].name == "μ And"


def test_directions_are_those_of_the_instrument(
    stars: FieldStars, search: SearchIndex, moment: Moment
) -> None:
    place = place_of(search, moment, "M 15")
    upright, turned, mirrored = (
        hops_to(stars, place, finder(viewing=viewing)).steps[0] for viewing in Viewing
    )
    assert upright.view == upright.push
    assert (turned.view_angle_deg - upright.view_angle_deg) % 360 == pytest.approx(180.0)
    assert mirrored.view_angle_deg == pytest.approx(360.0 - upright.view_angle_deg)
    assert upright.push == turned.push == mirrored.push
    # Enif stands lower and to the left of M 15 as the sky is seen: up and to the right it goes.
    start = stars.vectors[list(stars.hip).index(upright.start_hip)]
    assert place.vector[2] > start[2]
    assert upright.push.startswith("up")
    assert upright.clock in {12, 1, 2, 11, 10}
    assert f"{upright.clock} o'clock" in upright.sentence


def test_the_second_way_is_taken_when_the_first_star_is_hidden(
    stars: FieldStars, search: SearchIndex, moment: Moment
) -> None:
    place = place_of(search, moment, "M 31")
    hops = hops_to(stars, place, finder())
    hidden = stars.hip != hops.steps[0].hip
    fewer = FieldStars(
        stars.hip[hidden],
        stars.magnitude[hidden],
        stars.colour_index[hidden],
        stars.vectors[hidden],
        stars.by_eye[hidden],
        stars.name_of,
    )
    again = hops_to(fewer, place, finder())
    assert again.steps
    assert again.steps[0].hip != hops.steps[0].hip


def test_a_route_starts_from_what_the_eye_finds(
    stars: FieldStars, search: SearchIndex, moment: Moment
) -> None:
    """In early twilight the finder shows Enif already, which the eye does not."""
    place = place_of(search, moment, "M 15")
    bright = replace(stars, by_eye=stars.magnitude < 1.0)
    assert hops_to(stars, place, finder()).steps[0].start_name == "Enif"
    assert all(hop.start_name != "Enif" for hop in hops_to(bright, place, finder()).steps[:1])
    none = replace(stars, by_eye=np.zeros(len(stars.hip), np.bool_))
    hops = hops_to(none, place, finder())
    assert not hops.steps
    assert "The eye finds no star yet" in hops.advice


@pytest.mark.parametrize("field_deg", [0.1, 0.5])
def test_a_field_too_small_is_said(
    field_deg: float, stars: FieldStars, search: SearchIndex, moment: Moment
) -> None:
    hops = hops_to(stars, place_of(search, moment, "M 27"), finder(field_deg))
    assert not hops.steps
    assert f"{field_deg:g}°" in hops.advice
    assert "wider" in hops.advice


def test_a_huge_field_keeps_its_legs_short(
    stars: FieldStars, search: SearchIndex, moment: Moment
) -> None:
    look = finder(60.0, Viewing.UPRIGHT)
    place = place_of(search, moment, "M 27")
    hops = hops_to(stars, place, look)
    check(hops, stars, place, look)
    assert all(step.leg_deg <= 16.0 for step in hops.steps)


def test_bright_things_are_pointed_at(
    stars: FieldStars, search: SearchIndex, moment: Moment
) -> None:
    for name in ("Vega", "Saturn"):
        place = place_of(search, moment, name)
        if name == "Saturn":
            place = Place(place.vector, place.name, 0.5)
        hops = hops_to(stars, place, finder())
        assert not hops.steps
        assert "straight at it" in hops.advice


def test_no_way_below_the_horizon_or_by_day(
    catalogue: Catalogue, stars: FieldStars, search: SearchIndex, moment: Moment
) -> None:
    assert (
        "below the horizon" in hops_to(stars, place_of(search, moment, "Regulus"), finder()).advice
    )
    day = field_stars(catalogue, moment, -5.0)
    assert "too bright" in hops_to(day, place_of(search, moment, "M 27"), finder()).advice


def test_hops_at_the_pole_the_zenith_and_in_the_south(
    catalogue: Catalogue, search: SearchIndex, stars: FieldStars, ephemeris: Ephemeris
) -> None:
    for azimuth_deg, altitude_deg in ((0.0, 45.2), (0.0, 90.0), (180.0, 89.9)):
        place = Place(seen_vectors(azimuth_deg, altitude_deg), "there")
        hops = hops_to(stars, place, finder())
        assert hops.steps
        check(hops, stars, place, finder())
    south = ephemeris.moment(DRY_PAN, SOUTHERN_NIGHT)
    southern = field_stars(catalogue, south)
    for name in ("NGC 104", "NGC 253", "M 7"):
        place = place_of(search, south, name)
        hops = hops_to(southern, place, finder())
        assert hops.steps
        check(hops, southern, place, finder())


def test_landmarks_are_told(stars: FieldStars, search: SearchIndex, moment: Moment) -> None:
    names = ("M 31", "M 13", "M 57", "M 27", "M 15", "NGC 869", "M 11", "M 2")
    steps = [
        step
        for name in names
        for step in hops_to(stars, place_of(search, moment, name), finder()).steps
    ]
    words = " ".join(step.landmark for step in steps)
    assert "brightest in the field" in words
    assert "triangle" in words
    assert "row of three" in words
    assert sum(bool(step.landmark) for step in steps) > 0.9 * len(steps)
