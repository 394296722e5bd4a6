"""How long one snapshot takes the ephemeris thread, with 500 queue rows and all bodies.

Run ``python tests/benchmarks/snapshot.py``. The reference in the same run is one skyfield
``observe().apparent().altaz()`` of a single star from the same observer.
"""

import gc
import statistics
import time
from datetime import UTC, datetime, timedelta

from skyfield.api import Star, load_file, wgs84

from companion.instant import Choices, SnapshotBuilder
from companion.sky import LOON_BARRENS, Ephemeris, load_catalogue

UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
SNAPSHOTS = 1200  # ten minutes at 2 Hz


def main() -> None:
    catalogue = load_catalogue()
    queue = (*catalogue.bodies, *catalogue.deep_sky.targets[:490])
    ephemeris = Ephemeris.load()
    builder = SnapshotBuilder(ephemeris)
    choices = Choices(
        stamp=1,
        site=LOON_BARRENS,
        target=catalogue.target("body:saturn"),
        last_target=catalogue.star(91262),
        queue=queue,
    )
    gc.collect()
    gc.freeze()  # as the window does once everything is loaded
    times = []
    for number in range(SNAPSHOTS):
        utc = UTC_NOW + timedelta(seconds=number / 2)
        started = time.perf_counter()
        builder.build(choices, utc)
        times.append((time.perf_counter() - started) * 1000.0)
    reference = one_star_ms(ephemeris)
    ordered = sorted(times)
    median = statistics.median(times)
    print(
        f"{len(queue)} rows: median {median:.2f} ms, 95% {ordered[int(0.95 * SNAPSHOTS)]:.2f} ms, "
        f"worst {ordered[-1]:.1f} ms; skyfield, one star {reference:.2f} ms, "
        f"ratio {median / reference:.2f}"
    )
    ephemeris.close()


def one_star_ms(ephemeris: Ephemeris) -> float:
    kernel = load_file(str(ephemeris.kernel_path))
    earth = ephemeris.earth
    observer = kernel["earth"] + wgs84.latlon(45.2, -62.3, 120.0)
    star = Star(ra_hours=18.6156, dec_degrees=38.78)
    times = []
    for number in range(100):
        started = time.perf_counter()
        at = earth.time(UTC_NOW + timedelta(seconds=number))
        observer.at(at).observe(star).apparent().altaz()
        times.append((time.perf_counter() - started) * 1000.0)
    kernel.close()
    return statistics.median(times)


if __name__ == "__main__":
    main()
