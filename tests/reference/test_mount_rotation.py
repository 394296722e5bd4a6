"""Recovery of a rotation against ``scipy.spatial.transform.Rotation.align_vectors``.

SciPy solves the same problem (Wahba 1965) with an implementation of its own.
"""

from datetime import UTC, datetime

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from companion.mount import Dial, Mount, Sighting, fit
from companion.mount.fit import best_rotation
from companion.mount.model import lean, vectors_of


@pytest.mark.parametrize("seed", range(20))
def test_the_start_is_scipys_rotation(seed: int) -> None:
    rng = np.random.default_rng(seed)
    count = int(rng.integers(2, 12))
    shown = rng.normal(size=(count, 3))
    shown /= np.linalg.norm(shown, axis=1)[:, None]
    turned = Rotation.random(random_state=seed)
    seen = turned.apply(shown) + rng.normal(0.0, 0.01, (count, 3))
    weights = rng.uniform(0.2, 1.0, count)
    ours = best_rotation(shown, seen, weights)
    theirs, _rssd = Rotation.align_vectors(seen, shown, weights=weights)
    np.testing.assert_allclose(ours, theirs.as_matrix(), rtol=0, atol=1e-9)


def test_a_mirror_image_is_never_taken_for_a_rotation() -> None:
    shown = np.eye(3)
    mirrored = np.diag([1.0, 1.0, -1.0])
    ours = best_rotation(shown, mirrored, np.ones(3))
    assert np.linalg.det(ours) == pytest.approx(1.0)


@pytest.mark.parametrize("seed", range(10))
def test_a_fit_to_a_leaning_base_agrees_with_scipys_rotation(seed: int) -> None:
    """Many exact readings of a mount that only leans and is turned: no prior matters then."""
    rng = np.random.default_rng(seed)
    azimuth, altitude = rng.uniform(-180, 180, 40), rng.uniform(10, 75, 40)
    tilt, zero = np.radians(rng.normal(0, 2.0, 2)), rng.uniform(-np.pi, np.pi)
    turn = np.array([[np.cos(zero), -np.sin(zero), 0], [np.sin(zero), np.cos(zero), 0], [0, 0, 1]])
    base = lean(tilt[0], tilt[1]) @ turn
    shown = vectors_of(np.radians(azimuth), np.radians(altitude))
    sky = shown @ base.T
    mount = Mount(
        "exact",
        azimuth=Dial(low_deg=-180.0, high_deg=180.0, step_deg=1e-4, play_deg=0.0),
        altitude=Dial(low_deg=-90.0, high_deg=90.0, step_deg=1e-4, play_deg=0.0),
        centring_sigma_deg=0.0,
    )
    utc = datetime(2026, 11, 25, tzinfo=UTC)
    sightings = [
        Sighting(utc, f"{i}", "", float(a), float(e), float(azimuth[i]), float(altitude[i]))
        for i, (a, e) in enumerate(
            zip(
                np.degrees(np.arctan2(sky[:, 1], sky[:, 0])) % 360.0,
                np.degrees(np.arcsin(sky[:, 2])),
                strict=True,
            )
        )
    ]
    theirs, _rssd = Rotation.align_vectors(sky, shown)
    alignment = fit(mount, sightings)
    for reading in ((10.0, 20.0), (-130.0, 65.0)):
        pointed = theirs.apply(vectors_of(*np.radians(np.array(reading))))
        azimuth_deg, altitude_deg = alignment.sky_of(*reading)
        ours = vectors_of(np.radians(np.array(azimuth_deg)), np.radians(np.array(altitude_deg)))
        assert np.degrees(np.linalg.norm(ours - pointed)) < 1e-4
