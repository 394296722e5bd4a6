"""Star names, letters, positions and magnitudes against independent data.

* PyEphem's ``ephem.stars``: 116 bright stars with positions, proper motions and magnitudes.
* skyfield's ``named_stars``: HIP numbers of 119 names.
* IAU Catalog of Star Names (Working Group on Star Names, 2018-09-07): designation, position and
  V of 300 and more stars, as entered in ``packaging/tables/star_names.csv``.
* astropy's ``get_constellation`` (Roman 1987 in its own implementation).
"""

import csv
import math
from pathlib import Path

import astropy.units as u
import ephem
import ephem.stars
import numpy as np
import pytest
from astropy.coordinates import SkyCoord, get_constellation
from skyfield.named_stars import named_star_dict

from companion.sky import (
    Catalogue,
    SearchIndex,
    Target,
    constellation_of,
    load_catalogue,
    separation_deg,
    unit_vectors,
)

TABLES = Path(__file__).parents[2] / "packaging" / "tables"
# Where skyfield's list departs from the IAU's: Algenib is γ Peg, Gienah γ Crv, Markab α Peg,
# Toliman α Cen B; and four old names that the IAU gives to no star, or spells otherwise.
OTHERWISE = {"Algenib", "Gienah", "Markab", "Toliman", "Turais"}
UNUSED = {"Foramen", "Marfikent", "Tseen She", "Tsih"}
# Combined light is what an eye sees and the catalogue has; the IAU gives the one component's.
LEAST_MERGED, MOST_MERGED = -0.15, 0.9


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


@pytest.fixture(scope="module")
def search(catalogue: Catalogue) -> SearchIndex:
    return SearchIndex(catalogue)


def arcsec_at_2000(star: Target, ra_deg: float, dec_deg: float) -> float:
    """Give how far a star at 2000.0 is from a position."""
    assert star.ra_deg is not None
    assert star.dec_deg is not None
    years = 2000.0 - star.epoch_year
    dec = star.dec_deg + star.pm_dec_mas_per_yr * years / 3.6e6
    ra = star.ra_deg + star.pm_ra_mas_per_yr * years / 3.6e6 / math.cos(math.radians(dec))
    apart = separation_deg(unit_vectors(ra, dec), unit_vectors(ra_deg, dec_deg))
    return float(apart) * 3600.0


@pytest.mark.parametrize("name", sorted(ephem.stars.stars))
def test_pyephem_has_the_same_star_at_the_same_place(search: SearchIndex, name: str) -> None:
    theirs = ephem.stars.stars[name]
    theirs.compute("2000/1/1 12:00", epoch="2000")
    ours = search.resolve(name)
    ra_deg, dec_deg = math.degrees(theirs._ra), math.degrees(theirs._dec)
    assert arcsec_at_2000(ours, ra_deg, dec_deg) < 0.5
    assert ours.magnitude is not None
    # PyEphem has α Her combined and at its average; ours is the component alone.
    assert abs(ours.magnitude - theirs.mag) < (0.7 if name == "Rasalgethi" else 0.2)


@pytest.mark.parametrize("name", sorted(set(named_star_dict) - OTHERWISE - UNUSED))
def test_skyfield_means_the_same_star_by_a_name(search: SearchIndex, name: str) -> None:
    assert search.resolve(name).key == f"hip:{named_star_dict[name]}"


def iau_rows() -> list[dict[str, str]]:
    with (TABLES / "star_names.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_iau_names_letters_positions_and_magnitudes(catalogue: Catalogue) -> None:
    lettered = 0
    for row in iau_rows():
        star = catalogue.star(int(row["hip"]))
        called = catalogue.names.stars[int(row["hip"])]
        assert called.name == star.name == row["name"]
        # The list gives two decimals of a degree (26″ with both coordinates), some at 1991.25.
        moved = math.hypot(star.pm_ra_mas_per_yr, star.pm_dec_mas_per_yr) * 8.75e-3
        allowed = 27.0 + moved
        assert arcsec_at_2000(star, float(row["ra_deg"]), float(row["dec_deg"])) < allowed, row
        assert star.magnitude is not None
        if row["name"] != "Mira":  # whose brightness is anything from 2 to 10
            excess = float(row["magnitude"]) - star.magnitude
            assert LEAST_MERGED < excess < MOST_MERGED, row
        letter, _blank, constellation = row["designation"].partition(" ")
        if letter and (called.bayer or called.flamsteed):
            assert letter in {called.bayer, str(called.flamsteed)}, row
            assert called.constellation == constellation, row
            lettered += bool(called.bayer)
    assert lettered > 250


def test_most_iau_magnitudes_agree_closely(catalogue: Catalogue) -> None:
    excess = [
        float(row["magnitude"]) - (catalogue.star(int(row["hip"])).magnitude or 0.0)
        for row in iau_rows()
    ]
    assert abs(np.median(excess)) < 0.02
    assert np.mean(np.abs(excess) < 0.06) > 0.85


def test_letters_stand_in_astropys_constellation(catalogue: Catalogue) -> None:
    named = [star for star in catalogue.names.stars.values() if star.constellation]
    targets = [catalogue.star(star.hip) for star in named]
    places = SkyCoord(
        [star.ra_deg for star in targets] * u.deg, [star.dec_deg for star in targets] * u.deg
    )
    theirs = get_constellation(places, short_name=True)
    assert [star.constellation for star in named] == theirs.tolist()


def test_constellations_of_random_places_agree_with_astropy() -> None:
    random = np.random.default_rng(7)
    ra = random.uniform(0.0, 360.0, 2000)
    dec = np.degrees(np.arcsin(random.uniform(-1.0, 1.0, 2000)))
    theirs = get_constellation(SkyCoord(ra * u.deg, dec * u.deg), short_name=True)
    assert constellation_of(ra, dec).tolist() == theirs.tolist()
