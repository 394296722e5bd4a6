import numpy as np
import pytest

from companion.finding import FieldStars
from companion.finding.courses import Course, seen_course
from companion.finding.hop_steps import clock_hour, fields_words
from companion.finding.landmarks import figure_with, landmark
from companion.finding.way_words import go_words, nearest_times, times_words
from companion.sky import unit_vectors


def figure(*places: tuple[float, float]) -> str:
    vectors = unit_vectors([-x for x, _y in places], [y for _x, y in places])
    return figure_with(vectors[0], vectors[1:])


@pytest.mark.parametrize(
    ("places", "words"),
    [
        (((0, 0), (1, 0.01), (-1, 0)), "in the middle of a row of three"),
        (((0, 0), (1, 0.01), (2, 0)), "at the end of a row of three"),
        (((0, 0.3), (1, 0), (-1, 0)), "in a flat triangle with two stars"),
        (((0, 0), (1, 0), (0.5, 0.87)), "in an even triangle with two stars"),
        (((0, 0), (2, 0), (0, 1.2)), "in a right-angled triangle with two stars"),
        (((0, 0), (0.6, 0), (0.3, 1.5)), "in a slender triangle with two stars"),
        (((0, 0), (1, 0)), ""),
        (((0, 0), (0, 0), (1, 0)), ""),
    ],
)
def test_figures(places: tuple[tuple[float, float], ...], words: str) -> None:
    assert figure(*places) == words


def made_stars(*stars: tuple[float, float, float, float]) -> FieldStars:
    """Stars as (x, y, magnitude, colour), brightest first."""
    x, y, magnitude, colour = np.array(stars).T
    hip, seen = np.arange(1, len(stars) + 1), np.ones(len(stars), np.bool_)
    return FieldStars(hip, magnitude, colour, unit_vectors(-x, y), seen, "star {}".format)


def test_rank_partner_and_colour() -> None:
    stars = made_stars((0, 0, 4.0, 1.6), (0.2, 0, 4.5, 0.0), (9, 0, 4.6, 0), (1, 2, 6.0, 1.8))
    words = landmark(stars, 0, 6.0)
    assert "the brightest in the field" in words
    assert "one of a close pair" in words
    assert words.endswith("orange")
    assert landmark(stars, 2, 6.0) == "alone in the field"
    assert "orange" not in landmark(stars, 3, 6.0)


@pytest.mark.parametrize(
    ("gap_deg", "extension_deg", "words"),
    [
        (2.0, 0.5, "a quarter of"),  # nearer than the nearest half
        (10.0, 3.5, "a third of"),
        (10.0, 5.0, "half"),
        (10.0, 7.1, "two thirds of"),
        (20.0, 14.5, "three quarters of"),
        (10.0, 10.4, "once"),
        (20.0, 25.2, "one and a quarter times"),
        (10.0, 20.9, "twice"),
        (10.0, 23.5, "two and a third times"),
        (5.0, 13.0, "two and a half times"),
        (20.0, 55.2, "two and three quarter times"),
        (5.0, 50.2, "ten times"),
    ],
)
def test_a_gap_is_parted_as_coarsely_as_it_may(
    gap_deg: float, extension_deg: float, words: str
) -> None:
    within_deg = 0.1 if gap_deg == 2.0 else 1.0
    assert times_words(*nearest_times(gap_deg, extension_deg, within_deg)) == words


@pytest.mark.parametrize("extension_deg", [17.4, 0.4, 250.0])
def test_what_no_part_of_a_gap_comes_near_is_not_said_in_gaps(extension_deg: float) -> None:
    """0.87 of a gap lies 2.4 degrees from the nearest quarter; eleven gaps nobody counts."""
    assert nearest_times(20.0, extension_deg, 1.0) == (0, 1)


def test_words_for_courses_and_fields() -> None:
    assert go_words(seen_course(0.0)) == go_words(seen_course(359.0)) == "up"
    assert go_words(seen_course(134.0)) == "down and to the right"
    assert go_words(Course.NORTH_EAST) == "towards the north-east horizon"
    assert [clock_hour(a) for a in (0.0, 14.0, 16.0, 359.0, 180.0)] == [12, 12, 1, 12, 6]
    assert fields_words(0.52) == "half a field"
