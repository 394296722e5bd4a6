"""Grades and their words: what helps, what costs, what nobody knows, and the Sun."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime
from functools import cache

import numpy as np
import pytest
from hypothesis import given, strategies as st

from companion.finding import InstrumentKind
from companion.night.hours.grid import NightGrid, night_grid
from companion.night.hours.places import Places, spots_at
from companion.night.sight.grades import GRADES, Grade, grade_numbers
from companion.night.sight.instruments import find_instrument
from companion.night.sight.judgement import judge
from companion.night.sight.objects import NightObjects
from companion.night.sight.observer import Conditions
from companion.night.sight.views import views_of
from companion.night.sight.visibility import Visibility, visibility_of
from companion.sky import LOON_BARRENS, Ephemeris, Kind, SearchIndex, Site, Target, load_catalogue

AUTUMN = datetime(2026, 10, 11, 1, tzinfo=UTC)
MOONLIT = datetime(2026, 12, 24, 0, tzinfo=UTC)


def look(
    ephemeris: Ephemeris,
    target: Target,
    through: str,
    utc: datetime = AUTUMN,
    conditions: Conditions | None = None,
    site: Site = LOON_BARRENS,
) -> Visibility:
    (found,) = looks(ephemeris, [target], through, utc, conditions, site)
    return found


def looks(
    ephemeris: Ephemeris,
    targets: Sequence[Target],
    through: str,
    utc: datetime = AUTUMN,
    conditions: Conditions | None = None,
    site: Site = LOON_BARRENS,
) -> tuple[Visibility, ...]:
    """Judge targets at the step of the night's grid that is nearest to a moment."""
    conditions = conditions or Conditions.at(site)
    instrument = find_instrument(through)
    grid = grid_of(ephemeris, site, utc)
    by_eye = instrument.kind is InstrumentKind.EYE
    doubles = None if by_eye else load_catalogue().names.doubles
    objects = NightObjects.of(targets, doubles).with_magnitudes(
        {name: track.magnitude for name, track in grid.tracks.items()}
    )
    step = int(np.argmin(np.abs(grid.offsets_s - grid.offset_s(utc))))
    places = Places.of(ephemeris, grid, objects.targets)
    spots, _azimuth = spots_at(places, np.full(len(targets), step), conditions)
    judgement = judge(objects, spots, views_of(instrument, conditions.observer), conditions)
    return tuple(visibility_of(judgement, row) for row in range(len(targets)))


@cache
def grid_of(ephemeris: Ephemeris, site: Site, utc: datetime) -> NightGrid:
    return night_grid(ephemeris, site, utc, coming=False)


def grade(margin: float, sigma: float, *, guessed: bool = False) -> Grade:
    return GRADES[int(grade_numbers(margin, sigma, guessed))]


@given(st.floats(-10.0, 10.0), st.floats(0.1, 3.0), st.floats(0.0, 3.0))
def test_more_to_spare_is_never_worse(margin: float, sigma: float, more: float) -> None:
    assert GRADES.index(grade(margin + more, sigma)) <= GRADES.index(grade(margin, sigma))
    if abs(margin) < sigma:
        assert grade(margin, sigma) is Grade.DOUBTFUL


def test_guesses_and_gaps_are_graded_as_such() -> None:
    assert grade(float("nan"), 3.0) is Grade.UNKNOWN
    assert grade(5.0, 0.5) is Grade.EASY
    assert grade(5.0, 0.5, guessed=True) is Grade.HARD
    assert grade(1.0, 1.5) is Grade.DOUBTFUL
    assert grade(-1.0, 0.5) is Grade.OUT_OF_REACH


@pytest.mark.parametrize(
    ("name", "through", "words"),
    [
        ("m 31", "10x50", "easy in 10×50, "),
        ("m 13", "150", "easy at 80×, "),
        ("ngc 7331", "eye", "out of reach by eye, "),
        ("almach", "10x50", "stays one star in 10×50, 10″ apart: it takes 16×"),
        ("saturn", "150", "rings plain"),
        ("saturn", "10x50", "a hint of rings"),
        ("jupiter", "eye", "below the horizon"),
        ("ic 45", "250", "unknown: nobody has published how bright it is"),
        ("ngc 7000", "10x50", "brightness as observers estimate it"),
        ("ic 5068", "150", "brightness guessed from kind and size"),
        ("fomalhaut", "eye", "the air costs"),
        ("m 31", "150", "larger than the field"),
    ],
)
def test_words_say_grade_and_reasons(
    ephemeris: Ephemeris, search: SearchIndex, name: str, through: str, words: str
) -> None:
    assert words in look(ephemeris, search.resolve(name), through).words


def test_the_moon_costs_what_it_hides(ephemeris: Ephemeris, search: SearchIndex) -> None:
    m31 = search.resolve("m 31")
    dark, moonlit = look(ephemeris, m31, "10x50"), look(ephemeris, m31, "10x50", MOONLIT)
    assert dark.margin_mag is not None
    assert moonlit.margin_mag is not None
    assert dark.margin_mag - moonlit.margin_mag > 0.8
    (moon,) = (reason for reason in moonlit.reasons if reason.startswith("Moon"))
    assert moon == "Moon 66° away costs 1.4"
    assert not any(reason.startswith("Moon") for reason in dark.reasons)


def test_twilight_costs_too(ephemeris: Ephemeris, search: SearchIndex) -> None:
    dusk = datetime(2026, 10, 10, 22, 20, tzinfo=UTC)
    found = look(ephemeris, search.resolve("m 13"), "150", dusk)
    assert any(reason.startswith("twilight costs") for reason in found.reasons)


def test_town_and_practice_move_the_margin(ephemeris: Ephemeris, search: SearchIndex) -> None:
    m31 = search.resolve("m 31")
    town = Conditions.at(LOON_BARRENS, zenith_mag=18.0)
    worse = look(ephemeris, m31, "10x50", conditions=town).margin_mag
    better = look(ephemeris, m31, "10x50", conditions=replace(town, zenith_mag=21.8)).margin_mag
    assert worse is not None
    assert better is not None
    assert better > worse + 1.0


def test_an_assumed_sky_is_less_certain(ephemeris: Ephemeris, search: SearchIndex) -> None:
    m31 = search.resolve("m 31")
    assumed = Conditions.at(LOON_BARRENS)
    told = Conditions.at(LOON_BARRENS, zenith_mag=21.0)
    assert assumed.assumed
    assert not told.assumed
    assert (
        look(ephemeris, m31, "eye", conditions=assumed).uncertainty_mag
        > look(ephemeris, m31, "eye", conditions=told).uncertainty_mag
    )


def test_a_double_star_wants_the_least_power_that_parts_it(
    ephemeris: Ephemeris, search: SearchIndex
) -> None:
    double = look(ephemeris, search.resolve("almach"), "150")
    assert double.grade is Grade.EASY
    assert double.best_magnification == pytest.approx(37.5)
    assert look(ephemeris, search.resolve("polaris"), "eye").grade is Grade.EASY


def test_nothing_near_the_risen_sun_is_recommended(
    ephemeris: Ephemeris, search: SearchIndex
) -> None:
    noon = datetime(2026, 10, 10, 16, tzinfo=UTC)
    for name in ("sun", "mercury", "spica"):
        found = look(ephemeris, search.resolve(name), "150", noon)
        if "below" in found.words:
            continue
        near = name == "sun" or "too close" in found.words
        assert not near or found.grade is Grade.OUT_OF_REACH
        assert not near or "never look there" in found.words
    assert "a glance blinds" in look(ephemeris, search.resolve("sun"), "10x50", noon).words


def test_many_at_once_are_the_same_as_one_by_one(ephemeris: Ephemeris, search: SearchIndex) -> None:
    targets = [search.resolve(name) for name in ("moon", "m 13", "saturn", "vega", "ic 45")]
    together = looks(ephemeris, targets, "200", MOONLIT)
    for target, found in zip(targets, together, strict=True):
        alone = look(ephemeris, target, "200", MOONLIT)
        assert alone.words == found.words
        assert np.isclose(alone.margin_mag or 0.0, found.margin_mag or 0.0)


def test_a_target_without_anything_known_is_still_answered(ephemeris: Ephemeris) -> None:
    bare = Target("own:mine", "mine", Kind.OTHER, 10.0, 41.0)
    found = look(ephemeris, bare, "150")
    assert found.grade is Grade.UNKNOWN
    assert found.margin_mag is None
