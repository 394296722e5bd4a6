from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, strategies as st

from companion.mount import PLAIN_MOUNT, Dial, Mount, blind_spot, dial_turn, reach_words
from companion.mount.daily_turn import azimuth_rate, turned_with_sky
from companion.mount.model import directions_of, vectors_of
from companion.sky import Diurnal

CABLED = replace(PLAIN_MOUNT, cable_limit_deg=270.0)

angles = st.floats(0.0, 359.9)


def test_without_a_cable_the_short_way_is_taken() -> None:
    turn = dial_turn(PLAIN_MOUNT, (350.0, 30.0), (20.0, 45.0))
    assert (turn.azimuth_deg, turn.altitude_deg) == (30.0, 15.0)
    assert not turn.long_way
    assert turn.words == ""


def test_a_dial_that_runs_backwards_turns_the_other_way() -> None:
    backwards = replace(PLAIN_MOUNT, azimuth=Dial(clockwise=False))
    assert dial_turn(backwards, (10.0, 0.0), (40.0, 0.0)).azimuth_deg == -30.0


def test_the_cable_sends_the_long_way_round_and_says_so() -> None:
    turn = dial_turn(CABLED, (90.0, 0.0), (280.0, 0.0), wound_deg=-270.0)
    assert turn.azimuth_deg == pytest.approx(190.0)
    assert turn.long_way
    assert "long way round" in turn.words
    assert "190° to the right: the cable" in turn.words
    assert turn.wound_deg == pytest.approx(-80.0)


@given(angles, angles, st.floats(-270.0, 270.0))
def test_the_cable_is_never_overwound(end: float, altitude: float, wound: float) -> None:
    turn = dial_turn(CABLED, (wound % 360.0, 0.0), (end, 0.0), wound_deg=wound)
    assert abs(turn.wound_deg) <= 270.0 + 1e-6
    assert (turn.wound_deg - end + 180.0) % 360.0 - 180.0 == pytest.approx(0.0, abs=1e-6)
    assert turn.long_way == (abs(turn.azimuth_deg) > 180.0 + 1e-9)


def test_a_cable_that_is_wound_too_far_already_is_said() -> None:
    tight = replace(PLAIN_MOUNT, cable_limit_deg=100.0)
    assert "unwind it first" in dial_turn(tight, (90.0, 0.0), (180.0, 0.0)).words


def test_a_dial_with_stops_goes_between_them() -> None:
    stopped = Mount("stopped", azimuth=Dial(low_deg=10.0, high_deg=350.0))
    turn = dial_turn(stopped, (20.0, 0.0), (340.0, 0.0))
    assert turn.azimuth_deg == 320.0
    assert "the dial's stop" in turn.words


def test_what_is_out_of_reach_is_said() -> None:
    low = replace(PLAIN_MOUNT, reach_high_deg=80.0, reach_low_deg=5.0)
    assert "higher than the tube" in reach_words(low, 84.0, (10.0, 84.0))
    assert "lower than the tube" in reach_words(low, 1.0, (10.0, 1.0))
    half = replace(PLAIN_MOUNT, azimuth=Dial(high_deg=180.0))
    assert "azimuth dial ends" in reach_words(half, 30.0, (200.0, 30.0))
    assert reach_words(low, 45.0, (10.0, 45.0)) == ""


@given(
    st.floats(-89.0, 89.0), st.floats(-179.0, 179.0), st.floats(-60.0, 85.0), st.floats(-4e4, 4e4)
)
def test_the_daily_turn_keeps_declination_and_moves_the_hour_angle(
    latitude: float, azimuth: float, altitude: float, seconds: float
) -> None:
    """Against the hour angle and declination of spherical trigonometry."""
    start = vectors_of(np.radians(np.array([azimuth])), np.radians(np.array([altitude])))
    turned = turned_with_sky(start, latitude, np.array(seconds))
    before = Diurnal.of(latitude, np.array([azimuth]), np.array([altitude]))
    after = Diurnal.of(latitude, *(np.degrees(part) for part in directions_of(turned)))
    assert after.declination_deg[0] == pytest.approx(before.declination_deg[0], abs=1e-6)
    moved = float(after.hour_angle_deg[0] - before.hour_angle_deg[0])
    wrong = np.radians(moved - seconds * 360.98564736629 / 86400.0)
    # Close to the pole an hour angle is worth little.
    flat = np.cos(np.radians(float(before.declination_deg[0])))
    assert abs(np.sin(wrong / 2.0)) * flat < 1e-9


@pytest.mark.parametrize("latitude", [45.2, -32.4])
@pytest.mark.parametrize("place", [(100.0, 30.0), (200.0, 80.0), (350.0, 60.0)])
def test_the_azimuth_rate_is_the_turns_derivative(
    latitude: float, place: tuple[float, float]
) -> None:
    azimuth, altitude = (np.radians(np.array([one])) for one in place)
    around = turned_with_sky(vectors_of(azimuth, altitude), latitude, np.array([-0.5, 0.5]))
    behind, ahead = directions_of(around)[0][:, 0]
    slope = (ahead - behind + np.pi) % (2 * np.pi) - np.pi
    assert slope == pytest.approx(float(azimuth_rate(latitude, azimuth, altitude)[0]), rel=1e-5)


def test_the_blind_spot_is_named_with_when_to_come_back() -> None:
    spot = blind_spot(45.2, 150.0, 88.0)
    assert spot.inside
    assert spot.back_in_s is not None
    assert "Near the zenith" in spot.words
    assert "Better in" in spot.words
    assert not blind_spot(45.2, 150.0, 40.0).inside


def test_a_star_above_the_tubes_reach_comes_back_when_it_has_sunk() -> None:
    spot = blind_spot(45.2, 200.0, 75.0, reach_high_deg=70.0)
    assert spot.inside
    assert "Higher than the tube" in spot.words
    assert spot.back_in_s is not None
    start = vectors_of(np.radians(np.array([200.0])), np.radians(np.array([75.0])))
    _azimuth, altitude = directions_of(turned_with_sky(start, 45.2, np.array(spot.back_in_s)))
    assert float(np.degrees(altitude[0])) == pytest.approx(70.0, abs=0.2)


def test_the_pole_itself_stays_where_it_is() -> None:
    spot = blind_spot(85.0, 0.0, 85.0, reach_high_deg=80.0)
    assert spot.back_in_s is None
    assert "for hours" in spot.words


@pytest.mark.parametrize(("altitude", "followed"), [(84.3, True), (84.6, False)])
def test_a_hand_follows_two_degrees_of_azimuth_a_minute(altitude: float, followed: bool) -> None:
    """In the south the azimuth runs 15° an hour times (sin φ + cos φ tan h) (Smart, chapter 2)."""
    latitude = np.radians(45.2)
    rate = 15.041 / 60.0 * (np.sin(latitude) + np.cos(latitude) * np.tan(np.radians(altitude)))
    assert bool(rate < 2.0) is followed
    spot = blind_spot(45.2, 180.0, altitude)
    assert spot.azimuth_deg_per_min == pytest.approx(rate, rel=1e-3)
    assert spot.inside is not followed
