import pytest
from hypothesis import given, strategies as st

from companion.advice import AdviceError
from companion.sky import Catalogue, Kind, Target, load_catalogue, place_target


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


def test_one_catalogue_serves_the_process(catalogue: Catalogue) -> None:
    assert load_catalogue() is catalogue


def test_a_star_carries_all_that_the_catalogue_knows(catalogue: Catalogue) -> None:
    vega = catalogue.star(91262)
    assert (vega.key, vega.name, vega.constellation) == ("hip:91262", "Vega", "Lyr")
    assert {"α Lyr", "3 Lyr", "Alpha Lyrae", "HIP 91262"} <= set(vega.aliases)
    assert vega.epoch_year == 1991.25
    assert vega.pm_ra_mas_per_yr == pytest.approx(200.9, abs=0.5)  # van Leeuwen 2007
    assert vega.pm_dec_mas_per_yr == pytest.approx(286.2, abs=0.5)
    assert vega.parallax_mas == pytest.approx(130.23, abs=0.1)
    assert vega.magnitude == pytest.approx(0.03, abs=0.03)
    assert vega.colour_index == pytest.approx(0.0, abs=0.02)


def test_a_star_without_a_name_is_called_by_its_number(catalogue: Catalogue) -> None:
    star = catalogue.star(1)
    assert (star.name, star.aliases, star.kind) == ("HIP 1", (), Kind.STAR)


def test_doubles_and_variables_say_what_they_are(catalogue: Catalogue) -> None:
    assert catalogue.star(95947).kind is Kind.DOUBLE
    assert "gold and blue" in catalogue.star(95947).note
    assert catalogue.star(14576).kind is Kind.VARIABLE
    assert "2.867 days" in catalogue.star(14576).note


@pytest.mark.parametrize("hip", [0, -1, 10**30, 119_999])
def test_a_star_that_is_not_there_is_refused(catalogue: Catalogue, hip: int) -> None:
    with pytest.raises(AdviceError, match=r"no star HIP .*Give a number from 1 to"):
        catalogue.star(hip)


def test_keys_lead_back_to_their_targets(catalogue: Catalogue) -> None:
    some = [*catalogue.bodies, *catalogue.names.groups.values(), *catalogue.deep_sky.targets[::97]]
    some += [catalogue.star(hip) for hip in (32349, 71683, 118218)]
    assert [catalogue.target(target.key) for target in some] == some


@pytest.mark.parametrize(
    "key",
    [
        *("", "hip:", "hip:x", "hip:²", "ngc:NGC9999", "body:vulcan", "group:", "own:mine"),
        *("icrs:400.0+10.0", "icrs:10.0+91.0", "icrs:nan+inf", "'; drop table"),
        "hip:" + "9" * 10_000,
    ],
)
def test_an_unknown_key_is_refused_with_advice(catalogue: Catalogue, key: str) -> None:
    with pytest.raises(AdviceError) as caught:
        catalogue.target(key)
    assert caught.value.do
    assert len(str(caught.value)) < 400


def test_a_lost_object_without_a_position_is_never_aimed_at(catalogue: Catalogue) -> None:
    with pytest.raises(AdviceError, match="never found again"):
        catalogue.target("ngc:IC1064")
    assert "ngc:IC1064" not in {target.key for target in catalogue.deep_sky.targets}


def test_the_sun_carries_its_caution(catalogue: Catalogue) -> None:
    assert "Never look at the Sun" in catalogue.target("body:sun").note
    assert [body.name for body in catalogue.bodies][-2:] == ["Neptune", "Pluto"]


def test_bright_stars_come_brightest_first(catalogue: Catalogue) -> None:
    bright = catalogue.bright_stars(1.5)
    magnitudes = [star.magnitude or 0.0 for star in bright]
    assert [star.name for star in bright[:3]] == ["Sirius", "Canopus", "Arcturus"]
    assert magnitudes == sorted(magnitudes)
    assert max(magnitudes) < 1.5


def everything(catalogue: Catalogue) -> list[Target]:
    groups = catalogue.names.groups.values()
    deep = catalogue.deep_sky.targets
    return [*catalogue.bodies, *groups, *deep, *catalogue.bright_stars(99.0)]


def test_everything_is_there_once(catalogue: Catalogue) -> None:
    keys = [target.key for target in everything(catalogue)]
    assert len(keys) == len(set(keys)) > 131_000


def test_no_direction_is_missing_and_no_parallax_negative(catalogue: Catalogue) -> None:
    for target in everything(catalogue):
        if not target.body:
            assert target.ra_deg is not None
            assert target.dec_deg is not None
            assert 0.0 <= target.ra_deg < 360.0
            assert -90.0 <= target.dec_deg <= 90.0
            assert target.parallax_mas >= 0.0


@given(st.floats(0.0, 360.0), st.floats(-90.0, 90.0))
def test_the_key_of_a_position_leads_back_to_it(ra_deg: float, dec_deg: float) -> None:
    place = place_target(ra_deg, dec_deg)
    assert place.kind is Kind.PLACE
    assert load_catalogue().target(place.key) == place
    assert abs((place.ra_deg or 0.0) - ra_deg) % 360.0 <= 6e-6 or ra_deg > 359.99
    assert place.dec_deg == pytest.approx(dec_deg, abs=6e-6)
