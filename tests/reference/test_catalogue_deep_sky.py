"""Deep-sky objects against what other publications say of them."""

import math

import pytest

from companion.sky import Catalogue, Kind, SearchIndex, load_catalogue, separation_deg, unit_vectors

# J2000 position (hours, minutes; degrees, minutes), V and kind of well-known objects, as handbooks
# print them; from memory.
HANDBOOK = [
    ("M 1", 5, 34.5, 22, 1, 8.4, Kind.REMNANT),
    ("M 13", 16, 41.7, 36, 28, 5.8, Kind.GLOBULAR),
    ("M 22", 18, 36.4, -23, 54, 5.1, Kind.GLOBULAR),
    ("M 27", 19, 59.6, 22, 43, 7.4, Kind.PLANETARY),
    ("M 31", 0, 42.7, 41, 16, 3.4, Kind.GALAXY),
    ("M 33", 1, 33.9, 30, 39, 5.7, Kind.GALAXY),
    ("M 44", 8, 40.4, 19, 41, 3.1, Kind.OPEN_CLUSTER),
    ("M 45", 3, 47.0, 24, 7, 1.2, Kind.OPEN_CLUSTER),
    ("M 51", 13, 29.9, 47, 12, 8.4, Kind.GALAXY),
    ("M 57", 18, 53.6, 33, 2, 8.8, Kind.PLANETARY),
    ("M 81", 9, 55.6, 69, 4, 6.9, Kind.GALAXY),
    ("M 104", 12, 40.0, -11, 37, 8.0, Kind.GALAXY),
    ("NGC 104", 0, 24.1, -72, 5, 4.0, Kind.GLOBULAR),
    ("NGC 253", 0, 47.6, -25, 17, 7.2, Kind.GALAXY),
    ("NGC 5128", 13, 25.5, -43, 1, 6.8, Kind.GALAXY),
    ("NGC 5139", 13, 26.8, -47, 29, 3.7, Kind.GLOBULAR),
    ("NGC 7293", 22, 29.6, -20, 50, 7.3, Kind.PLANETARY),
]
# V of Messier's list as handbooks print it, from M 1; from memory. M 24 is a star cloud, M 40 two
# stars, M 73 four stars, M 102 uncertain; nebulae have no agreed brightness.
MESSIER = (
    "8.4 6.5 6.2 5.6 5.7 4.2 3.3 - 7.7 6.6 5.8 6.7 5.8 7.6 6.2 6.0 - 6.9 6.8 - 5.9 5.1 5.5 - 4.6 "
    "8.0 7.4 6.8 6.6 7.2 3.4 8.1 5.7 5.2 5.1 6.0 5.6 6.4 4.6 - 4.5 - - 3.1 1.2 6.1 4.4 5.8 8.4 5.9 "
    "8.4 6.9 7.6 7.6 6.3 8.3 8.8 9.7 9.6 8.8 9.7 6.5 8.6 8.5 9.3 8.9 6.9 7.8 7.6 7.9 8.2 9.3 - 9.4 "
    "8.5 10.1 8.9 - 7.7 7.3 6.9 8.4 7.5 9.1 9.1 8.9 8.6 9.6 9.8 9.5 10.2 6.4 6.2 8.2 9.7 9.2 9.9 "
    "10.1 9.9 9.3 7.9 - 7.4 8.0 9.3 8.4 7.9 10.0 9.8 8.1"
)
# Globular clusters of Messier's list: V of Harris 1996 (AJ 112, 1487; 2010 edition), from memory.
HARRIS = {3: 6.19, 4: 5.63, 5: 5.65, 10: 6.60, 12: 6.70, 13: 5.78, 14: 7.59, 15: 6.20, 19: 6.77}
HARRIS |= {22: 5.10, 55: 6.32, 79: 7.73, 92: 6.44}


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


@pytest.fixture(scope="module")
def search(catalogue: Catalogue) -> SearchIndex:
    return SearchIndex(catalogue)


@pytest.mark.parametrize("row", HANDBOOK, ids=lambda row: str(row[0]))
def test_handbook_objects(
    search: SearchIndex, row: tuple[str, int, float, int, int, float, Kind]
) -> None:
    name, hours, minutes, degrees, arcminutes, magnitude, kind = row
    target = search.resolve(name)
    dec = math.copysign(abs(degrees) + arcminutes / 60.0, degrees)
    assert target.ra_deg is not None
    assert target.dec_deg is not None
    apart = separation_deg(
        unit_vectors(target.ra_deg, target.dec_deg),
        unit_vectors(15.0 * (hours + minutes / 60.0), dec),
    )
    # The last figures printed; nobody agrees on the middle of a cluster of a degree and more.
    assert float(apart) * 60.0 < max(2.0, 0.05 * (target.major_arcmin or 0.0))
    assert target.magnitude == pytest.approx(magnitude, abs=0.25)
    assert target.kind is kind


def test_messier_magnitudes_against_handbooks(catalogue: Catalogue) -> None:
    deep_sky = catalogue.deep_sky
    printed = MESSIER.split()
    assert len(printed) == 110
    known = {n: float(text) for n, text in enumerate(printed, 1) if text != "-"}
    for number, magnitude in known.items():
        target = deep_sky.target(deep_sky.messier_rows[number])
        assert target.magnitude == pytest.approx(magnitude, abs=0.4), target.name


@pytest.mark.parametrize(("number", "magnitude"), HARRIS.items())
def test_globular_clusters_against_harris(
    catalogue: Catalogue, number: int, magnitude: float
) -> None:
    target = catalogue.deep_sky.target(catalogue.deep_sky.messier_rows[number])
    assert target.magnitude == pytest.approx(magnitude, abs=0.25)


def test_caldwell_numbers_run_from_north_to_south(catalogue: Catalogue) -> None:
    """Moore numbered his list by declination (Sky & Telescope, December 1995).

    C 26 and 27, 41 and 42, 99 and 100 stand the other way round, by less than a degree.
    """
    deep_sky = catalogue.deep_sky
    dec = [deep_sky.columns.dec_deg[deep_sky.caldwell_rows[number]] for number in range(1, 110)]
    inversions = [n for n in range(1, 109) if dec[n] > dec[n - 1] + 1.0]
    assert inversions == []


def test_messier_objects_were_seen_from_paris(catalogue: Catalogue) -> None:
    """Nothing on a list made at 48.9° north can culminate below its horizon."""
    deep_sky = catalogue.deep_sky
    for row in deep_sky.messier_rows.values():
        assert deep_sky.columns.dec_deg[row] > -(90.0 - 48.9) + 5.0
        assert float(deep_sky.target(row).magnitude or 99.0) < 10.6
