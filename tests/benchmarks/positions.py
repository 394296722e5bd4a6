"""How long the whole catalogue takes to altitude and azimuth, as a share of ERFA's time.

Run ``python tests/benchmarks/positions.py``. ERFA does the same work in its own C loops: ICRS to
CIRS with parallax, light deflection and aberration (``atciqz``), then to the observer (``atioq``),
from contexts computed once (``apco13``). No timed assert: the ratio is printed.
"""

import statistics
import time
from collections.abc import Callable
from datetime import UTC, datetime

import erfa
import numpy as np

from companion.sky import LOON_BARRENS, Ephemeris, TargetTable, load_catalogue

UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
RUNS = 15


def median_ms(act: Callable[[], object]) -> float:
    act()
    times = []
    for _ in range(RUNS):
        started = time.perf_counter()
        act()
        times.append((time.perf_counter() - started) * 1000.0)
    return statistics.median(times)


def main() -> None:
    catalogue = load_catalogue()
    targets = [*catalogue.deep_sky.targets, *catalogue.bright_stars(99.0)]
    table = TargetTable.of(targets, UTC_NOW)
    ephemeris = Ephemeris.load()
    site = LOON_BARRENS

    def ours() -> object:
        return ephemeris.moment(site, UTC_NOW).horizontal(table)

    ra = np.arctan2(table.vectors[:, 1], table.vectors[:, 0]) % (2 * np.pi)
    dec = np.arcsin(np.clip(table.vectors[:, 2], -1, 1))
    jd1, jd2 = erfa.dtf2d("UTC", 2026, 10, 10, 23, 14, 0.0)

    def theirs() -> object:
        context, _origins = erfa.apco13(
            jd1, jd2, 0.0, np.radians(site.longitude_deg), np.radians(site.latitude_deg),
            site.elevation_m, 0.0, 0.0, 0.0, 0.0, 0.0, 0.55,
        )  # fmt: skip
        ri, di = erfa.atciqz(ra, dec, context)
        return erfa.atioq(ri, di, context)

    mine, other = median_ms(ours), median_ms(theirs)
    print(f"{len(targets)} objects: {mine:.1f} ms, ERFA {other:.1f} ms, ratio {mine / other:.3f}")
    ephemeris.close()


if __name__ == "__main__":
    main()
