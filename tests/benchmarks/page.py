"""What an open page of a target costs beside the ticks that go on without it.

Run ``python tests/benchmarks/page.py``; a number after it is how many seconds of the evening a
median is of. Without a page a second has two snapshots of 40 rows; with it also one page, which a
thread of its own makes. Said are milliseconds of the processor: of such a second without a page
and, in the same run and by turns, with it, their ratio, the page alone, and the slowest page, which
is the first of an hour: it looks ahead.
"""

import gc
import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta

from companion.about import AboutQuestion, about
from companion.instant import Choices, SnapshotBuilder
from companion.night import Conditions, find_instrument
from companion.sky import LOON_BARRENS, Ephemeris, load_catalogue, load_search

UTC_NOW = datetime(2026, 11, 18, 23, 14, tzinfo=UTC)
SECONDS, ROWS = 120, 40
TARGETS = ("m 31", "albireo", "algol", "r leo", "uranus", "saturn", "jupiter", "moon")


class Evening:
    """Seconds of one evening with a page open, each measured without it first."""

    def __init__(self, ephemeris: Ephemeris, name: str) -> None:
        catalogue, target = load_catalogue(), load_search().resolve(name)
        queue = (*catalogue.bodies, *catalogue.deep_sky.targets[: ROWS - len(catalogue.bodies)])
        self._choices = Choices(stamp=1, site=LOON_BARRENS, target=target, queue=queue)
        self._question = AboutQuestion(
            target, LOON_BARRENS, UTC_NOW, find_instrument("150"), Conditions.at(LOON_BARRENS)
        )
        self._builder = SnapshotBuilder(ephemeris)
        self._ephemeris = ephemeris
        self._kept: dict[tuple[object, ...], object] = {}

    def second_ms(self, number: int) -> tuple[float, float]:
        """Give what both snapshots of a second took, and its page."""
        utc = UTC_NOW + timedelta(seconds=number)
        ticks = self._tick_ms(utc) + self._tick_ms(utc + timedelta(seconds=0.5))
        question = replace(self._question, utc=utc)
        return ticks, taken_ms(lambda: about(self._ephemeris, question, self._kept))

    def _tick_ms(self, utc: datetime) -> float:
        return taken_ms(lambda: self._builder.build(self._choices, utc))


def taken_ms(work: Callable[[], object]) -> float:
    started = time.thread_time()
    work()
    return (time.thread_time() - started) * 1000.0


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else SECONDS
    ephemeris = Ephemeris.load()
    evenings = {name: Evening(ephemeris, name) for name in TARGETS}
    for name in TARGETS:  # every data file is read once before anything is measured
        Evening(ephemeris, name).second_ms(0)
    gc.collect()
    gc.freeze()  # as the window does once everything is loaded
    for name, evening in evenings.items():
        seconds = [evening.second_ms(number) for number in range(count)]
        ticks = statistics.median(without for without, _page in seconds)
        both = statistics.median(without + page for without, page in seconds)
        pages = [page for _without, page in seconds]
        print(
            f"{name}: without {ticks:.1f} ms a second, with its page {both:.1f} ms: "
            f"{both / ticks:.2f} times; the page {statistics.median(pages):.1f} ms, "
            f"slowest {max(pages):.1f} ms"
        )
    ephemeris.close()


if __name__ == "__main__":
    main()
