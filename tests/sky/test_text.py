import math
from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given, strategies as st

from companion.sky import (
    altitude_text,
    angle_text,
    as_fists,
    azimuth_text,
    clock_text,
    compass_point,
    declination_text,
    duration_text,
    fists_text,
    magnitude_text,
    position_text,
    right_ascension_text,
    signed_text,
    size_text,
    zone_text,
)


@pytest.mark.parametrize(
    ("value", "step", "text"),
    [
        (41.28, 0.1, "41.3"),
        (142.4, 0.5, "142½"),
        (142.7, 0.25, "142¾"),
        (0.3, 0.25, "¼"),
        (-0.4, 0.5, "−½"),
        (-3.04, 0.1, "−3.0"),
        (0.04, 0.1, "0.0"),
        (-0.04, 0.1, "0.0"),
        (41.284, 0.01, "41.28"),
        (41.2, 1.0, "41"),
        (40.9, 2.0, "40"),
    ],
)
def test_altitude_is_written_as_the_dial_shows_it(value: float, step: float, text: str) -> None:
    assert altitude_text(value, step) == text


@pytest.mark.parametrize(
    ("value", "step", "text"),
    [(359.8, 0.5, "0"), (359.6, 0.5, "359½"), (-1.0, 1.0, "359"), (187.5, 0.1, "187.5")],
)
def test_azimuth_stays_in_the_circle(value: float, step: float, text: str) -> None:
    assert azimuth_text(value, step) == text


@given(st.floats(-90, 90), st.sampled_from([0.01, 0.1]))
def test_decimal_altitudes_read_back_within_half_a_step(value: float, step: float) -> None:
    read = float(altitude_text(value, step).replace("−", "-"))
    assert abs(read - value) <= step / 2 + 1e-9


@pytest.mark.parametrize(
    ("deg", "text"),
    [
        (12.3, "12°"),
        (1.234, "1.2°"),
        (0.3, "18′"),
        (0.03, "1.8′"),
        (0.005, "18″"),
        (0.0001, "0.4″"),
        (-1.5, "−1.5°"),
        (9.96, "10°"),
    ],
)
def test_angles_choose_their_unit(deg: float, text: str) -> None:
    assert angle_text(deg) == text


@pytest.mark.parametrize(
    ("seconds", "text"),
    [(25.4, "25 s"), (99.4, "99 s"), (120, "2 min"), (5970, "1h40"), (11400, "3h10"), (-3, "0 s")],
)
def test_durations(seconds: float, text: str) -> None:
    assert duration_text(seconds) == text


@pytest.mark.parametrize(
    ("deg", "text"),
    [
        (0.2, "less than a finger"),
        (1.0, "a finger"),
        (2.2, "two fingers"),
        (3.0, "a quarter of a fist"),
        (5.0, "half a fist"),
        (8.0, "three quarters of a fist"),
        (10.0, "a fist"),
        (12.0, "a fist and a quarter"),
        (16.0, "a fist and a half"),
        (17.0, "a fist and three quarters"),
        (28.7, "two and three quarter fists"),
        (-96.0, "nine and a half fists"),
        (100.0, "ten fists"),
    ],
)
def test_hands_at_arms_length(deg: float, text: str) -> None:
    # A fist is 10°, the little finger 1°: common practice, no source.
    assert fists_text(deg) == text


def test_a_hand_says_every_angle_to_an_eighth_of_a_fist() -> None:
    said: dict[str, float] = {}
    for deg in (hundredths / 100.0 for hundredths in range(6000)):
        assert abs(as_fists(deg) - deg) <= 1.2501
        assert said.setdefault(fists_text(deg), as_fists(deg)) == as_fists(deg)
    assert len(set(said.values())) == len(said)


def test_directions_and_places() -> None:
    assert [compass_point(a) for a in (0, 225, 348.8, 359)] == [
        "north",
        "south-west",
        "north",
        "north",
    ]
    assert compass_point(60, points=8) == "north-east"
    assert position_text(-32.4, 20.8) == "32.40° S 20.80° E"


def test_magnitudes_and_sizes() -> None:
    assert magnitude_text(None) == magnitude_text(math.nan) == "brightness unknown"
    assert magnitude_text(-1.46) == "mag −1.5"
    assert size_text(178.0, 63.0) == "3.0° × 1.1°"
    assert size_text(20.0, 20.0) == "20′"
    assert size_text(None, None) == ""


def test_coordinates_carry_over() -> None:
    assert right_ascension_text(83.82) == "5h35.3m"
    assert right_ascension_text(359.9999) == "0h00.0m"
    assert declination_text(-5.391) == "−5°23′"
    assert declination_text(-0.001) == "+0°00′"
    assert declination_text(12.9999) == "+13°00′"


def test_times() -> None:
    halifax = datetime(2026, 10, 10, 20, 14, tzinfo=timezone(timedelta(hours=-3), "ADT"))
    assert clock_text(halifax) == "20:14"
    assert zone_text(halifax) == "ADT"
    assert zone_text(halifax.astimezone(UTC)) == "UTC"
    assert zone_text(halifax.astimezone(timezone(timedelta(hours=-3), "-03"))) == "UTC−03"


def test_signs() -> None:
    assert [signed_text(v) for v in (1.26, -1.26, 0.01, -0.01)] == ["+1.3", "−1.3", "0.0", "0.0"]
