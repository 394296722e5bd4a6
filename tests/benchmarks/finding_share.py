"""How many targets have a way, and how long it takes to find one.

Run ``python tests/benchmarks/finding_share.py``. 500 random directions more than 10 degrees high,
half at each demo site, at random moments of 2026 and 2027 with the Sun 18 degrees down. Counted:
a pointer line that misses by under 3 degrees within five gaps, and a complete hop through a field
of 6 degrees from a star that the eye finds. No asserts: the shares and times are printed.
"""

import statistics
import time
from datetime import UTC, datetime, timedelta

import numpy as np

from companion.finding import (
    Optics,
    Place,
    Viewing,
    WayFinder,
    WayKind,
    Ways,
    hops_to,
    seen_vectors,
    ways_to,
)
from companion.sky import DEMO_SITES, Ephemeris, Moment, Site, load_catalogue

TARGETS = 500
A_MOMENT = 10  # targets asked for at each
FINDER = Optics("finder", 8.0, 6.0, 6.25, 7.5, Viewing.TURNED)
START = datetime(2026, 1, 1, tzinfo=UTC)


def dark_moment(ephemeris: Ephemeris, site: Site, rng: np.random.Generator) -> Moment:
    """Draw until the Sun is down."""
    while True:
        moment = ephemeris.moment(site, START + timedelta(minutes=rng.uniform(0, 2 * 525_600)))
        if moment.body("sun").altitude_airless_deg < -18.0:
            return moment


def direction(rng: np.random.Generator) -> tuple[float, float]:
    """Draw evenly from the sky above 10 degrees."""
    low = np.sin(np.radians(10.0))
    return float(rng.uniform(0.0, 360.0)), float(np.degrees(np.arcsin(rng.uniform(low, 1.0))))


def has_pointer(found: Ways) -> bool:
    """Say whether one of the ways is a pointer line that is good enough."""
    return any(
        way.kind is WayKind.LINE and way.miss_deg < 3.0 and way.gaps <= 5.0 for way in found.ways
    )


def main() -> None:
    """Count and time."""
    rng, catalogue, ephemeris = np.random.default_rng(5), load_catalogue(), Ephemeris.load()
    ready = WayFinder(catalogue, START + timedelta(days=365))
    pointing: dict[str, list[bool]] = {site.name: [] for site in DEMO_SITES}
    leading: dict[str, list[bool]] = {site.name: [] for site in DEMO_SITES}
    hopping: dict[str, list[bool]] = {site.name: [] for site in DEMO_SITES}
    first_ms: list[float] = []
    pointer_ms: list[float] = []
    hop_ms: list[float] = []
    for number in range(TARGETS // A_MOMENT):
        site = DEMO_SITES[number % 2]
        moment = dark_moment(ephemeris, site, rng)
        guides, stars = ready.guide_stars(moment, 6.0), ready.field_stars(moment)
        for turn in range(A_MOMENT):
            place = Place(seen_vectors(*direction(rng)), "the target")
            started = time.perf_counter()
            found = ways_to(guides, place)
            between = time.perf_counter()
            hops = hops_to(stars, place, FINDER)
            ended = time.perf_counter()
            (pointer_ms if turn else first_ms).append((between - started) * 1000.0)
            hop_ms.append((ended - between) * 1000.0)
            pointing[site.name].append(has_pointer(found))
            leading[site.name].append(bool(found.ways))
            hopping[site.name].append(bool(hops.steps))
    ephemeris.close()
    for what, counted in (
        ("a pointer line under 3° within five gaps", pointing),
        ("any way by eye", leading),
        ("a complete hop in a 6° finder", hopping),
    ):
        for name, hits in counted.items():
            print(f"{name}: {what}: {sum(hits)}/{len(hits)}, {100 * np.mean(hits):.1f}%")
    report("ways, first of a moment", first_ms)
    report("ways, next ones", pointer_ms)
    report("hops through 6.5-magnitude stars", hop_ms)


def report(what: str, times_ms: list[float]) -> None:
    """Print the middle and the slow end."""
    slow = float(np.percentile(times_ms, 95))
    print(f"{what}: median {statistics.median(times_ms):.1f} ms, 95% under {slow:.1f} ms")


if __name__ == "__main__":
    main()
