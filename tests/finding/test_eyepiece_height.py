"""How high the eyepiece stands, by hand: plain trigonometry on the tube."""

import math

import pytest

from companion.finding import Instrument, InstrumentKind, Viewing, eyepiece_height_m

NEWTONIAN = Instrument(
    "n", InstrumentKind.TELESCOPE, 150.0, focal_mm=1200.0, viewing=Viewing.TURNED
)
REFRACTOR = Instrument(
    "r", InstrumentKind.TELESCOPE, 100.0, focal_mm=900.0, viewing=Viewing.MIRRORED
)


def test_a_newtonian_s_eyepiece_rises_with_the_tube_and_a_refractor_s_sinks() -> None:
    level, up = (eyepiece_height_m(NEWTONIAN, altitude, 1.0) for altitude in (0.0, 90.0))
    assert level == pytest.approx(1.0)
    assert up == pytest.approx(1.0 + 0.6 * 1.2)
    low = eyepiece_height_m(REFRACTOR, 30.0, 1.5)
    assert low == pytest.approx(1.5 - 0.5 * 0.9 * math.sin(math.radians(30.0)))


def test_what_is_not_known_is_not_told() -> None:
    eye = Instrument("eye", InstrumentKind.EYE, 7.0)
    assert eyepiece_height_m(NEWTONIAN, 40.0, None) is None
    assert eyepiece_height_m(eye, 40.0, 1.0) is None
