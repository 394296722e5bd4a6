"""Brightness of the sky: how its parts behave, and that arrays and scalars agree."""

import numpy as np
import pytest
from hypothesis import given, strategies as st

from companion.advice import AdviceError
from companion.night.sight.air import airmass, usual_extinction
from companion.night.sight.scales import (
    bortle_class,
    candela_per_m2,
    mag_per_arcsec2,
    naked_eye_limit,
    nanolamberts,
    zenith_brightness,
    zenith_of_bortle,
    zenith_of_limit,
)
from companion.night.sight.skylight import Lights, glow_nl, moon_nl, sky_light, sun_nl

FULL_MOON = Lights(-40.0, 45.0, 0.0)


@given(st.floats(0.0, 25.0))
def test_units_of_brightness_turn_back(magnitude: float) -> None:
    assert float(mag_per_arcsec2(nanolamberts(magnitude))) == pytest.approx(magnitude, abs=1e-9)


@given(st.floats(3.5, 8.1))
def test_limit_and_zenith_turn_back(limit: float) -> None:
    assert float(naked_eye_limit(zenith_of_limit(limit))) == pytest.approx(limit, abs=1e-9)


@given(st.integers(1, 9))
def test_a_bortle_class_turns_back(bortle: int) -> None:
    assert bortle_class(zenith_of_bortle(bortle)) == bortle


def test_luminance_agrees_with_the_usual_zero_point() -> None:
    # 0 mag/arcsec² is 1.08e5 cd/m² (the convention of sky quality meters).
    assert float(candela_per_m2(0.0)) == pytest.approx(1.08e5, rel=0.01)


@pytest.mark.parametrize(
    ("measure", "value"),
    [
        ("meter", 23.0),
        ("meter", 5.0),
        ("limit_mag", 8.5),
        ("limit_mag", 1.0),
        ("bortle", 0),
        ("bortle", 10),
    ],
)
def test_impossible_darkness_is_refused_with_its_range(measure: str, value: float) -> None:
    with pytest.raises(AdviceError, match=r"outside .* to "):
        zenith_brightness(**{measure: value})  # type: ignore[arg-type]


def test_darkness_is_given_once() -> None:
    assert zenith_brightness(meter=21.2) == 21.2
    assert zenith_brightness(bortle=4) == pytest.approx(20.8)
    # Bortle 2001, from memory: class 5 shows 5.6 to 6.0, class 4 6.1 to 6.5.
    assert bortle_class(zenith_brightness(limit_mag=5.8)) == 5
    assert bortle_class(zenith_brightness(limit_mag=6.3)) == 4
    for given_twice in ({}, {"meter": 21.0, "bortle": 4}):
        with pytest.raises(AdviceError, match="more than once, or not at all"):
            zenith_brightness(**given_twice)  # type: ignore[arg-type]


@given(st.floats(-20.0, 90.0), st.floats(0.0, 10.0))
def test_air_thins_upwards(altitude: float, more: float) -> None:
    assert float(airmass(min(altitude + more, 90.0))) <= float(airmass(altitude))


def test_air_is_clearer_on_a_mountain() -> None:
    assert usual_extinction(0.0) > usual_extinction(1500.0) > usual_extinction(4000.0) > 0.05


def test_the_sky_is_brighter_near_the_horizon() -> None:
    glow = glow_nl(21.5, [90.0, 60.0, 30.0, 15.0], 0.2)
    assert np.all(np.diff(glow) > 0)
    assert float(mag_per_arcsec2(glow[0])) == pytest.approx(21.5)


def test_moonlight_needs_the_moon_up() -> None:
    set_moon = Lights(-40.0, -0.1, 0.0)
    assert float(moon_nl(set_moon, 50.0, 60.0, 0.2)) == 0.0
    assert float(moon_nl(FULL_MOON, 50.0, 60.0, 0.2)) > 1000.0


@given(st.floats(10.0, 80.0), st.floats(1.0, 9.0))
def test_moonlight_fades_away_from_the_moon(distance: float, more: float) -> None:
    near, far = moon_nl(FULL_MOON, [distance, distance + more], 60.0, 0.2)
    assert near > far


def test_a_thin_moon_is_weaker() -> None:
    phases = Lights(-40.0, 45.0, np.array([0.0, 60.0, 90.0, 150.0]))
    assert np.all(np.diff(moon_nl(phases, 50.0, 60.0, 0.2)) < 0)


def test_twilight_only_gets_darker() -> None:
    sun = np.arange(20.0, -30.0, -0.5)
    sky = sun_nl(Lights(sun, -90.0, 180.0), 90.0, 60.0, 0.2)
    assert np.all(np.diff(sky[sun <= 0.0]) <= 0)
    assert float(mag_per_arcsec2(sky[-1])) > 25.0
    assert float(mag_per_arcsec2(sky[0])) < 6.0


def test_the_west_is_brighter_after_sunset() -> None:
    dusk = Lights(-8.0, -90.0, 180.0)
    towards, away = sun_nl(dusk, np.array([28.0, 150.0]), 20.0, 0.2)
    assert towards > 2.0 * away


def test_the_sum_has_its_parts() -> None:
    lights = Lights(np.array([-30.0, -7.0]), np.array([30.0, -10.0]), 20.0)
    sky = sky_light(
        lights,
        zenith_mag=21.5,
        extinction_mag=0.25,
        altitude_deg=np.array([50.0, 50.0]),
        moon_distance_deg=np.array([40.0, 100.0]),
        sun_distance_deg=np.array([120.0, 97.0]),
    )
    assert sky.total[0] < sky.without_moon[0] - 1.0
    assert sky.total[1] == pytest.approx(sky.without_moon[1])
    assert sky.without_sun[1] > sky.total[1] + 3.0
    assert nanolamberts(sky.total) == pytest.approx(sky.glow + sky.moon + sky.sun)
