"""The likeness of the Milky Way: where the Galaxy is, brightest where observers have it so.

The pole is that of the International Astronomical Union's galactic coordinates (1958). The bright
parts (Cygnus, Sagittarius, Carina, Crux) and the faint side (Auriga) are common knowledge.
"""

import numpy as np
import pytest
from astropy import units
from astropy.coordinates import SkyCoord

from companion.sky import milky_way, unit_vectors


def _bright(ra_deg: float, dec_deg: float) -> float:
    return float(milky_way(unit_vectors(np.array([ra_deg]), np.array([dec_deg])))[0])


def test_it_lies_along_the_plane_of_the_galaxy() -> None:
    generator = np.random.default_rng(3)
    vectors = generator.normal(size=(20_000, 3))
    vectors /= np.linalg.norm(vectors, axis=1)[:, None]
    galactic = SkyCoord(
        np.degrees(np.arctan2(vectors[:, 1], vectors[:, 0])) * units.deg,
        np.degrees(np.arcsin(vectors[:, 2])) * units.deg,
    ).galactic
    latitude, bright = np.abs(galactic.b.deg), milky_way(vectors)
    assert bright[latitude < 8.0].mean() > 10.0 * bright[latitude > 40.0].mean()
    assert np.quantile(bright[latitude > 60.0], 0.99) < 0.1
    assert bright.min() >= 0.0
    assert bright.max() <= 1.0


@pytest.mark.parametrize(
    ("ra_deg", "dec_deg"), [(305.0, 40.0), (271.0, -28.0), (161.0, -60.0), (187.0, -62.0)]
)
def test_the_bright_parts_are_brighter_than_the_far_side(ra_deg: float, dec_deg: float) -> None:
    assert _bright(ra_deg, dec_deg) > 1.4 * _bright(82.0, 35.0) > 0.3


def test_it_is_the_same_from_both_sides_of_a_seam() -> None:
    for dec_deg in (-89.9, -30.0, 60.0, 89.9):
        assert _bright(359.999, dec_deg) == pytest.approx(_bright(0.001, dec_deg), abs=0.01)
    assert _bright(192.859, 27.128) == 0.0
