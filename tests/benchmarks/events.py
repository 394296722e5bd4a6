"""How long a year of all that comes takes, beside a plain search by skyfield for a part of it.

Run ``python tests/benchmarks/events.py``; ``--years 20`` counts what is missed or doubled against a
grid of ten minutes, ``--lines 100000`` reads so many elements. Figures are printed, none asserted.
"""

import argparse
import resource
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from itertools import combinations
from typing import Any

import numpy as np
from skyfield import almanac
from skyfield.api import wgs84
from skyfield.searchlib import find_maxima, find_minima

from companion.events import ComingRequest, Event, EventKind, read_elements, what_comes
from companion.night import Conditions, find_instrument
from companion.sky import LOON_BARRENS, Ephemeris, load_catalogue

FIRST = datetime(2026, 1, 1, tzinfo=UTC)
NAMES = {
    "mercury": "mercury", "venus": "venus", "mars": "mars", "jupiter": "jupiter barycenter",
    "saturn": "saturn barycenter", "uranus": "uranus barycenter", "neptune": "neptune barycenter",
}  # fmt: skip
PART = frozenset(
    {EventKind.MOON_PHASE, EventKind.OPPOSITION, EventKind.SOLAR_CONJUNCTION, EventKind.ELONGATION}
)
CERES = (
    "{:05d}    3.34  0.15 K26BL 188.70269   73.27343   80.25221   10.58780  0.0794013  0.21424651"
    "   2.7660512  0 E2024-V47  7258 123 1801-2024 0.80 M-v 30k MPCLINUX   4000      ({}) N{}"
)


def cpu_s(act: Callable[[], object]) -> float:
    started = time.process_time()
    act()
    return time.process_time() - started


def memory_mb() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0


def ask(ephemeris: Ephemeris, kinds: frozenset[EventKind], days: float) -> tuple[Event, ...]:
    site = LOON_BARRENS
    request = ComingRequest(
        site,
        FIRST,
        FIRST + timedelta(days=days),
        find_instrument("10x50"),
        Conditions.at(site),
        kinds,
    )
    return what_comes(ephemeris, load_catalogue(), request)


def plainly(ephemeris: Ephemeris, days: float) -> int:
    """The same part as skyfield's own documentation would have it searched for."""
    kernel: Any = ephemeris._kernel
    scale = ephemeris.earth.timescale
    ends = [scale.from_datetime(FIRST + timedelta(days=d)) for d in (0, days)]
    count = len(almanac.find_discrete(*ends, almanac.moon_phases(kernel))[0])
    for name in NAMES.values():
        meets = almanac.oppositions_conjunctions(kernel, kernel[name])
        count += len(almanac.find_discrete(*ends, meets)[0])
    for name in ("mercury", "venus"):
        count += len(find_maxima(*ends, separation(kernel, kernel["earth"], "sun", name))[0])
    return count


def close_plainly(ephemeris: Ephemeris, days: float) -> int:
    """Conjunctions of planets as seen from the site."""
    kernel: Any = ephemeris._kernel
    scale, site = ephemeris.earth.timescale, LOON_BARRENS
    here = kernel["earth"] + wgs84.latlon(site.latitude_deg, site.longitude_deg, site.elevation_m)
    ends = [scale.from_datetime(FIRST + timedelta(days=d)) for d in (0, days)]
    count = 0
    for one, other in combinations(NAMES.values(), 2):
        _times, apart = find_minima(*ends, separation(kernel, here, one, other))
        count += int(np.sum(apart < 6.5))
    return count


def separation(kernel: Any, observer: Any, one: str, other: str) -> Any:
    def apart(times: Any) -> Any:
        here = observer.at(times)
        seen = [here.observe(kernel[name]).apparent() for name in (one, other)]
        return seen[0].separation_from(seen[1]).degrees

    apart.step_days = 4.0  # type: ignore[attr-defined]  # how skyfield is told
    return apart


def against_grid(ephemeris: Ephemeris, years: int) -> None:
    """Count approaches of Moon and planets missed or doubled, against steps of ten minutes."""
    kernel: Any = ephemeris._kernel
    scale, site = ephemeris.earth.timescale, LOON_BARRENS
    here = kernel["earth"] + wgs84.latlon(site.latitude_deg, site.longitude_deg, site.elevation_m)
    expected: list[tuple[str, float]] = []
    for month in range(years * 12):
        start = FIRST + timedelta(days=30.4375 * month)
        minutes = np.arange(-10.0, 30.4375 * 1440.0 + 11.0, 10.0)
        times = scale.from_datetimes([start + timedelta(minutes=m) for m in minutes])
        at = here.at(times)
        moon = at.observe(kernel["moon"]).apparent().position.au
        moon = moon / np.linalg.norm(moon, axis=0)
        for name in list(NAMES)[:5]:
            planet = at.observe(kernel[NAMES[name]]).apparent().position.au
            apart = np.sum((moon - planet / np.linalg.norm(planet, axis=0)) ** 2, axis=0)
            low = np.flatnonzero((apart[1:-1] <= apart[:-2]) & (apart[1:-1] < apart[2:])) + 1
            limit = (2.0 * np.sin(np.radians(6.5) / 2.0)) ** 2
            expected += [
                (name.capitalize(), (start - FIRST).total_seconds() + minutes[row] * 60.0)
                for row in low
                if apart[row] < limit and 0.0 <= minutes[row] < 30.4375 * 1440.0
            ]
    found = [
        (event.bodies[1], (event.utc - FIRST).total_seconds())
        for event in ask(ephemeris, frozenset({EventKind.CONJUNCTION}), 30.4375 * 12 * years)
        if event.bodies[0] == "Moon" and event.bodies[1].lower() in list(NAMES)[:5]
    ]
    missed = [one for one in expected if not any(_same(one, other) for other in found)]
    extra = [one for one in found if sum(_same(one, other) for other in expected) != 1]
    print(
        f"{years} years of the Moon with planets: {len(expected)} on the grid, {len(found)} found, "
        f"{len(missed)} missed, {len(extra)} doubled or not on the grid"
    )


def _same(one: tuple[str, float], other: tuple[str, float]) -> bool:
    return one[0] == other[0] and abs(one[1] - other[1]) < 1200.0


def elements(lines: int) -> None:
    text = "\n".join(CERES.format(n % 100000, n, n) for n in range(1, lines + 1)).encode()
    before, spent = memory_mb(), [0]

    def read() -> None:
        spent[0] = len(read_elements(text).elements)

    seconds = cpu_s(read)
    print(
        f"{lines} lines, {len(text) / 1e6:.0f} MB: {spent[0]} read in {seconds:.1f} s of processor "
        f"time, {memory_mb() - before:.0f} MB more at most"
    )


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--years", type=int, default=0)
    parser.add_argument("--lines", type=int, default=0)
    options = parser.parse_args()
    ephemeris = Ephemeris.load()
    ask(ephemeris, PART, 10)  # whatever is loaded once is loaded now
    everything, whole = [0], 0.0

    def all_kinds() -> None:
        everything[0] = len(ask(ephemeris, frozenset(), 365))

    whole = cpu_s(all_kinds)
    ours = cpu_s(lambda: ask(ephemeris, PART, 365))
    theirs = cpu_s(lambda: plainly(ephemeris, 365))
    close = cpu_s(lambda: ask(ephemeris, frozenset({EventKind.CONJUNCTION}), 365))
    close_theirs = cpu_s(lambda: close_plainly(ephemeris, 365))
    print(f"a year of all kinds: {everything[0]} events, {whole:.2f} s of processor time")
    print(f"phases, oppositions, elongations: {ours:.2f} s, skyfield {theirs:.2f} s, "
          f"ratio {ours / theirs:.2f}")  # fmt: skip
    print(f"conjunctions (ours with Moon and stars): {close:.2f} s, skyfield's planets alone "
          f"{close_theirs:.2f} s, ratio {close / close_theirs:.2f}")  # fmt: skip
    part = theirs + close_theirs
    print(f"all kinds beside skyfield for that part: {whole / part:.2f}; {memory_mb():.0f} MB")
    if options.years:
        against_grid(ephemeris, options.years)
    if options.lines:
        elements(options.lines)
    ephemeris.close()


if __name__ == "__main__":
    main()
