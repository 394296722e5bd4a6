import numpy as np
import pytest
from hypothesis import given, strategies as st

from companion.finding import (
    ViewFrame,
    Viewing,
    circle_around,
    position_angle_deg,
    seen_vectors,
)
from companion.finding.projection import arc_between
from companion.sky import separation_deg, unit_vectors

ZENITH = np.array([0.0, 0.0, 1.0])
directions = st.tuples(st.floats(0, 360), st.floats(-90, 90))


@given(directions, directions, st.sampled_from(Viewing), st.floats(-360, 360))
def test_places_lead_back_to_directions(
    centre: tuple[float, float],
    other: tuple[float, float],
    viewing: Viewing,
    turn_deg: float,
) -> None:
    frame = ViewFrame(unit_vectors(*centre), ZENITH, viewing, turn_deg)
    vector = unit_vectors(*other)
    if float(separation_deg(frame.centre, vector)) > 179.0:
        return
    back = frame.unproject(frame.project(vector))
    assert np.allclose(back, vector, atol=1e-9)
    away = float(separation_deg(frame.centre, vector))
    assert float(np.hypot(*frame.project(vector))) == pytest.approx(frame.radius(away), abs=1e-6)


def test_facing_south_east_is_left_and_the_zenith_up() -> None:
    frame = ViewFrame(seen_vectors(180.0, 30.0), ZENITH)
    east, west, high = (
        frame.project(seen_vectors(*at)) for at in ((150, 30), (210, 30), (180, 60))
    )
    assert east[0] < -20.0
    assert west[0] > 20.0
    assert high == pytest.approx((0.0, 2 * np.tan(np.radians(15.0)) * 180 / np.pi), abs=1e-9)


@pytest.mark.parametrize(
    ("viewing", "signs"),
    [(Viewing.UPRIGHT, (1, 1)), (Viewing.TURNED, (-1, -1)), (Viewing.MIRRORED, (-1, 1))],
)
def test_an_instrument_turns_or_mirrors(viewing: Viewing, signs: tuple[int, int]) -> None:
    centre, other = seen_vectors(120.0, 40.0), seen_vectors(121.0, 41.0)
    upright = ViewFrame(centre, ZENITH).project(other)
    assert (upright > 0).all()
    assert np.allclose(ViewFrame(centre, ZENITH, viewing).project(other), upright * signs)


def test_a_turned_eyepiece_turns_clockwise() -> None:
    centre, above = seen_vectors(120.0, 40.0), seen_vectors(120.0, 41.0)
    place = ViewFrame(centre, ZENITH, turn_deg=90.0).project(above)
    assert place[0] > 0.9
    assert abs(place[1]) < 1e-9
    assert ViewFrame(centre, ZENITH, turn_deg=30.0).angle_towards(above) == pytest.approx(30.0)


def test_drift_goes_west_and_upwards_in_the_east() -> None:
    pole = seen_vectors(0.0, 45.0)
    rising = ViewFrame(seen_vectors(90.0, 0.0), ZENITH)
    assert rising.drift_angle(pole) == pytest.approx(45.0, abs=1e-6)  # up and to the right
    south = ViewFrame(seen_vectors(180.0, 30.0), ZENITH)
    assert south.drift_angle(pole) == pytest.approx(90.0, abs=1e-6)
    assert np.cos(np.radians(south.angle_of(0.0, pole))) == pytest.approx(1.0)
    down_under = ViewFrame(seen_vectors(0.0, 60.0), ZENITH)
    sunk_pole = seen_vectors(0.0, -32.0)
    assert down_under.drift_angle(sunk_pole) == pytest.approx(270.0, abs=1e-6)


def test_the_opposite_point_has_no_place_and_the_middle_has() -> None:
    frame = ViewFrame(unit_vectors(20.0, 30.0), ZENITH)
    assert np.isnan(frame.project(-frame.centre)).all()
    assert np.allclose(frame.project(frame.centre), 0.0)
    assert np.allclose(frame.unproject(np.zeros(2)), frame.centre)


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_zenith_and_pole_have_a_steady_up(sign: float) -> None:
    exactly = ViewFrame(sign * ZENITH, ZENITH)
    nearly = ViewFrame(seen_vectors(0.0, sign * 89.9999), ZENITH)
    other = seen_vectors(40.0, sign * 70.0)
    assert np.allclose(exactly.project(other), nearly.project(other), atol=0.01)
    assert np.isfinite(position_angle_deg(ZENITH, other, ZENITH))


def test_a_hundred_thousand_stars_go_in_one_call() -> None:
    vectors = unit_vectors(np.linspace(0, 360, 100_000), np.linspace(-90, 90, 100_000))
    assert ViewFrame(unit_vectors(0.0, 0.0), ZENITH).project(vectors).shape == (100_000, 2)


@given(directions, st.floats(0.001, 90))
def test_circles_keep_their_radius(middle: tuple[float, float], radius_deg: float) -> None:
    rim = circle_around(unit_vectors(*middle), radius_deg, 12)
    assert rim.shape == (13, 3)
    assert np.allclose(separation_deg(rim, unit_vectors(*middle)), radius_deg, atol=1e-9)


@given(directions, directions)
def test_arcs_run_from_end_to_end(start: tuple[float, float], end: tuple[float, float]) -> None:
    a, b = unit_vectors(*start), unit_vectors(*end)
    if float(separation_deg(a, b)) > 179.9:
        return
    arc = arc_between(a, b)
    assert np.allclose(arc[[0, -1]], [a, b], atol=1e-9)
    assert np.allclose(np.linalg.norm(arc, axis=1), 1.0)
