import math

import numpy as np
import pytest
from hypothesis import given, strategies as st

from companion.mount.radius import probability_within, radius_of


def test_a_round_error_is_rayleighs() -> None:
    # P(r < R) = 1 - exp(-R²/2σ²): Rayleigh 1880.
    covariance = np.eye(2) * 0.3**2
    assert float(radius_of(covariance)) == pytest.approx(0.3 * math.sqrt(-2 * math.log(0.05)))
    assert float(probability_within(covariance, 0.5)) == pytest.approx(
        1 - math.exp(-(0.5**2) / (2 * 0.3**2))
    )


def test_an_error_in_one_direction_only_is_that_of_a_line() -> None:
    covariance = np.diag([0.0, 4.0])
    assert float(radius_of(covariance)) == pytest.approx(2 * 1.959964, rel=1e-3)
    assert float(probability_within(covariance, 2.0)) == pytest.approx(
        math.erf(1 / math.sqrt(2)), rel=1e-3
    )


@given(st.floats(0.01, 5.0), st.floats(0.01, 5.0), st.floats(-0.99, 0.99), st.floats(0.05, 0.99))
def test_the_circle_holds_what_it_was_made_for(a: float, b: float, rho: float, p: float) -> None:
    covariance = np.array([[a * a, rho * a * b], [rho * a * b, b * b]])
    assert float(probability_within(covariance, radius_of(covariance, p))) == pytest.approx(p)


def test_nothing_is_within_nothing() -> None:
    assert float(probability_within(np.eye(2), 0.0)) == 0.0
    assert float(probability_within(np.eye(2), -1.0)) == 0.0


def test_drawn_errors_fall_inside_as_often_as_said() -> None:
    covariance = np.array([[0.09, 0.05], [0.05, 0.04]])
    drawn = np.random.default_rng(3).multivariate_normal([0, 0], covariance, 200_000)
    inside = np.mean(np.hypot(drawn[:, 0], drawn[:, 1]) < radius_of(covariance))
    assert inside == pytest.approx(0.95, abs=0.002)


@given(
    st.lists(st.tuples(st.floats(1e-3, 50.0), st.floats(1e-3, 50.0)), min_size=1, max_size=6),
    st.lists(st.floats(1e-6, 1.0), min_size=6, max_size=6),
    st.floats(0.05, 0.99),
)
def test_the_circle_holds_a_mixture_of_errors_too(
    sigmas: list[tuple[float, float]], shares: list[float], p: float
) -> None:
    covariances = np.array([np.diag(np.square(pair)) for pair in sigmas])
    weights = np.array(shares[: len(sigmas)]) / sum(shares[: len(sigmas)])
    radius = radius_of(covariances, p, weights)
    assert float(probability_within(covariances, radius, weights)) == pytest.approx(p)


def test_errors_that_are_nothing_have_no_radius() -> None:
    covariances = np.array([np.zeros((2, 2)), np.eye(2)])
    assert radius_of(covariances).tolist() == [0.0, pytest.approx(math.sqrt(-2 * math.log(0.05)))]
    assert float(radius_of(covariances, weights=np.array([1.0, 0.0]))) < 1e-9
