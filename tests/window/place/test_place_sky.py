from pathlib import Path

import pytest
from window.conftest import Windows
from window.fakes import FakeEvening

from companion.advice import AdviceError
from companion.live import SkyCount
from companion.sky import LOON_BARRENS
from companion.window.place.sky_fields import (
    count_words,
    horizon_words,
    sky_text,
    sky_words,
    with_horizon,
    with_sky,
)


@pytest.mark.parametrize(
    ("typed", "zenith"),
    [
        ("21.3", 21.3),
        ("21,3", 21.3),
        ("meter: 20.9", 20.9),
        ("bortle 4", 20.8),
        ("B9", 16.5),
    ],
)
def test_the_sky_is_taken_in_whichever_measure(typed: str, zenith: float) -> None:
    site = with_sky(LOON_BARRENS, typed)
    assert site.sky_brightness_mag_per_arcsec2 == pytest.approx(zenith)
    assert with_sky(site, sky_text(site)) == site


def test_a_faintest_star_gives_the_sky_that_shows_it() -> None:
    site = with_sky(LOON_BARRENS, "5.8")
    assert sky_words(site)[1].startswith("stars to 5.8")


def test_an_empty_text_is_unknown_again() -> None:
    assert with_sky(with_sky(LOON_BARRENS, "21"), " ") == LOON_BARRENS
    assert sky_words(LOON_BARRENS) == ("unknown", "21.0 is taken")


@pytest.mark.parametrize("typed", ["dark", "0.2", "12", "30", "bortle 0", "nan"])
def test_what_is_no_sky_is_refused(typed: str) -> None:
    with pytest.raises(AdviceError):
        with_sky(LOON_BARRENS, typed)


def test_points_are_typed() -> None:
    site, report = with_horizon(LOON_BARRENS, "180 3, 0 5; 90 12")
    assert site.horizon == ((0.0, 5.0), (90.0, 12.0), (180.0, 3.0))
    assert horizon_words(site) == ("3 points", "up to 12° at 90°")
    assert report == ()  # whoever types a few points knows of the gaps between them


def test_a_file_is_read_and_what_is_odd_is_told(tmp_path: Path) -> None:
    file = tmp_path / "trees.csv"
    file.write_text("azimuth,altitude\n" + "".join(f"{a},{a / 20}\n" for a in range(0, 360, 10)))
    site, report = with_horizon(LOON_BARRENS, f'"{file}"')
    assert len(site.horizon) == 36
    assert report == ()
    file.write_text("0,-5\n10,95\nwall,here\n")
    site, report = with_horizon(LOON_BARRENS, str(file))
    assert site.horizon == ((0.0, 0.0), (10.0, 90.0))
    assert any("wall" in line for line in report)
    assert any("No point between" in line for line in report)
    assert with_horizon(site, "")[0].horizon == ()


@pytest.mark.parametrize("typed", ["no/such/file.csv", "~nobody-here/x", "1 2 3 x\0", "5"])
def test_no_file_no_points(typed: str) -> None:
    with pytest.raises(AdviceError):
        with_horizon(LOON_BARRENS, typed)


def test_the_fields_are_on_the_screen_and_change_the_site(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    window.do("screen:place")
    for _line in range(8):
        window.do("row_down")
    window.do("take")
    assert window.sheets.up is not None
    assert window.sheets.up.head.text == "Horizon"
    window.sheets.up.field.setText("0 5, 20 -7")
    window.do("take")
    assert evening.choices.site.horizon == ((0.0, 5.0), (20.0, 0.0))
    assert "−7" not in evening.messages.current[-1].text
    assert "taken as 0°" in evening.messages.current[-1].text


def test_a_count_of_stars_becomes_the_sky_with_its_error() -> None:
    assert count_words(9, "the Great Square", SkyCount(5.71, 20.43, 0.42)).startswith(
        "9 stars in the Great Square: the faintest 5.7, the sky 20.4 ± 0.4"
    )
