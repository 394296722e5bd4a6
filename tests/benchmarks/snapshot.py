"""How much work one snapshot is for the ephemeris thread, with 40 and 500 rows and all bodies.

Run ``python tests/benchmarks/snapshot.py``; a number after it is how many snapshots a median is
of. Said are milliseconds of the thread's processor: of steady ticks without and with an aligned
mount, and of the ticks after a new sighting, a new queue and a new target, the worst of them. The
reference in the same run is one skyfield ``observe().apparent().altaz()`` of a single star from
the same observer.
"""

import gc
import statistics
import sys
import time
from dataclasses import replace
from datetime import UTC, datetime, timedelta

from skyfield.api import Star, load_file, wgs84

from companion.instant import Choices, SnapshotBuilder
from companion.mount import Dial, Mount, Sighting
from companion.sky import LOON_BARRENS, Ephemeris, TargetTable, load_catalogue

UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
SNAPSHOTS = 1200  # ten minutes at 2 Hz
AFTER = 8  # ticks after a change: a search for the next star is through by then
MOUNT = Mount("wooden", Dial(step_deg=1.0))
SIGHTED = (97649, 24608, 69673, 102098)  # Altair, Capella, Arcturus, Deneb
ZERO_DEG = 23.5  # the dial's zero points at a bush


class Run:
    """Ticks at 2 Hz of one builder."""

    def __init__(self, ephemeris: Ephemeris) -> None:
        self._builder = SnapshotBuilder(ephemeris)
        self._number = 0

    def ticks_ms(self, choices: Choices, count: int) -> list[float]:
        """Give what each of the next snapshots took."""
        times = []
        for _ in range(count):
            self._number += 1
            utc = UTC_NOW + timedelta(seconds=self._number / 2)
            started = time.thread_time()
            self._builder.build(choices, utc)
            times.append((time.thread_time() - started) * 1000.0)
        return times


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else SNAPSHOTS
    ephemeris = Ephemeris.load()
    sightings = tuple(sighting(ephemeris, number) for number in range(len(SIGHTED)))
    gc.collect()
    gc.freeze()  # as the window does once everything is loaded
    reference = one_star_ms(ephemeris)
    print(f"skyfield, one star: {reference:.2f} ms")
    for rows in (40, 500):
        bare = choices_of(rows)
        run = Run(ephemeris)
        run.ticks_ms(bare, AFTER)
        tell(f"{rows} rows, no mount", run.ticks_ms(bare, count), reference)
        tell_changes(rows, run, bare, reference)
        aligned = replace(bare, mount=MOUNT, sightings=sightings[:3])
        run.ticks_ms(aligned, AFTER)
        tell(f"{rows} rows, mount", run.ticks_ms(aligned, count), reference)
        more = replace(aligned, sightings=sightings)
        tell(f"{rows} rows, mount, new sighting", run.ticks_ms(more, AFTER), reference)
        tell_changes(rows, run, more, reference)
    ephemeris.close()


def tell_changes(rows: int, run: Run, choices: Choices, reference_ms: float) -> None:
    """Print the ticks after a new queue and after a new target."""
    name = f"{rows} rows, {'no mount' if choices.mount is None else 'mount'}"
    shorter = replace(choices, queue=choices.queue[:-1])
    tell(f"{name}, new queue", run.ticks_ms(shorter, AFTER), reference_ms)
    other = replace(shorter, target=load_catalogue().star(SIGHTED[0]))
    tell(f"{name}, new target", run.ticks_ms(other, AFTER), reference_ms)


def tell(name: str, times_ms: list[float], reference_ms: float) -> None:
    """Print a line."""
    median, worst = statistics.median(times_ms), max(times_ms)
    print(
        f"{name}: median {median:.1f} ms, worst {worst:.1f} ms; in stars "
        f"{median / reference_ms:.1f} and {worst / reference_ms:.1f}"
    )


def choices_of(rows: int) -> Choices:
    catalogue = load_catalogue()
    bodies = catalogue.bodies
    return Choices(
        stamp=1,
        site=LOON_BARRENS,
        target=catalogue.target("body:saturn"),
        last_target=catalogue.star(91262),
        queue=(*bodies, *catalogue.deep_sky.targets[: rows - len(bodies)]),
    )


def sighting(ephemeris: Ephemeris, number: int) -> Sighting:
    target, utc = load_catalogue().star(SIGHTED[number]), UTC_NOW - timedelta(minutes=30 - number)
    place = ephemeris.moment(LOON_BARRENS, utc).horizontal(TargetTable.of([target], utc))
    azimuth, altitude = float(place.azimuth_deg[0]), float(place.altitude_deg[0])
    readings = (azimuth + ZERO_DEG) % 360.0, altitude + 0.4
    return Sighting(utc, target.name, target.key, azimuth, altitude, *readings, number=number + 1)


def one_star_ms(ephemeris: Ephemeris) -> float:
    kernel = load_file(str(ephemeris.kernel_path))
    earth = ephemeris.earth
    observer = kernel["earth"] + wgs84.latlon(45.2, -62.3, 120.0)
    star = Star(ra_hours=18.6156, dec_degrees=38.78)
    times = []
    for number in range(100):
        started = time.thread_time()
        at = earth.time(UTC_NOW + timedelta(seconds=number))
        observer.at(at).observe(star).apparent().altaz()
        times.append((time.thread_time() - started) * 1000.0)
    kernel.close()
    return statistics.median(times)


if __name__ == "__main__":
    main()
