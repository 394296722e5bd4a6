import math

import numpy as np
import pytest

from companion.advice import AdviceError
from companion.finding import (
    Eyepiece,
    Finder,
    Instrument,
    InstrumentKind,
    Viewing,
    drift_time_s,
    optics_of,
    view_matrix,
)
from companion.finding.optics import eyepiece_optics

WIDE = Eyepiece("30 mm", 30.0, 68.0)
STOPPED = Eyepiece("10 mm", 10.0, 60.0, field_stop_mm=12.0)
FINDER = Finder("finder", 6.0, 8.0, 50.0, Viewing.TURNED)
SCOPE = Instrument(
    "150 mm f/8",
    InstrumentKind.TELESCOPE,
    150.0,
    focal_mm=1200.0,
    eyepieces=(STOPPED, WIDE),
    finder=FINDER,
    viewing=Viewing.TURNED,
)


def test_a_telescope_shows_what_the_textbook_says() -> None:
    finder, wide, close = optics_of(SCOPE)
    assert finder.name == "finder"
    assert finder.exit_pupil_mm == pytest.approx(6.25)
    assert wide.magnification == pytest.approx(40.0)
    assert wide.field_deg == pytest.approx(1.7)
    assert wide.exit_pupil_mm == pytest.approx(3.75)
    assert wide.resolution_arcsec == pytest.approx(1.5)  # the eye's minute of arc over 40
    assert close.magnification == pytest.approx(120.0)
    assert close.field_deg == pytest.approx(math.degrees(2 * math.atan(6 / 1200)))
    assert close.resolution_arcsec == pytest.approx(116 / 150)
    assert close.viewing is Viewing.TURNED


def test_binoculars_and_eyes_are_one_look_each() -> None:
    (look,) = optics_of(Instrument("10×50", InstrumentKind.BINOCULARS, 50.0, 10.0, 6.5))
    assert (look.magnification, look.field_deg, look.exit_pupil_mm) == (10.0, 6.5, 5.0)
    assert look.resolution_arcsec == pytest.approx(6.0)
    (eye,) = optics_of(Instrument("eyes", InstrumentKind.EYE, 6.0))
    assert eye.resolution_arcsec == pytest.approx(60.0)


def test_drift_across_a_field() -> None:
    assert drift_time_s(1.0, 0.0) == pytest.approx(239.34, abs=0.01)  # 4 sidereal minutes
    assert drift_time_s(1.0, 60.0) == pytest.approx(2 * 239.34, abs=0.02)
    assert drift_time_s(1.0, 90.0) == math.inf


def test_matrices_turn_and_mirror() -> None:
    assert np.linalg.det(view_matrix(Viewing.UPRIGHT)) == pytest.approx(1.0)
    assert np.linalg.det(view_matrix(Viewing.TURNED)) == pytest.approx(1.0)
    assert np.linalg.det(view_matrix(Viewing.MIRRORED)) == pytest.approx(-1.0)
    for viewing in Viewing:
        assert np.allclose(view_matrix(viewing) @ view_matrix(viewing), np.eye(2))


@pytest.mark.parametrize("focal_mm", [0.0, -5.0, math.nan, math.inf])
def test_impossible_lengths_are_refused_in_words(focal_mm: float) -> None:
    with pytest.raises(AdviceError, match="focal length"):
        eyepiece_optics(SCOPE, Eyepiece("broken", focal_mm))
    with pytest.raises(AdviceError, match="field"):
        optics_of(Instrument("10×50", InstrumentKind.BINOCULARS, 50.0, 10.0, focal_mm))
