import pytest

from companion.sky import CONSTELLATIONS, Catalogue, Kind, load_catalogue
from companion.sky.bayer import GREEK, bayer_text, split_code, spoken_bayer
from companion.sky.names import written_out


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


@pytest.mark.parametrize(
    ("code", "constellation", "short", "spoken"),
    [
        ("alp", "Lyr", "α Lyr", "Alpha Lyrae"),
        ("pi3", "Ori", "π³ Ori", "Pi3 Orionis"),
        ("omi", "Cet", "ο Cet", "Omicron Ceti"),
        ("N", "Vel", "N Vel", "N Velorum"),
        ("tet1", "Eri", "θ¹ Eri", "Theta1 Eridani"),
    ],
)
def test_letters_are_written_short_and_in_words(
    code: str, constellation: str, short: str, spoken: str
) -> None:
    assert bayer_text(code, constellation) == short
    assert spoken_bayer(code, constellation) == spoken


def test_the_320_brightest_stars_have_a_bayer_letter(catalogue: Catalogue) -> None:
    rows = catalogue.stars.brighter_than(5.0)[:320]
    without = [
        hip
        for hip in catalogue.stars.hip[rows].tolist()
        if hip not in catalogue.names.stars or not catalogue.names.stars[hip].bayer
    ]
    assert without == []


def test_no_letter_and_no_number_is_given_twice(catalogue: Catalogue) -> None:
    stars = catalogue.names.stars.values()
    assert len(catalogue.names.by_letter) == sum(1 for star in stars if star.bayer)
    numbers = [(star.flamsteed, star.constellation) for star in stars if star.flamsteed]
    assert len(numbers) == len(set(numbers))
    proper = [star.name for star in stars if star.name]
    assert len(proper) == len(set(proper))


def test_every_letter_belongs_to_a_star_in_its_constellation(catalogue: Catalogue) -> None:
    for hip, star in catalogue.names.stars.items():
        if star.constellation:
            assert star.constellation in CONSTELLATIONS
            assert catalogue.star(hip).constellation == star.constellation


def test_greek_letters_carry_known_codes(catalogue: Catalogue) -> None:
    letters = {split_code(code)[0] for code, _constellation in catalogue.names.by_letter}
    assert set(GREEK) <= letters
    assert all(len(letter) == 1 for letter in letters - set(GREEK))


def test_tables_speak_of_stars_that_exist(catalogue: Catalogue) -> None:
    names = catalogue.names
    for hip in {*names.stars, *names.doubles, *names.variables, *names.colours}:
        assert catalogue.stars.row(hip) is not None
    for members in names.members.values():
        assert all(catalogue.stars.row(hip) is not None for hip in members)


def test_doubles_are_as_bright_together_as_the_catalogue_says(catalogue: Catalogue) -> None:
    """A slip in a HIP number would hardly survive this."""
    for hip, double in catalogue.names.doubles.items():
        magnitude = catalogue.star(hip).magnitude
        assert magnitude is not None
        assert double.companion_magnitude >= double.primary_magnitude - 0.2
        assert -1.0 < magnitude - double.primary_magnitude < 0.6, hip
        assert 0.0 < double.separation_arcsec < 1000.0


def test_variables_shine_within_their_range(catalogue: Catalogue) -> None:
    for hip, variable in catalogue.names.variables.items():
        magnitude = catalogue.star(hip).magnitude
        assert magnitude is not None
        assert variable.brightest - 0.5 < magnitude < variable.faintest + 0.5, hip


def test_groups_have_a_middle_among_their_stars(catalogue: Catalogue) -> None:
    dipper = catalogue.names.groups["group:dipper"]
    assert dipper.kind is Kind.GROUP
    assert dipper.constellation == "UMa"
    assert dipper.major_arcmin is not None
    # Alkaid to Dubhe is 25.7° (computed from Hipparcos).
    assert dipper.major_arcmin / 60.0 == pytest.approx(25.7, abs=0.1)


def test_variable_names_are_written_out() -> None:
    assert written_out("R Leo") == "R Leonis"
    assert written_out("nonsense") == "nonsense"
    assert written_out("") == ""
