"""Constellation borders against the look-up of single directions."""

import numpy as np

from companion.sky import constellation_borders, constellation_of, ra_dec_of

_ASIDE = 2e-4  # radians: 40 arcseconds to either side


def test_a_border_parts_two_constellations() -> None:
    lines = constellation_borders()
    drawn = ~np.isnan(lines[:, 0])
    starts = np.flatnonzero(drawn[:-1] & drawn[1:])
    middles = lines[starts] + lines[starts + 1]
    normals = np.cross(middles, lines[starts + 1] - lines[starts])
    lengths = np.linalg.norm(normals, axis=1)
    usable = lengths > 1e-6
    middles = middles[usable] / np.linalg.norm(middles[usable], axis=1)[:, None]
    normals = normals[usable] / lengths[usable, None]
    left, right = (
        constellation_of(*ra_dec_of(middles + side * _ASIDE * normals)) for side in (1.0, -1.0)
    )
    assert len(middles) > 3000
    # Pieces along a parallel bend by up to 20″ off the great circle between their ends.
    assert (left != right).mean() > 0.995


def test_a_walk_meets_a_border_where_the_constellation_changes() -> None:
    lines = constellation_borders()
    drawn = lines[~np.isnan(lines[:, 0])]
    rng = np.random.default_rng(7)
    points = rng.normal(size=(300, 3))
    points /= np.linalg.norm(points, axis=1)[:, None]
    beside = points + rng.normal(scale=0.01, size=points.shape)
    beside /= np.linalg.norm(beside, axis=1)[:, None]
    first, second = (constellation_of(*ra_dec_of(one)) for one in (points, beside))
    changed = points[first != second]
    assert len(changed) > 5
    nearest = np.degrees(np.arccos(np.clip((changed @ drawn.T).max(axis=1), -1.0, 1.0)))
    assert nearest.max() < 3.0  # the step, and half of what parts two points of a border
