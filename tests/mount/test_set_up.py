from dataclasses import replace

import numpy as np
import pytest

from companion.mount import (
    PLAIN_MOUNT,
    NorthLook,
    SetUpKind,
    compass_sighting,
    compass_sigma_deg,
    examine,
    fit,
    level_sighting,
    levelled_sighting,
    set_up_steps,
    shadow_sighting,
    trust_words,
)
from mount.simulated import START, MadeUpSky

LEVEL = levelled_sighting(START)
ALL = NorthLook(
    compass_for_true_north_deg=16.2,
    declination_sigma_deg=0.5,
    shadow_azimuth_deg=312.4,
    polaris_azimuth_deg=0.6,
    polaris_altitude_deg=45.7,
    star_name="Vega",
    star_azimuth_deg=88.2,
    star_altitude_deg=51.0,
)


def test_level_comes_first_and_then_the_ways_to_north_from_the_best() -> None:
    steps = set_up_steps(PLAIN_MOUNT, ALL)
    assert [step.kind for step in steps] == [
        SetUpKind.LEVEL,
        SetUpKind.ALTITUDE,
        SetUpKind.POLARIS,
        SetUpKind.STAR,
        SetUpKind.SHADOW,
        SetUpKind.COMPASS,
    ]
    for step in steps:
        assert step.title
        assert step.do
        assert step.key
        assert step.yields


def test_a_way_that_is_not_open_is_not_offered() -> None:
    kinds = [step.kind for step in set_up_steps(PLAIN_MOUNT, NorthLook())]
    assert kinds == [SetUpKind.LEVEL, SetUpKind.ALTITUDE]


def test_the_shadow_step_warns_of_the_sun_above_all() -> None:
    (shadow,) = [s for s in set_up_steps(PLAIN_MOUNT, ALL) if s.kind is SetUpKind.SHADOW]
    assert shadow.caution.startswith("Never look at the Sun")
    assert "away from the Sun" in shadow.do
    assert "312½" in shadow.do


def test_the_dark_steps_warn_of_what_one_does_not_see() -> None:
    for step in set_up_steps(PLAIN_MOUNT, ALL):
        if step.kind in {SetUpKind.LEVEL, SetUpKind.STAR, SetUpKind.COMPASS}:
            assert "ladders" in step.caution


@pytest.mark.parametrize(
    ("kind", "said"),
    [
        (SetUpKind.POLARIS, "46° high in the north. Turn the azimuth dial until it shows ½"),
        (SetUpKind.STAR, "Vega, 51° high"),
        (SetUpKind.COMPASS, "compass shows 16°"),
    ],
)
def test_each_step_gives_its_numbers(kind: SetUpKind, said: str) -> None:
    (step,) = [one for one in set_up_steps(PLAIN_MOUNT, ALL) if one.kind is kind]
    assert said in step.do


def test_every_step_makes_an_aim_surer() -> None:
    places = ([0.0, 120.0, 240.0], [30.0, 50.0, 40.0])
    done = [
        fit(PLAIN_MOUNT, []),
        fit(PLAIN_MOUNT, [compass_sighting(START, 0.0)]),
        fit(PLAIN_MOUNT, [compass_sighting(START, 0.0), level_sighting(START, 0.0)]),
        fit(PLAIN_MOUNT, [LEVEL, compass_sighting(START, 0.0), level_sighting(START, 0.0)]),
        fit(PLAIN_MOUNT, [LEVEL, shadow_sighting(START, 40.0, 40.0), level_sighting(START, 0.0)]),
    ]
    worst = [max(aim.radius95_deg for aim in one.aims(*places)) for one in done]
    assert worst == sorted(worst, reverse=True)
    assert worst[0] > 90.0
    # Shadow and level by half a degree each, and a base that may not stand as it was set.
    assert worst[-1] < 2.5


def test_a_base_that_was_levelled_is_held_closer_until_that_is_set_aside() -> None:
    north = [compass_sighting(START, 0.0)]
    by_eye, with_care = fit(PLAIN_MOUNT, north), fit(PLAIN_MOUNT, [LEVEL, *north])
    tilts = [one.parameters["tilt_north"].prior_sigma_deg for one in (by_eye, with_care)]
    assert tilts[1] < 0.7 * tilts[0]
    aside = fit(PLAIN_MOUNT, [replace(LEVEL, set_aside=True), *north])
    assert aside.parameters["tilt_north"].prior_sigma_deg == tilts[0]
    always = fit(replace(PLAIN_MOUNT, levelled_with_care=True), north)
    assert always.parameters["tilt_north"].prior_sigma_deg == tilts[1]
    assert trust_words(with_care, 4.0) == "by compass only, 95% of aims within 4.0°"
    assert examine(PLAIN_MOUNT, [LEVEL, *north], MadeUpSky.of(1, 45.2).at, 45.2) == ()


def test_play_is_measured_on_what_is_aimed_at() -> None:
    low = replace(ALL, aimed_name="Altair", aimed_altitude_deg=40.0)
    kinds = [step.kind for step in set_up_steps(PLAIN_MOUNT, low)]
    assert kinds[-2:] == [SetUpKind.AZIMUTH_PLAY, SetUpKind.ALTITUDE_PLAY]
    for step in set_up_steps(PLAIN_MOUNT, low)[-2:]:
        assert "Altair" in step.do
        assert step.then
    high = replace(low, aimed_altitude_deg=80.0)
    assert SetUpKind.AZIMUTH_PLAY not in {s.kind for s in set_up_steps(PLAIN_MOUNT, high)}
    below = replace(low, aimed_altitude_deg=-3.0)
    assert set_up_steps(PLAIN_MOUNT, below) == set_up_steps(PLAIN_MOUNT, ALL)


def test_a_shadow_brings_north_to_where_it_is() -> None:
    alignment = fit(PLAIN_MOUNT, [LEVEL, shadow_sighting(START, 312.4, 300.0)])
    azimuths, _altitudes = alignment.readings(np.array([12.4]), np.array([20.0]))
    assert azimuths[0] == pytest.approx(0.0, abs=0.05)


def test_a_compass_is_as_sure_as_its_reading_and_the_model_together() -> None:
    assert compass_sigma_deg(0.0) == pytest.approx(2.0)
    assert compass_sigma_deg(1.5) == pytest.approx(2.5)
    unsure = replace(ALL, declination_sigma_deg=6.0)
    (step,) = [s for s in set_up_steps(PLAIN_MOUNT, unsure) if s.kind is SetUpKind.COMPASS]
    assert "to about 6°" in step.yields
    aims = [
        fit(PLAIN_MOUNT, [LEVEL, compass_sighting(START, 0.0, compass_sigma_deg(sigma))]).aim(
            0.0, 10.0
        )
        for sigma in (0.0, 6.0)
    ]
    assert aims[1].radius95_deg > 2.0 * aims[0].radius95_deg
