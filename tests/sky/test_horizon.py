"""The site's own horizon between its points, and over north."""

import numpy as np
import pytest

from companion.sky import horizon_altitude_deg


@pytest.mark.parametrize(
    ("azimuth", "expected"),
    [(0.0, 5.0), (45.0, 7.5), (90.0, 10.0), (225.0, 7.5), (359.999, 5.0), (270.0, 6.667)],
)
def test_a_horizon_is_straight_between_its_points(azimuth: float, expected: float) -> None:
    found = horizon_altitude_deg(((0.0, 5.0), (90.0, 10.0)), azimuth)
    assert float(found) == pytest.approx(expected, abs=0.01)


def test_it_goes_on_over_north() -> None:
    points = ((10.0, 4.0), (350.0, 8.0))
    assert horizon_altitude_deg(points, [0.0, 355.0, -5.0, 365.0]) == pytest.approx(
        [6.0, 7.0, 7.0, 5.0]
    )


def test_where_nothing_was_drawn_it_is_level() -> None:
    assert np.all(horizon_altitude_deg((), [0.0, 123.0]) == 0.0)
    assert float(horizon_altitude_deg(((30.0, 4.0),), 10.0)) == pytest.approx(4.0)
