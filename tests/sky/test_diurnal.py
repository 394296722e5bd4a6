"""The daily turn against the altitude formula of spherical trigonometry (Meeus, chapter 13)."""

import numpy as np
import pytest
from hypothesis import given, strategies as st

from companion.sky import unit_vectors
from companion.sky.diurnal import TURN_DEG_PER_S, Diurnal, equator_axes, turned_west

latitudes = st.floats(-80.0, 80.0)
declinations = st.floats(-80.0, 80.0)
hours = st.floats(-179.0, 179.0)


def altitude_deg(latitude_deg: float, declination_deg: float, hour_angle_deg: float) -> float:
    phi, delta, hour = np.radians([latitude_deg, declination_deg, hour_angle_deg])
    sine = np.sin(phi) * np.sin(delta) + np.cos(phi) * np.cos(delta) * np.cos(hour)
    return float(np.degrees(np.arcsin(np.clip(sine, -1.0, 1.0))))


def diurnal(latitude_deg: float, declination_deg: float, hour_angle_deg: float) -> Diurnal:
    return Diurnal(np.array([hour_angle_deg]), np.array([declination_deg]), latitude_deg)


@given(latitudes, declinations, hours)
def test_it_rises_over_an_altitude_when_it_is_told_to(
    latitude: float, declination: float, hour: float
) -> None:
    wait_s = float(diurnal(latitude, declination, hour).seconds_until_above(10.0)[0])
    highest = 90.0 - abs(latitude - declination)
    if highest < 10.0 - 1e-6:
        assert wait_s == np.inf
    elif altitude_deg(latitude, declination, hour) > 10.0 + 1e-6:
        assert wait_s == 0.0
    elif highest > 10.1 and altitude_deg(latitude, declination, hour) < 10.0 - 1e-6:
        then = hour + wait_s * TURN_DEG_PER_S
        assert altitude_deg(latitude, declination, then) == pytest.approx(10.0, abs=1e-6)
        assert altitude_deg(latitude, declination, then + 0.1) > 10.0
        assert 0.0 < wait_s < 86400.0


@given(latitudes, declinations, hours)
def test_it_sinks_under_an_altitude_when_it_is_told_to(
    latitude: float, declination: float, hour: float
) -> None:
    left_s = float(diurnal(latitude, declination, hour).seconds_until_below(10.0)[0])
    lowest = abs(latitude + declination) - 90.0
    if lowest > 10.0 + 1e-6:
        assert left_s == np.inf
    elif altitude_deg(latitude, declination, hour) < 10.0 - 1e-6:
        assert left_s == 0.0
    elif lowest < 9.9 and altitude_deg(latitude, declination, hour) > 10.0 + 1e-6:
        then = hour + left_s * TURN_DEG_PER_S
        assert altitude_deg(latitude, declination, then) == pytest.approx(10.0, abs=1e-6)
        assert altitude_deg(latitude, declination, then + 0.1) < 10.0


def test_what_never_rises_waits_for_ever_and_what_never_sets_stays() -> None:
    """From 45° north: the far south stays below, the far north above, whatever the hour."""
    for hour in (-170.0, -90.0, 0.0, 90.0, 170.0):
        assert diurnal(45.2, -60.0, hour).seconds_until_above(0.0)[0] == np.inf
        assert diurnal(45.2, -60.0, hour).seconds_until_below(0.0)[0] == 0.0
        assert diurnal(45.2, 60.0, hour).seconds_until_below(0.0)[0] == np.inf
        assert diurnal(45.2, 60.0, hour).seconds_until_above(0.0)[0] == 0.0


def test_a_place_in_the_sky_has_its_hour_angle_and_declination() -> None:
    west = Diurnal.of(45.2, [270.0, 180.0, 0.0, 90.0], [0.0, 30.0, 45.2, 0.0])
    assert west.hour_angle_deg[[0, 1, 3]] == pytest.approx([90.0, 0.0, -90.0])
    assert west.declination_deg == pytest.approx([0.0, 30.0 - 44.8, 90.0, 0.0])


@given(latitudes, st.floats(-179.0, 179.0), st.floats(-89.0, 89.0), st.floats(-43200.0, 43200.0))
def test_the_turning_axes_lead_to_the_place_later_and_back(
    latitude: float, azimuth: float, altitude: float, seconds: float
) -> None:
    axes = equator_axes(latitude)
    assert np.allclose(axes @ axes, np.eye(3))
    local = unit_vectors(azimuth, altitude)  # towards north, east and up
    now = Diurnal.of(latitude, azimuth, altitude)
    later = turned_west(local @ axes, seconds) @ axes
    hour = float(now.hour_angle_deg[0]) + seconds * TURN_DEG_PER_S
    up = altitude_deg(latitude, float(now.declination_deg[0]), hour)
    assert float(np.degrees(np.arcsin(np.clip(later[2], -1.0, 1.0)))) == pytest.approx(up, abs=1e-5)
    assert np.allclose(turned_west(later @ axes, -seconds) @ axes, local)
