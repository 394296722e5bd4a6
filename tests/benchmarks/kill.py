"""Kill a program that ticks targets off, at random moments, and count what was lost.

A child writes one outcome after another into a journal and prints each one once the journal says
that it is on disk; ``kill -9`` ends it somewhere in between. What was printed must be on disk,
and every file must open again. A killed process shows that the program promises nothing before it
has handed it over; that the disk keeps it when the power fails is SQLite's ``synchronous = FULL``
and can't be shown here.

``python tests/benchmarks/kill.py [KILLS]``
"""

import random
import signal
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from companion.journal import FILE_NAME, Journal, JournalError, Mark, Outcome

KILLS_A_FILE = 10  # then a new file, so that making it is interrupted as well
LONGEST_S = 0.4
UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)


@dataclass
class Figures:
    """What the kills added up to."""

    kills: int = 0
    printed: int = 0
    lost: int = 0
    unopened: int = 0
    before_the_first: int = 0

    def __str__(self) -> str:
        return (
            f"kills {self.kills}, of them before the first tick {self.before_the_first}; "
            f"ticks printed {self.printed}, lost {self.lost}; "
            f"files that did not open {self.unopened}"
        )


def tick_until_killed(path: Path, night: str) -> None:
    """Write outcomes and print each one after its commit, for ever."""
    journal = Journal(path)
    number = 0
    while True:
        key = f"{night}:{number}"
        journal.mark(night, UTC_NOW, Mark({"key": key, "name": key}, Outcome.FOUND, note=key))
        sys.stdout.write(f"{key}\n")
        sys.stdout.flush()
        number += 1


def killed_run(path: Path, night: str, after_s: float) -> list[str]:
    """Start a child, kill it after a while and give what it had printed."""
    command = [sys.executable, __file__, "--child", str(path), night]
    child = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    time.sleep(after_s)
    child.send_signal(signal.SIGKILL)
    output, _ = child.communicate()
    if child.returncode != -signal.SIGKILL:
        raise RuntimeError(f"the child ended by itself with {child.returncode}")
    lines = output.split("\n")
    return lines[:-1]  # what follows the last line end was not printed whole


def kept_keys(path: Path, night: str) -> set[str]:
    """Give the keys that a journal holds as found."""
    journal = Journal(path)
    try:
        queue = journal.evening(night).queue
    finally:
        journal.close()
    return {entry.key for entry in queue if entry.outcome == Outcome.FOUND}


def count(figures: Figures, printed: list[str], path: Path, night: str) -> None:
    """Add one kill."""
    figures.kills += 1
    figures.printed += len(printed)
    figures.before_the_first += not printed
    try:
        figures.lost += len(set(printed) - kept_keys(path, night))
    except JournalError as error:
        figures.unopened += 1
        sys.stderr.write(f"{error}\n")


def run(kills: int, folder: Path) -> Figures:
    """Kill so many times."""
    figures = Figures()
    chance = random.Random(kills)  # noqa: S311 - moments, no secrets
    for number in range(kills):
        path = folder / f"{number // KILLS_A_FILE}" / FILE_NAME
        path.parent.mkdir(exist_ok=True)
        night = (date(2026, 1, 1) + timedelta(days=number)).isoformat()
        count(figures, killed_run(path, night, chance.uniform(0.0, LONGEST_S)), path, night)
    return figures


def main(arguments: list[str]) -> int:
    """Run the child's part or the benchmark; give 1 if anything was lost."""
    if arguments[:1] == ["--child"]:
        tick_until_killed(Path(arguments[1]), arguments[2])
    with tempfile.TemporaryDirectory() as folder:
        figures = run(int(arguments[0]) if arguments else 200, Path(folder))
    sys.stdout.write(f"{figures}\n")
    return 1 if figures.lost or figures.unopened else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
