"""Brings the catalogue into the order that charts are drawn in: bright and known things first."""

from datetime import datetime
from typing import Final

import numpy as np

from companion.arrays import FloatArray, IntArray
from companion.charts.frame import SkyIndex
from companion.finding import load_groups
from companion.sky import Catalogue, Kind, julian_year, moved, unit_vectors

_STAR_EPOCH: Final = 1991.25
_KINDS: Final = tuple(Kind)  # the order in which the columns number them
_NOT_DRAWN: Final = frozenset({Kind.STAR, Kind.DOUBLE, Kind.VARIABLE, Kind.OTHER})
_FAINTEST_DEEP: Final = 16.0


def star_vectors(catalogue: Catalogue, order: IntArray, utc: datetime) -> FloatArray:
    """Give ICRS unit vectors (n, 3) of stars, moved to the date."""
    stars, years = catalogue.stars, julian_year(utc) - _STAR_EPOCH
    vectors = moved(
        stars.ra_deg, stars.dec_deg, stars.pm_ra_mas_per_yr * years, stars.pm_dec_mas_per_yr * years
    )
    return np.ascontiguousarray(vectors[order])


def deep_vectors(catalogue: Catalogue, rows: IntArray) -> FloatArray:
    """Give ICRS unit vectors (m, 3) of deep-sky objects."""
    columns = catalogue.deep_sky.columns
    return unit_vectors(columns.ra_deg[rows], columns.dec_deg[rows])


def star_order(catalogue: Catalogue) -> IntArray:
    """Give the catalogue's star rows, brightest first."""
    return np.argsort(catalogue.stars.magnitude, kind="stable").astype(np.int64)


def deep_order(catalogue: Catalogue) -> IntArray:
    """Give the rows of what is drawn of the deep sky: what is known, then by brightness."""
    c = catalogue.deep_sky.columns
    known = (c.messier > 0) | (c.caldwell > 0)
    drawn = np.array([kind not in _NOT_DRAWN for kind in _KINDS])[c.kind]
    bright = known | (c.magnitude <= _FAINTEST_DEEP)
    placed = (c.ra_deg != 0.0) | (c.dec_deg != 0.0)
    rows = np.flatnonzero(c.real & (c.duplicate_of < 0) & drawn & bright & placed)
    faintness = np.nan_to_num(c.magnitude[rows], nan=10.0)
    return rows[np.lexsort((faintness, ~known[rows]))].astype(np.int64)


def make_index(catalogue: Catalogue, stars: IntArray, deep: IntArray) -> SkyIndex:
    """Give the part of all frames that does not move."""
    names, columns = catalogue.names, catalogue.stars
    hips = columns.hip[stars]
    groups = load_groups()
    wanted = set(names.stars) | set(names.doubles) | set(names.variables)
    wanted |= {hip for group in groups for hip in group.stars}
    rows = {hip: row for row, hip in enumerate(hips.tolist()) if hip in wanted}
    called = {rows[hip]: star.best() for hip, star in names.stars.items() if hip in rows}
    c, sky = catalogue.deep_sky.columns, catalogue.deep_sky
    kept = [sky.target(row) for row in deep.tolist()]
    return SkyIndex(
        hip=hips.astype(np.int64),
        star_magnitude=columns.magnitude[stars].astype(np.float32),
        star_row=rows,
        star_names={row: called[row] for row in sorted(called)},
        doubles={rows[hip]: double for hip, double in names.doubles.items() if hip in rows},
        variables=frozenset(rows[hip] for hip in names.variables if hip in rows),
        group_lines=np.array(
            [(rows[a], rows[b]) for g in groups for a, b in g.lines if a in rows and b in rows],
            np.int64,
        ).reshape(-1, 2),
        group_names=tuple(
            (g.name, np.array([rows[hip] for hip in g.stars if hip in rows], np.int64))
            for g in groups
        ),
        deep_keys=tuple(target.key for target in kept),
        deep_names=tuple(target.name for target in kept),
        deep_kinds=tuple(target.kind for target in kept),
        deep_magnitude=c.magnitude[deep],
        deep_known=(c.messier[deep] > 0) | (c.caldwell[deep] > 0),
        deep_axes_deg=np.stack([c.major_arcmin[deep], c.minor_arcmin[deep]], axis=1) / 60.0,
        deep_angle_deg=c.position_angle_deg[deep],
    )
