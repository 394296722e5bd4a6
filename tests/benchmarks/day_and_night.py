"""An evening that is left open for days: does every tick fall into its night, and does it grow?

``QT_QPA_PLATFORM=offscreen python tests/benchmarks/day_and_night.py [MINUTES]`` drives the real
evening, its threads and its journal by a clock of its own, so many minutes at a step: two days
around the morning on which the clocks of Loon Barrens go forward, two around the one on which they
go back, midnights and noons among them, and at the end the machine's clock is set back by five
hours. At each step something is found. Which night that belongs to is counted here apart from the
program. Said are ticks under a wrong night, jumps of the clock that nobody was told of, and memory.

The changes of the clocks are those of America/Halifax in 2026: 8 March and 1 November, 2 o'clock.
"""

import gc
import os
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from functools import partial
from pathlib import Path
from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from companion.journal import FILE_NAME, Journal, Outcome, Settings, ticks
from companion.live import Evening, MachineClock
from companion.sky import LOON_BARRENS, Kind, Target

ZONE = ZoneInfo("America/Halifax")
SPRING = datetime(2026, 3, 7, 18, 0, tzinfo=ZONE).astimezone(UTC)
AUTUMN = datetime(2026, 10, 31, 18, 0, tzinfo=ZONE).astimezone(UTC)
STRETCH = timedelta(hours=44)  # two midnights, a change of the clocks, a noon
SET_BACK = timedelta(hours=5)
PATIENCE_S = 60.0
WARM = 0.25  # of the steps, after which memory is looked at first


@dataclass
class Figures:
    """What came of it."""

    hours: float = 0.0
    written: dict[str, str] = field(default_factory=dict)  # key: the night it belongs to
    wrong: int = 0
    missing: int = 0
    jumps: int = 0
    jumps_said: int = 0
    first_mb: float = 0.0
    last_mb: float = 0.0

    def __str__(self) -> str:
        return (
            f"{self.hours:.0f} simulated hours, {len(self.written)} ticks in "
            f"{len(set(self.written.values()))} nights, {self.wrong} under a wrong night, "
            f"{self.missing} missing; {self.jumps_said} of {self.jumps} jumps of the clock said; "
            f"memory {self.first_mb:.1f} MB after a quarter, {self.last_mb:.1f} MB at the end"
        )


class DrivenClock:
    """A clock that runs only when it is told to."""

    def __init__(self) -> None:
        self.utc, self.steady_s = SPRING, 1000.0

    def run(self, by: timedelta) -> None:
        self.utc += by
        self.steady_s += by.total_seconds()


def night_by_hand(utc: datetime) -> str:
    """Give the night of a moment: until noon by the clock on the wall it is yesterday's."""
    wall = utc.astimezone(ZONE)
    day = date(wall.year, wall.month, wall.day)
    return str(day if wall.hour >= 12 else day - timedelta(days=1))


def moments(clock: DrivenClock, step: timedelta) -> Iterator[bool]:
    """Let the days go by; tell of each step whether the clock jumped."""
    for begin in (SPRING, AUTUMN):
        jumped, clock.utc = clock.utc != begin, begin
        yield jumped
        while clock.utc < begin + STRETCH:
            clock.run(step)
            yield False
    clock.utc -= SET_BACK
    yield True
    for _again in range(3):
        clock.run(step)
        yield False


def wait(holds: Callable[[], bool]) -> None:
    """Let the threads' answers in until something holds."""
    end = time.monotonic() + PATIENCE_S
    while not holds():
        if time.monotonic() > end:
            raise TimeoutError("nothing came")
        QCoreApplication.processEvents()
        time.sleep(0.002)


def stands(evening: Evening, key: str, outcome: Outcome) -> bool:
    """Tell whether a target stands in the queue with an outcome."""
    item = evening.queue.item(key)
    return item is not None and item.outcome is outcome


def memory_mb() -> float:
    """Give what the process holds in memory now."""
    gc.collect()
    pages = int(Path("/proc/self/statm").read_text().split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 2**20


def play(home: Path, step: timedelta) -> Figures:
    """Leave an evening open for days and find something at each step."""
    figures, clock = Figures(), DrivenClock()
    machine = MachineClock(lambda: clock.utc, lambda: clock.steady_s)
    evening = Evening(home, Settings(), site=LOON_BARRENS, machine=machine)
    told: list[str] = []
    machine.jumped.connect(
        lambda _s: told.extend(one.text for one in evening.messages.current if one.key == "clock")
    )
    opened: list[str] = []
    evening._journal.opened.connect(lambda state, _settings: opened.append(state.night))
    evening.start()
    wait(lambda: bool(opened))
    steps = 2 * int(STRETCH / step)
    for number, jumped in enumerate(moments(clock, step)):
        figures.jumps += jumped
        if number % 3 == 0:
            machine.look()  # as it does every second; a tick may come before it
        key = f"own:{number}"
        target = Target(key, key, Kind.STAR, 279.23, 38.78)
        figures.written[key] = night_by_hand(clock.utc)
        evening.queue.add(target)
        machine.look()
        wait(partial(stands, evening, key, Outcome.WAITING))
        evening.queue.choose(key)
        evening.queue.mark(Outcome.FOUND)
        wait(partial(stands, evening, key, Outcome.FOUND))
        if number == int(WARM * steps):
            figures.first_mb = memory_mb()
    figures.hours = 2 * STRETCH / timedelta(hours=1)
    figures.last_mb, figures.jumps_said = memory_mb(), sum("jumped" in text for text in told)
    evening.close(give_up=True)
    with closing(Journal(home / FILE_NAME)) as journal:
        held = {tick.key: tick.night for tick in ticks(journal)}
    figures.missing = len(figures.written.keys() - held.keys())
    figures.wrong = sum(held.get(key, night) != night for key, night in figures.written.items())
    return figures


def main(arguments: list[str]) -> int:
    """Play; give 1 if a tick is under a wrong night."""
    app = QCoreApplication.instance() or QCoreApplication([])
    minutes = float((arguments or ["10"])[0])
    with tempfile.TemporaryDirectory() as home:
        figures = play(Path(home), timedelta(minutes=minutes))
    print(figures)
    del app
    return 1 if figures.wrong or figures.missing or figures.jumps_said < figures.jumps else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
