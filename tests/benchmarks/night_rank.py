#!/usr/bin/env python3
"""Time tonight's list, new orders of 60 and of 2,000 targets, and a list of 100,000 lines.

``python -m tests.benchmarks.night_rank`` prints seconds, the ratio to astropy computing the
positions alone (a sample of them, scaled), and memory; it asserts nothing.
"""

import resource
import time
from collections import Counter
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from functools import partial
from typing import TypeVar

import numpy as np
from astropy import units
from astropy.coordinates import AltAz, EarthLocation, SkyCoord
from astropy.time import Time
from astropy.utils import iers

from companion.night import (
    Candidates,
    Conditions,
    Session,
    TonightRequest,
    Wish,
    find_instrument,
    night_grid,
    order_plans,
    order_queue,
    plan_night,
    rank_tonight,
    read_list,
)
from companion.sky import LOON_BARRENS, Ephemeris, Target, load_catalogue, load_search

_Answer = TypeVar("_Answer")

_UTC = datetime(2026, 10, 10, 23, tzinfo=UTC)
_SAMPLE = 300  # objects that astropy places at every step
_LINES, _LONG = 100_000, 2_000


def best_of(work: Callable[[], _Answer], times: int = 3) -> tuple[float, _Answer]:
    """Give the shortest time and the answer."""
    shortest = float("inf")
    for _ in range(times):
        start = time.perf_counter()
        answer = work()
        shortest = min(shortest, time.perf_counter() - start)
    return shortest, answer


def memory_mb() -> float:
    """Most memory so far."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0


def astropy_seconds(targets: tuple[Target, ...], times: list[datetime]) -> float:
    """Time astropy's altitudes and azimuths of a sample at all steps, scaled to all targets."""
    iers.conf.auto_download, iers.conf.auto_max_age = False, None
    fixed = [target for target in targets if target.ra_deg is not None]
    sample = fixed[:: max(len(fixed) // _SAMPLE, 1)]
    sky = SkyCoord(
        np.array([t.ra_deg for t in sample]) * units.deg,
        np.array([t.dec_deg for t in sample]) * units.deg,
    )
    site = LOON_BARRENS
    place = EarthLocation.from_geodetic(site.longitude_deg, site.latitude_deg, site.elevation_m)
    frame = AltAz(obstime=Time(times)[:, None], location=place)
    seconds, _ = best_of(lambda: sky[None, :].transform_to(frame), 2)
    return seconds * len(fixed) / len(sample)


def rank(ephemeris: Ephemeris) -> tuple[Target, ...]:
    """Print the figures of the list, and give its targets."""
    catalogue = load_catalogue()
    before = memory_mb()
    seconds, candidates = best_of(lambda: Candidates.of(catalogue), 1)
    print(f"candidates, once a session: {len(candidates)} in {seconds:.2f} s")
    grid = night_grid(ephemeris, LOON_BARRENS, _UTC)
    times = [grid.utc(offset) for offset in grid.offsets_s[grid.night]]
    theirs = astropy_seconds(candidates.objects.targets, times)
    print(f"astropy, positions alone at {len(times)} steps: {theirs:.1f} s (scaled)")
    for name in ("eye", "10x50", "250"):
        asked = TonightRequest(
            LOON_BARRENS, _UTC, find_instrument(name), Conditions.at(LOON_BARRENS)
        )
        ours, tonight = best_of(partial(rank_tonight, ephemeris, candidates, asked))
        print(f"  {name}: {ours:.3f} s for {tonight.passed} that pass, ratio {ours / theirs:.4f}")
    print(f"memory: {before:.0f} MB before, {memory_mb():.0f} MB after")
    return tuple(row.target for row in tonight.rows)


def order(ephemeris: Ephemeris, targets: tuple[Target, ...]) -> None:
    """Print the figures of a new order of 60 targets."""
    grid = night_grid(ephemeris, LOON_BARRENS, _UTC)
    seconds, plans = best_of(
        lambda: plan_night(
            ephemeris,
            grid,
            targets,
            instrument=find_instrument("250"),
            conditions=Conditions.at(LOON_BARRENS),
        )
    )
    print(f"{len(targets)} plans: {seconds:.3f} s")
    wishes = [Wish(target, 1.0 + number % 5) for number, target in enumerate(targets)]
    for hours in (4, 9):
        session = Session(_UTC, _UTC + timedelta(hours=hours))
        seconds, first = best_of(partial(order_plans, grid, wishes, plans, session), 1)
        print(f"  order for {hours} h: {seconds:.2f} s, {len(first.stops)} stops", end=", ")
        later = Session(_UTC + timedelta(hours=1), session.end_utc)
        left = [n for n, wish in enumerate(wishes) if wish.target.key not in first.keys[:4]]
        some = [wishes[n] for n in left], [plans[n] for n in left]
        again, _ = best_of(partial(order_plans, grid, *some, later, before=first), 1)
        print(f"anew an hour later: {again:.2f} s")


def long_order(ephemeris: Ephemeris) -> None:
    """Print time and memory of an order chosen from 2,000 targets."""
    grid = night_grid(ephemeris, LOON_BARRENS, _UTC)
    wishes = [Wish(target) for target in load_catalogue().deep_sky.targets[:_LONG]]
    before = memory_mb()
    start = time.perf_counter()
    made = order_queue(
        ephemeris,
        grid,
        wishes,
        Session(_UTC, _UTC + timedelta(hours=9)),
        instrument=find_instrument("250"),
        conditions=Conditions.at(LOON_BARRENS),
    )
    print(
        f"{len(wishes)} targets: {time.perf_counter() - start:.2f} s, {len(made.stops)} stops",
        end=", ",
    )
    print(f"{memory_mb() - before:.0f} MB more at most")
    print(f"  lost: {dict(Counter(lost.code.value for lost in made.lost))}")


def lists() -> None:
    """Print the figures of a list of 100,000 lines."""
    catalogue = load_catalogue()
    seconds, search = best_of(load_search, 1)
    print(f"names, once: {seconds:.2f} s")
    known = [target.name for target in catalogue.deep_sky.targets]
    kinds = {
        "names": "\n".join(known[n % len(known)] for n in range(_LINES)),
        "unknown": "\n".join(f"nobody {n}" for n in range(_LINES)),
        "own objects": "name,ra,dec\n"
        + "\n".join(f"own {n},{n % 3600 / 10},{n % 1700 / 10 - 85}" for n in range(_LINES)),
    }
    for what, text in kinds.items():
        data = text.encode("latin-1")
        seconds, found = best_of(partial(read_list, data, search), 1)
        print(f"  {_LINES} lines, {what}: {seconds:.2f} s", end=", ")
        print(f"{len(found.entries)} targets, {len(found.report)} lines of report")
    print(f"memory: {memory_mb():.0f} MB")


def main() -> int:
    """Print all figures."""
    ephemeris = Ephemeris.load()
    targets = rank(ephemeris)
    order(ephemeris, targets)
    long_order(ephemeris)
    lists()
    ephemeris.close()
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
