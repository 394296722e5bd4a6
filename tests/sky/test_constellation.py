import numpy as np
import pytest

from companion.sky import CONSTELLATIONS, constellation_name, constellation_of


def test_there_are_eighty_eight() -> None:
    assert len(CONSTELLATIONS) == 88
    assert len({name for name, _genitive in CONSTELLATIONS.values()}) == 88


def test_names_are_written_out() -> None:
    assert constellation_name("CMa") == "Canis Major"
    assert constellation_name("Xyz") == "Xyz"


@pytest.mark.parametrize(
    ("ra_deg", "dec_deg", "abbreviation"),
    [(83.8, -5.4, "Ori"), (0.0, 90.0, "UMi"), (123.0, -90.0, "Oct"), (279.2, 38.8, "Lyr")],
)
def test_well_known_places(ra_deg: float, dec_deg: float, abbreviation: str) -> None:
    assert str(constellation_of(ra_deg, dec_deg)) == abbreviation


def test_arrays_keep_their_shape_and_broadcast() -> None:
    found = constellation_of(np.array([[83.8, 279.2]]), np.array([[-5.4], [38.8]]))
    assert found.shape == (2, 2)
    assert found[0, 0] == "Ori"
    assert found[1, 1] == "Lyr"
