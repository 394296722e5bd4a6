"""The figures in which stars are counted: their corners, and what lies inside."""

import numpy as np
import pytest

from companion.advice import AdviceError
from companion.finding import find_group
from companion.road.counting import _FIGURES, countable, counted
from companion.sky import load_catalogue

# Proper names of the IAU's catalogue of star names (WGSN), which star bears which from memory.
CORNERS = {
    "great-square": {"Scheat", "Markab", "Algenib", "Alpheratz"},
    "dipper": {"Dubhe", "Merak", "Phecda", "Megrez"},
    "orion": {"Betelgeuse", "Bellatrix", "Rigel", "Saiph"},
    "sickle": {"Regulus", "Algieba", "Zosma", "Denebola"},
    "summer-triangle": {"Vega", "Deneb", "Altair"},
    "winter-triangle": {"Sirius", "Procyon", "Betelgeuse"},
    "auriga-pentagon": {"Capella", "Menkalinan", "Mahasim", "Elnath", "Hassaleh"},
    "southern-triangle": {"Atria", "β TrA", "γ TrA"},
    "corvus-sail": {"Gienah", "Algorab", "Kraz", "ε Crv"},
}


def flat(vectors: np.ndarray, middle: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Project directions (n, 3) onto the plane that touches the sphere in a middle (gnomonic)."""
    east = np.cross([0.0, 0.0, 1.0], middle)
    east /= np.linalg.norm(east)
    north = np.cross(middle, east)
    ahead = vectors @ middle
    return (vectors @ east) / ahead, (vectors @ north) / ahead


def directions(ra_deg: np.ndarray, dec_deg: np.ndarray) -> np.ndarray:
    ra, dec = np.radians(ra_deg), np.radians(dec_deg)
    return np.stack([np.cos(ra) * np.cos(dec), np.sin(ra) * np.cos(dec), np.sin(dec)], axis=-1)


@pytest.mark.parametrize("figure", sorted(_FIGURES))
def test_the_corners_are_the_stars_of_the_figure(figure: str) -> None:
    catalogue = load_catalogue()
    assert {catalogue.star(hip).name for hip in _FIGURES[figure]} == CORNERS[figure]


@pytest.mark.parametrize("figure", sorted(_FIGURES))
def test_what_is_counted_lies_inside(figure: str) -> None:
    """A ray to the east crosses the outline an odd number of times (even-odd rule)."""
    catalogue = load_catalogue()
    corners = [catalogue.star(hip) for hip in _FIGURES[figure]]
    edge = directions(
        np.array([one.ra_deg for one in corners], float),
        np.array([one.dec_deg for one in corners], float),
    )
    middle = edge.sum(axis=0) / np.linalg.norm(edge.sum(axis=0))
    stars = catalogue.stars
    rows = np.flatnonzero((stars.magnitude < 6.8) & ~np.isin(stars.hip, _FIGURES[figure]))
    all_stars = directions(stars.ra_deg[rows], stars.dec_deg[rows])
    near = all_stars @ middle > 0.5
    x, y = flat(all_stars[near], middle)
    edge_x, edge_y = flat(edge, middle)
    crossed = np.zeros(len(x), int)
    for (x1, y1), (x2, y2) in zip(
        zip(edge_x, edge_y, strict=True),
        zip(np.roll(edge_x, -1), np.roll(edge_y, -1), strict=True),
        strict=True,
    ):
        spans = (y1 > y) != (y2 > y)
        crossed += spans & (x < x1 + (y - y1) * (x2 - x1) / (y2 - y1))
    inside = np.sort(stars.magnitude[rows][near][crossed % 2 == 1])
    assert countable(catalogue, find_group(figure)).tolist() == inside.tolist()
    assert len(inside) > 3


def test_the_great_square_has_thirteen_stars_to_magnitude_six() -> None:
    """So many are commonly named for a limit of 6.0 (common practice, from memory)."""
    magnitudes = countable(load_catalogue(), find_group("great-square"))
    assert int((magnitudes < 6.0).sum()) == 13


@pytest.mark.parametrize("figure", sorted(_FIGURES))
def test_a_count_gives_the_limit_between_two_stars_or_says_that_it_is_too_small(
    figure: str,
) -> None:
    magnitudes = countable(load_catalogue(), find_group(figure))
    seen = np.concatenate([[2.5], magnitudes])
    said = [_limit_of(figure, count) for count in range(len(magnitudes))]
    for limit_mag, faintest_seen, next_one in zip(said, seen, magnitudes, strict=False):
        if limit_mag is None:
            assert faintest_seen < 3.5
        else:
            assert faintest_seen <= limit_mag <= next_one


def _limit_of(figure: str, count: int) -> float | None:
    """Give the limit that a count tells; None where it is refused, in the count's own words."""
    try:
        found = counted(load_catalogue(), figure, count)
    except AdviceError as error:
        if "fewer than the brightest sky leaves" in str(error):
            return None
        raise
    assert found.error_mag >= 0.3
    return found.limit_mag
