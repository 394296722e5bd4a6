import numpy as np
import pytest

from companion.finding import FieldStars
from companion.finding.hop_words import clock_hour, fields_words
from companion.finding.landmarks import figure_with, landmark
from companion.finding.way_words import direction_words, part_words, times_words
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
    return FieldStars(
        np.arange(1, len(stars) + 1), magnitude, colour, unit_vectors(-x, y), "star {}".format
    )


def test_rank_partner_and_colour() -> None:
    stars = made_stars((0, 0, 4.0, 1.6), (0.2, 0, 4.5, 0.0), (9, 0, 4.6, 0), (1, 2, 6.0, 1.8))
    words = landmark(stars, 0, 6.0)
    assert "the brightest in the field" in words
    assert "one of a close pair" in words
    assert words.endswith("orange")
    assert landmark(stars, 2, 6.0) == "alone in the field"
    assert "orange" not in landmark(stars, 3, 6.0)


def test_words_for_directions_times_parts_and_fields() -> None:
    assert direction_words(0.0) == direction_words(359.0) == "up"
    assert direction_words(134.0) == "down and to the right"
    assert [times_words(g) for g in (0.1, 0.35, 0.5, 1.0, 2.1, 2.6, 5.3, 9.9)] == [
        "a quarter of",
        "a third of",
        "half",
        "once",
        "twice",
        "two and a half times",
        "five and a half times",
        "ten times",
    ]
    assert part_words(0.34) == "a third of the way"
    assert [clock_hour(a) for a in (0.0, 14.0, 16.0, 359.0, 180.0)] == [12, 12, 1, 12, 6]
    assert fields_words(0.52) == "half a field"
