"""What a host says of a target: true of its page, and asked only where this view answers it."""

import math
from datetime import UTC, datetime

import pytest

from companion.about import About, AboutQuestion, Saying, about, power_of, saying_of
from companion.about.human import drive_words, light_words, then_words
from companion.about.record import Figures
from companion.finding import Instrument
from companion.night import Conditions, eye, find_instrument
from companion.sky import LOON_BARRENS, Ephemeris, load_catalogue

EVENING = datetime(2026, 10, 10, 23, 30, tzinfo=UTC)
CONDITIONS = Conditions.at(LOON_BARRENS)
EYE, GLASS, SCOPE = (
    eye(CONDITIONS.observer),
    find_instrument("10×50"),
    find_instrument("150"),
)


def asked(
    ephemeris: Ephemeris, key: str, instrument: Instrument, utc: datetime = EVENING
) -> tuple[About, Saying]:
    target = load_catalogue().target(key)
    page = about(ephemeris, AboutQuestion(target, LOON_BARRENS, utc, instrument, CONDITIONS))
    return page, saying_of(page, power_of(instrument, CONDITIONS))


def test_a_drive_to_the_moon_is_plain_arithmetic() -> None:
    """384,400 km at 100 km/h are 3,844 hours, 160 days."""
    assert "160 days" in drive_words(384_400.0)


@pytest.mark.parametrize(
    ("years", "words"),
    [
        (25.0, "about when anybody of that age was born"),
        (430.0, "long before there was electric light"),  # used in streets since the 1880s
        (1_300.0, "long before there were printed books"),  # in China since the ninth century
        (22_000.0, "when people hunted and painted caves"),  # Lascaux is about 20,000 years old
        (2.5e6, "before there were people like us"),  # Homo sapiens: about 300,000 years
        (3e7, "after the last dinosaurs and long before people"),  # 66 million years ago
        (1.2e8, "when dinosaurs lived"),
    ],
)
def test_what_was_on_the_earth_when_the_light_set_out(years: float, words: str) -> None:
    assert then_words(years) == words


def test_every_age_has_words_that_hold_for_later_ones() -> None:
    said = [
        then_words(10.0**power) for power in (1, 2, 2.9, 3.5, 3.8, 4, 4.5, 5, 6.4, 7, 7.9, 8.2, 9)
    ]
    assert len(set(said)) == len(said)


def test_light_of_hours_is_told_without_history() -> None:
    assert (
        light_words(Figures(light_time_s=9_400.0))
        == "The light that you see left it 2.6 hours ago."
    )
    assert light_words(Figures()) == ""


def test_the_distance_is_that_of_the_page(ephemeris: Ephemeris) -> None:
    page, said = asked(ephemeris, "ngc:NGC0224", SCOPE)
    assert page.figures.distance_ly == pytest.approx(2.54e6)
    assert said.far == "about 2.5 million light years away"
    page, said = asked(ephemeris, "body:saturn", SCOPE)
    told = float(said.far.split(" million")[0].replace(",", ""))
    assert page.figures.distance_au is not None
    assert told == pytest.approx(page.figures.distance_au * 149.6, rel=0.05)


def test_jupiter_is_as_many_earths_wide_as_its_radius_says(ephemeris: Ephemeris) -> None:
    """Equatorial radii of 71,492 and 6,378 km (IAU): 11.2."""
    _page, said = asked(ephemeris, "body:jupiter", SCOPE)
    assert said.fact.startswith(f"{round(71_492 / 6_378)} Earths")


def test_a_name_is_one_that_people_use(ephemeris: Ephemeris) -> None:
    assert asked(ephemeris, "ngc:NGC6720", SCOPE)[1].called == "Ring Nebula"
    assert asked(ephemeris, "ngc:NGC7078", SCOPE)[1].called == ""  # M 15 has none
    assert asked(ephemeris, "hip:95947", SCOPE)[1].called == ""  # Albireo is its name


@pytest.mark.parametrize("key", ["ngc:NGC6205", "ngc:NGC0224", "ngc:NGC6720", "ngc:NGC7662"])
def test_what_is_grey_is_called_so_before(ephemeris: Ephemeris, key: str) -> None:
    _page, said = asked(ephemeris, key, SCOPE)
    assert said.before.startswith("Grey, not as in pictures")
    assert "colour" not in said.ask
    _page, by_eye = asked(ephemeris, key, EYE)
    assert by_eye.before.startswith("A faint glow")
    assert "beside it" in by_eye.ask


def test_a_question_is_one_that_the_instrument_answers(ephemeris: Ephemeris) -> None:
    assert "ring apart" in asked(ephemeris, "body:saturn", SCOPE)[1].ask
    assert "longer one way" in asked(ephemeris, "body:saturn", GLASS)[1].ask
    assert "twinkle" in asked(ephemeris, "body:saturn", EYE)[1].ask
    assert "points stand in a row" in asked(ephemeris, "body:jupiter", GLASS)[1].ask
    assert "twinkle" in asked(ephemeris, "body:jupiter", EYE)[1].ask
    assert "phase" not in asked(ephemeris, "body:venus", EYE)[1].ask
    assert "Which of the two" in asked(ephemeris, "hip:95947", SCOPE)[1].ask
    assert "Which of the two" not in asked(ephemeris, "hip:95947", EYE)[1].ask
    assert "shadows" not in asked(ephemeris, "body:moon", EYE)[1].ask
    assert "into points" in asked(ephemeris, "ngc:NGC6205", SCOPE)[1].ask
    assert asked(ephemeris, "ngc:NGC6205", GLASS)[1].answer.startswith("Not in this view")


def test_the_answer_counts_the_moons_that_stand_beside_jupiter(ephemeris: Ephemeris) -> None:
    """Over some nights the number told is that of the page's moons that are not hidden."""
    for day in (11, 12, 13, 14):
        page, said = asked(ephemeris, "body:jupiter", SCOPE, EVENING.replace(day=day))
        assert page.planet is not None
        names = ("Io", "Europa", "Ganymede", "Callisto")
        moons = {moon.name: str(moon.state) for moon in page.planet.moons if moon.name in names}
        beside = sum(state == "beside" for state in moons.values())
        assert said.answer.startswith(f"At most {beside}: ")
        for name, state in moons.items():
            assert (f"{name} is" in said.answer) == (state != "beside")


def test_the_same_page_has_the_same_magnitudes(ephemeris: Ephemeris) -> None:
    page, said = asked(ephemeris, "hip:95947", SCOPE)
    assert page.double is not None
    assert f"{min(page.double.magnitudes):.1f}" in said.answer
    assert f"{page.double.separation_arcsec:.0f}″" in said.answer
    assert math.isclose(min(page.double.magnitudes), 3.1, abs_tol=0.1)
