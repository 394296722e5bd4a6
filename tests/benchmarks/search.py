#!/usr/bin/env python3
"""Time a keystroke of the search against a plain look through every text, in the same run.

``python tests/benchmarks/search.py`` prints milliseconds and their ratio; it asserts nothing.
"""

import statistics
import time
from collections.abc import Callable, Iterator

from companion.sky import TownIndex, load_catalogue, load_search
from companion.sky.search_entries import all_entries
from companion.sky.spelling import fold

TYPED = (
    "andromeda galaxy",
    "alpha lyrae",
    "ngc 7000",
    "betelguese",
    "05 35.3 -05 23",
    "hip 91262",
    "m 31",
)
TOWNS_TYPED = ("halifax, ns", "paris texas", "zürich", "qqqqqq")


def keystrokes(texts: tuple[str, ...]) -> Iterator[str]:
    """Give every text letter by letter."""
    for text in texts:
        for end in range(1, len(text) + 1):
            yield text[:end]


def milliseconds(work: Callable[[str], object], texts: tuple[str, ...]) -> list[float]:
    """Time each keystroke once."""
    times = []
    for text in keystrokes(texts):
        start = time.perf_counter()
        work(text)
        times.append((time.perf_counter() - start) * 1e3)
    return times


def report(what: str, times: list[float]) -> float:
    """Print median and worst, and give the median."""
    median = statistics.median(times)
    print(f"{what:<34} median {median:7.3f} ms   worst {max(times):7.3f} ms")
    return median


def main() -> int:
    """Print the figures."""
    catalogue = load_catalogue()
    start = time.perf_counter()
    search = load_search()
    print(f"building the index: {(time.perf_counter() - start) * 1e3:.0f} ms")
    entries = list(all_entries(catalogue))

    def scan(text: str) -> object:
        query = fold(text)
        return sorted(
            (entry for entry in entries if query in entry.text), key=lambda entry: -entry.fame
        )[:12]

    ours = report("search, a keystroke", milliseconds(search.find, TYPED))
    plain = report(f"plain look through {len(entries)} texts", milliseconds(scan, TYPED))
    print(f"ratio {ours / plain:.3f}")
    report("towns, a keystroke", milliseconds(TownIndex().find, TOWNS_TYPED))
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
