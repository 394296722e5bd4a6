"""The mount's geometry against rotations composed by ``scipy.spatial.transform.Rotation``.

The tube is carried from axis to axis by rotations in the usual right-handed frame of aviation,
(north, east, down): an independent way to the same direction, at any angles.
"""

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from companion.mount.model import to_dials, to_sky


@pytest.mark.parametrize("seed", range(50))
def test_the_tube_points_where_composed_rotations_bring_it(seed: int) -> None:
    rng = np.random.default_rng(seed)
    zero, (tilt_north, tilt_east, cone, skew) = rng.uniform(-3.0, 3.0), rng.normal(0.0, 0.1, 4)
    azimuth, altitude = rng.uniform(-3.0, 3.0), rng.uniform(-0.3, 1.1)
    base = Rotation.from_rotvec([tilt_east, -tilt_north, 0.0])  # the vertical towards the tilt
    turn = Rotation.from_rotvec([0.0, 0.0, azimuth + zero])  # from north through east
    roll = Rotation.from_rotvec([-skew, 0.0, 0.0])  # the right end of the axis higher
    rise = Rotation.from_rotvec([0.0, altitude, 0.0])
    tube = np.array([np.cos(cone), np.sin(cone), 0.0])
    north, east, down = (base * turn * roll * rise).apply(tube)
    parameters = np.array([zero, 0.0, tilt_north, tilt_east, cone, skew, 0.0])
    ours = to_sky(parameters, np.array([azimuth]), np.array([altitude]), level=False)
    np.testing.assert_allclose(ours[0], [north, east, -down], rtol=0, atol=1e-14)
    turned, raised = to_dials(parameters, np.array([[north, east, -down]]), level=False)
    assert np.cos(turned[0] - azimuth) == pytest.approx(1.0, abs=1e-14)
    assert raised[0] == pytest.approx(altitude, abs=1e-12)
