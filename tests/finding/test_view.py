import numpy as np
import pytest

from companion.finding import FieldIndex
from companion.sky import Catalogue, Kind, SearchIndex, Target, unit_vectors


@pytest.fixture(scope="module")
def index(catalogue: Catalogue) -> FieldIndex:
    return FieldIndex(catalogue)


def vector_of(search: SearchIndex, name: str) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    target = search.resolve(name)
    return unit_vectors(target.ra_deg or 0.0, target.dec_deg or 0.0)


def test_neighbours_of_the_andromeda_galaxy(index: FieldIndex, search: SearchIndex) -> None:
    found = index.contents(vector_of(search, "M 31"), 1.7, faintest=12.0)
    names = [near.target.name for near in found.objects]
    assert names[0] == "M 31"
    assert {"M 32", "M 110"} <= set(names)
    assert found.constellation == "Andromeda"
    assert found.nearest_bright.target.name == "Mirach"
    companion = next(near for near in found.objects if near.target.name == "M 32")
    assert companion.separation_deg == pytest.approx(24.3 / 60, abs=0.02)  # OpenNGC positions
    assert 170 < companion.position_angle_deg < 190  # south of its parent
    magnitudes = [near.target.magnitude for near in found.objects if near.target.magnitude]
    assert magnitudes == sorted(magnitudes)


def test_stars_with_names_in_the_field(index: FieldIndex, search: SearchIndex) -> None:
    found = index.contents(vector_of(search, "Mizar"), 0.5, faintest=6.0)
    assert [near.target.name for near in found.stars] == ["Mizar", "Alcor"]
    assert found.stars[1].separation_deg == pytest.approx(11.8 / 60, abs=0.002)
    assert found.stars[0].position_angle_deg == 0.0


def test_a_body_in_the_field_comes_with_its_place(index: FieldIndex, search: SearchIndex) -> None:
    middle = vector_of(search, "M 44")
    moon = Target("body:moon", "Moon", Kind.MOON, body="moon")
    near = unit_vectors(130.6, 20.2)
    found = index.contents(middle, 1.2, faintest=5.0, bodies=[(moon, near)])
    assert found.objects[0].target is moon
    assert not index.contents(middle, 0.2, faintest=5.0, bodies=[(moon, near)]).objects[1:]


@pytest.mark.parametrize("dec_deg", [90.0, -90.0])
def test_the_poles_have_neighbours_too(dec_deg: float, index: FieldIndex) -> None:
    found = index.contents(unit_vectors(0.0, dec_deg), 5.0, faintest=14.0)
    assert found.constellation in {"Ursa Minor", "Octans"}
    assert all(np.isfinite(near.position_angle_deg) for near in found.objects)


def test_an_empty_field_still_knows_where_it_is(index: FieldIndex) -> None:
    found = index.contents(unit_vectors(33.333, 8.9), 0.05, faintest=6.0)
    assert not found.objects
    assert not found.stars
    assert found.constellation
    assert found.nearest_bright.separation_deg > 0.0
