"""What stands beside a chart, in words."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from window.sky_fakes import NOON, sky_of

from companion.charts import ChartKind, Pointed, PointedThing, lens_of
from companion.sky import LOON_BARRENS
from companion.window.sky.page_words import caption, complete
from companion.window.sky.words import (
    Walk,
    chart_words,
    light_words,
    passages,
    pointed_words,
)


def test_words_of_light() -> None:
    assert "Sun is up" in light_words(sky_of("hip:91262", NOON))
    dusk = sky_of("hip:91262", datetime(2026, 10, 10, 22, 10, tzinfo=UTC))
    assert "the eye finds stars to magnitude" in light_words(dusk)
    assert light_words(sky_of("hip:91262", datetime(2026, 10, 11, 4, tzinfo=UTC))) == ""


def test_words_of_an_eyepiece() -> None:
    sky = sky_of("hip:95947")
    lens = lens_of(sky, ChartKind.EYEPIECE)
    assert sky.target is not None
    told = {p.caption: p.text for p in passages(sky, lens, sky.target.vector, Walk())}
    assert "34.7″ apart" in told["DOUBLE STAR"]
    assert "north-east (position angle 55°)" in told["DOUBLE STAR"]
    assert told["DRIFT"] == "A star crosses the field in 5\u00a0min."
    words = chart_words(sky, lens, sky.target.vector)
    assert words.startswith("25 mm at 48× · field 1.1°")
    assert words.endswith("all stars to magnitude 10.0, some fainter.")
    assert caption(sky, lens).endswith("· field 1.1°")
    assert complete(lens) == "all stars to magnitude 10.0, some fainter"


@pytest.mark.parametrize(
    ("utc", "words"),
    [
        (datetime(2026, 10, 11, 4, tzinfo=UTC), "at best, as this sky shows them"),
        (NOON, "at best, as in the dark"),
    ],
)
def test_words_of_a_chart_by_eye(utc: datetime, words: str) -> None:
    sky = sky_of("hip:91262", utc)
    lens = lens_of(sky, ChartKind.WHOLE)
    said = chart_words(sky, lens, sky.pole)
    assert f"stars to magnitude {lens.complete_to:.1f} {words}" in said
    bright = replace(LOON_BARRENS, sky_brightness_mag_per_arcsec2=18.0)
    assert lens_of(sky_of("hip:91262", utc, site=bright), ChartKind.WHOLE).star_limit < 4.7


def test_words_of_the_field_name_neighbours_and_their_sides() -> None:
    sky = sky_of()
    lens = lens_of(sky, ChartKind.EYEPIECE)
    assert sky.target is not None
    told = {p.caption: p.text for p in passages(sky, lens, sky.target.vector, Walk())}
    lines = told["IN THE FIELD"].splitlines()
    assert lines[0].startswith("M 31")
    assert any(line.startswith("M 32 · galaxy") and line.endswith("24′ south") for line in lines)


def test_at_the_pole_nothing_drifts() -> None:
    sky = sky_of("icrs:0.00000+90.00000")
    lens = lens_of(sky, ChartKind.FINDER)
    told = {p.caption: p.text for p in passages(sky, lens, sky.pole, Walk())}
    assert "turns on the spot" in told["DRIFT"]


def test_the_pointer_says_what_and_where_in_the_mount_s_numbers() -> None:
    there = Pointed(41.25, 187.5, 310.36, 45.28, "", PointedThing("Deneb", "star", 1.25, "hip:1"))
    what, where = pointed_words(there)
    assert what == "Deneb · star · mag 1.2"
    assert where.startswith("altitude 41.2°, azimuth 187.5° · 20h")
    dials = replace(there, readings="altitude 40.9°, azimuth 171½°", thing=None)
    assert pointed_words(dials)[0] == ""
    assert pointed_words(dials)[1].startswith("dials: altitude 40.9°, azimuth 171½° · ")


def test_near_the_sun_the_pointer_tells_no_number() -> None:
    there = Pointed(30.0, 200.0, 190.0, -7.0, "", PointedThing("Mercury", "planet", 0.1, "k"), True)
    assert pointed_words(there) == (
        "Mercury · planet · mag 0.1",
        "near the Sun, which is up: numbers withheld, caps on",
    )
