"""The borders of the constellations: as lines on the sky, and which one a direction lies in."""

from functools import lru_cache
from typing import Any, Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from companion.arrays import BoolArray, FloatArray
from companion.sky.vectors import unit_vectors

_STEP_DEG: Final = 1.5


@lru_cache(maxsize=1)
def constellation_borders() -> FloatArray:
    """Give the borders as ICRS unit vectors (k, 3); rows of NaN part the lines.

    Delporte's borders of 1930 run along hours and parallels of the equinox B1875. They are read
    off the table of Roman 1987 (PASP 99, 695): where two neighbouring cells of its grid belong to
    different constellations, the side between them is a border.
    """
    ra_edges, dec_edges, cells, to_icrs = _grid()
    lines: list[FloatArray] = []
    around = np.vstack([cells, cells[:1]])  # the last hour is followed by the first
    for edge, differs in enumerate(around[1:] != around[:-1]):
        for start, end in _runs(differs):
            dec = _steps(dec_edges[start], dec_edges[end])
            lines.append(unit_vectors(np.full(len(dec), ra_edges[edge + 1]), dec))
    for edge, differs in enumerate((cells[:, 1:] != cells[:, :-1]).T):
        for start, end in _runs(differs):
            ra = _steps(ra_edges[start], ra_edges[end])
            lines.append(unit_vectors(ra, np.full(len(ra), dec_edges[edge + 1])))
    gap = np.full((1, 3), np.nan)
    return np.vstack([part for line in lines for part in (line @ to_icrs, gap)])


def _grid() -> tuple[FloatArray, FloatArray, NDArray[np.int8], FloatArray]:
    """Give edges in right ascension and declination, the cells between them, and the turn."""
    from skyfield.functions import load_bundled_npy
    from skyfield.timelib import Time, julian_date_of_besselian_epoch

    table: Any = load_bundled_npy("constellations.npz")
    ra = np.concatenate([[0.0], table["sorted_ra"] * 15.0, [360.0]])
    dec = np.concatenate([[-90.0], table["sorted_dec"], [90.0]])
    cells = table["radec_to_index"][: len(ra) - 1, : len(dec) - 1]
    return ra, dec, cells, np.asarray(Time(None, julian_date_of_besselian_epoch(1875)).M)


def _runs(marks: BoolArray) -> list[tuple[int, int]]:
    """Give start and end of each run of marks."""
    turns = np.flatnonzero(np.diff(np.concatenate([[0], marks.astype(np.int8), [0]])))
    return list(zip(turns[::2].tolist(), turns[1::2].tolist(), strict=True))


def _steps(low: float, high: float) -> FloatArray:
    return np.linspace(low, high, max(2, int(np.ceil((high - low) / _STEP_DEG)) + 1))


def constellation_of(ra_deg: ArrayLike, dec_deg: ArrayLike) -> NDArray[np.str_]:
    """Give the constellation that each ICRS direction lies in.

    Boundaries are those of Delporte (1930) as tabulated by Roman 1987 (PASP 99, 695).

    Parameters
    ----------
    ra_deg, dec_deg : array_like
        Degrees, ICRS, of one shape.

    Returns
    -------
    NDArray[np.str_]
        IAU abbreviations, of the same shape.
    """
    from skyfield.positionlib import position_of_radec

    ra, dec = np.broadcast_arrays(np.asarray(ra_deg, float), np.asarray(dec_deg, float))
    place = position_of_radec(ra.ravel() / 15.0, dec.ravel())
    return np.asarray(_map()(place), dtype=np.str_).reshape(ra.shape)


@lru_cache(maxsize=1)
def _map() -> Any:  # noqa: ANN401 - skyfield carries no types
    from skyfield.constellationlib import load_constellation_map

    return load_constellation_map()
