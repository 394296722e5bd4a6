import math

import numpy as np
import pytest
from hypothesis import given, strategies as st
from numpy.typing import NDArray

from companion.mount.model import (
    PARAMETERS,
    directions_of,
    lean,
    to_dials,
    to_sky,
    vectors_of,
)

FloatArray = NDArray[np.float64]

small = st.floats(-0.17, 0.17)  # ten degrees
parameters = st.tuples(st.floats(-3.1, 3.1), small, small, small, small, small, small)


def sky(azimuth_deg: float, altitude_deg: float) -> FloatArray:
    return vectors_of(np.radians(np.array([azimuth_deg])), np.radians(np.array([altitude_deg])))


def with_one(name: str, value: float) -> FloatArray:
    found = np.zeros(len(PARAMETERS))
    found[PARAMETERS.index(name)] = value
    return found


@given(parameters, st.floats(-180.0, 180.0), st.floats(-30.0, 60.0), st.booleans())
def test_readings_lead_back_to_the_sky(
    planted: tuple[float, ...], azimuth_deg: float, altitude_deg: float, level: bool
) -> None:
    there = sky(azimuth_deg, altitude_deg)
    back = to_sky(np.array(planted), *to_dials(np.array(planted), there, level=level), level=level)
    assert np.abs(back - there).max() < 1e-12


@given(parameters, st.floats(-3.0, 3.0), st.floats(-0.5, 1.0), st.booleans())
def test_the_sky_leads_back_to_readings(
    planted: tuple[float, ...], azimuth: float, altitude: float, level: bool
) -> None:
    found = np.array(planted)
    there = to_sky(found, np.array([azimuth]), np.array([altitude]), level=level)
    turned, raised = to_dials(found, there, level=level)
    assert math.cos(turned[0] - azimuth) == pytest.approx(1.0, abs=1e-12)
    assert raised[0] == pytest.approx(altitude, abs=1e-9)


def test_many_parameters_at_once_are_each_by_itself() -> None:
    rng = np.random.default_rng(5)
    planted = rng.normal(0.0, 0.05, (4, 7))
    there = vectors_of(rng.uniform(-3, 3, 6), rng.uniform(-0.2, 1.2, 6))
    for level in (False, True):
        together = to_dials(planted, there, level=level)
        back = to_sky(planted, *together, level=level)
        for i in range(4):
            alone = to_dials(planted[i], there, level=level)
            assert np.array_equal(together[0][i], alone[0])
            assert np.array_equal(together[1][i], alone[1])
            np.testing.assert_allclose(
                back[i], to_sky(planted[i], *alone, level=level), rtol=0, atol=1e-15
            )


@given(small, small)
def test_a_lean_is_a_rotation_that_brings_the_vertical_there(north: float, east: float) -> None:
    rotation = lean(np.array(north), np.array(east))
    np.testing.assert_allclose(rotation @ rotation.T, np.eye(3), rtol=0, atol=1e-14)
    size = math.hypot(north, east)
    assert rotation[2, 2] == pytest.approx(math.cos(size), abs=1e-15)
    assert rotation[0, 2] == pytest.approx(north * np.sinc(size / math.pi), abs=1e-15)
    assert rotation[1, 2] == pytest.approx(east * np.sinc(size / math.pi), abs=1e-15)


def first_order(name: str, azimuth: float, altitude: float) -> tuple[float, float]:
    """What a small positive parameter does to both dials, by the definitions: a base that leans
    towards the north stands lower there, so that a star in the north is higher above it."""
    sine, cosine, tangent = math.sin(azimuth), math.cos(azimuth), math.tan(altitude)
    return {
        "azimuth_zero": (-1.0, 0.0),
        "altitude_zero": (0.0, -1.0),
        "tilt_north": (sine * tangent, cosine),
        "tilt_east": (-cosine * tangent, sine),
        "cone": (-1.0 / math.cos(altitude), 0.0),
        "skew": (tangent, 0.0),
        "sag": (0.0, math.cos(altitude)),
    }[name]


@pytest.mark.parametrize("name", PARAMETERS)
@pytest.mark.parametrize("azimuth_deg", [-120.0, 10.0, 80.0])
@pytest.mark.parametrize("altitude_deg", [-20.0, 0.0, 35.0, 80.0])
def test_small_effects_are_the_classical_ones(
    name: str, azimuth_deg: float, altitude_deg: float
) -> None:
    step = 1e-6
    ahead = to_dials(with_one(name, step), sky(azimuth_deg, altitude_deg), level=False)
    behind = to_dials(with_one(name, -step), sky(azimuth_deg, altitude_deg), level=False)
    slopes = [float(a[0] - b[0]) / (2 * step) for a, b in zip(ahead, behind, strict=True)]
    expected = first_order(name, math.radians(azimuth_deg), math.radians(altitude_deg))
    assert slopes == pytest.approx(expected, abs=1e-6)


def test_a_level_on_the_tube_does_not_feel_the_base() -> None:
    there = sky(75.0, 40.0)
    for name in ("tilt_north", "tilt_east", "cone", "skew"):
        _turned, raised = to_dials(with_one(name, 0.05), there, level=True)
        assert math.degrees(raised[0]) == pytest.approx(40.0, abs=1e-12)


def test_the_top_of_a_crooked_mount_cannot_be_reached() -> None:
    crooked = with_one("cone", math.radians(2.0))
    reached = to_sky(crooked, *to_dials(crooked, sky(0.0, 90.0), level=False), level=False)
    _azimuth, altitude = directions_of(reached)
    assert math.degrees(altitude[0]) == pytest.approx(88.0, abs=1e-6)
