"""A fist measured on two stars."""

import pytest
from astropy import units
from astropy.coordinates import SkyCoord

from companion.advice import AdviceError
from companion.road import measured_fist
from companion.sky import load_search


@pytest.mark.parametrize(
    ("first", "second"), [("Dubhe", "Alkaid"), ("Betelgeuse", "Rigel"), ("Acrux", "Gacrux")]
)
def test_the_angle_between_two_stars_is_that_of_astropy(first: str, second: str) -> None:
    search = load_search()
    places = [
        SkyCoord(one.ra_deg * units.deg, one.dec_deg * units.deg)
        for one in map(search.resolve, (first, second))
    ]
    apart = places[0].separation(places[1]).deg
    count = apart / 9.3
    measured = measured_fist(search, count, first, second)
    assert measured.apart_deg == pytest.approx(apart, abs=0.01)
    assert measured.fist_deg == pytest.approx(9.3, abs=0.01)


@pytest.mark.parametrize(
    ("count", "first", "second", "words"),
    [
        (2.5, "Dubhe", "xyzzyq", "is not known"),
        (2.5, "Dubhe", "Saturn", "moves"),
        (2.5, "Mizar", "Alcor", "apart"),
        (2.5, "Vega", "Sirius", "apart"),
        (10.0, "Dubhe", "Alkaid", "is nobody's"),
        (0.0, "Dubhe", "Alkaid", "number of fists"),
    ],
)
def test_what_cannot_be_measured_is_said(count: float, first: str, second: str, words: str) -> None:
    with pytest.raises(AdviceError, match=words):
        measured_fist(load_search(), count, first, second)
