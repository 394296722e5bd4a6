"""The faint stars: whole, in cells, none of them twice."""

import numpy as np

from companion.sky import load_catalogue, load_faint_stars, moved, unit_vectors
from companion.sky.faint_stars import EPOCH_YEAR, cell_of, offsets_in_cell

ARCSEC = np.radians(1.0 / 3600.0)


def test_with_the_others_there_are_as_many_as_gaia_has_to_magnitude_ten() -> None:
    """Gaia DR3 in the package: 482,176 stars to G = 10, the brightest filled in (its own words)."""
    stars, ours = load_faint_stars(), load_catalogue().stars
    assert 482_176 - len(stars.magnitude) < np.count_nonzero(ours.magnitude < 11.5)
    assert len(stars.magnitude) + np.count_nonzero(ours.magnitude < 10.0) > 0.99 * 482_176
    assert 9.99 <= stars.magnitude.max() <= 10.0
    counts = [np.count_nonzero(stars.magnitude < limit) for limit in (8.0, 9.0, 10.0)]
    assert counts[2] > 2 * counts[1] > 4 * counts[0]


def test_every_cell_has_its_own_and_the_brightest_first() -> None:
    stars = load_faint_stars()
    cells = cell_of(stars.ra_deg, stars.dec_deg)
    vectors = unit_vectors(stars.ra_deg, stars.dec_deg)
    inside = 0
    for cell, (first, last) in enumerate(zip(stars.begins[:-1], stars.begins[1:], strict=True)):
        part = slice(int(first), int(last))
        inside += int(np.count_nonzero(cells[part] == cell))
        assert (np.diff(stars.magnitude[part]) >= -1e-6).all()
        if last > first:
            nearest = vectors[part] @ stars.middles[cell]
            assert nearest.min() > np.cos(np.radians(stars.radius_deg))
    assert inside > len(cells) - 20  # a few stand on an edge, to the step of the file
    assert stars.begins[0] == 0
    assert stars.begins[-1] == len(cells)


def test_a_place_comes_back_from_its_cell_to_a_seventh_of_an_arcsecond() -> None:
    generator = np.random.default_rng(1)
    ra = generator.uniform(0.0, 360.0, 5000)
    dec = np.degrees(np.arcsin(generator.uniform(-1.0, 1.0, 5000)))
    cells = cell_of(ra, dec)
    across, up = offsets_in_cell(ra, dec, cells)
    for part in (across, up):
        assert part.min() >= 0.0
        assert part.max() < 1.0 + 1e-9


def test_no_star_is_there_twice() -> None:
    """Pairs closer than 1″ and alike in brightness, looked for by brute force in every cell."""
    stars, ours = load_faint_stars(), load_catalogue().stars
    years = EPOCH_YEAR - 1991.25
    there = moved(
        ours.ra_deg,
        ours.dec_deg,
        ours.pm_ra_mas_per_yr * years,
        ours.pm_dec_mas_per_yr * years,
    )
    mine = unit_vectors(stars.ra_deg, stars.dec_deg)
    cells = cell_of(
        np.degrees(np.arctan2(there[:, 1], there[:, 0])) % 360.0, np.degrees(np.arcsin(there[:, 2]))
    )
    twice = 0
    for row in np.flatnonzero(ours.magnitude < 10.5):
        first, last = stars.begins[cells[row]], stars.begins[cells[row] + 1]
        near = mine[first:last] @ there[row] > np.cos(1.0 * ARCSEC)
        if near.any():
            alike = np.abs(stars.magnitude[first:last][near] - ours.magnitude[row]) < 0.5
            twice += int(alike.any())
    # Twins that Hipparcos measured as one light and Gaia as two stand closer than an arcsecond.
    assert twice < 40


def test_they_move() -> None:
    stars = load_faint_stars()
    fastest = int(np.argmax(np.hypot(stars.pm_ra_mas_per_yr, stars.pm_dec_mas_per_yr)))
    speed = float(np.hypot(stars.pm_ra_mas_per_yr[fastest], stars.pm_dec_mas_per_yr[fastest]))
    then, later = stars.vectors(2016.0)[fastest], stars.vectors(2036.0)[fastest]
    gone = np.linalg.norm(later.astype(float) - then.astype(float)) / ARCSEC
    assert abs(gone - speed * 20.0 / 1000.0) < 0.1


def test_the_file_s_documented_error_holds() -> None:
    stars = load_faint_stars()
    exact = unit_vectors(stars.ra_deg, stars.dec_deg)
    single = stars.vectors(2016.0).astype(float)
    assert np.abs(single - exact).max() < 0.02 * ARCSEC
