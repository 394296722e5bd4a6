"""Kill programs that tick targets off, at random moments, and count what was lost.

A child writes one outcome after another into a journal and prints each one once it is told to be
on disk; ``kill -9`` ends it somewhere in between, also while it is just beginning. What was printed
must be on disk, and every file must open again. There are three kinds of children: the journal by
itself, the real window played by keys, and the text command. A killed process shows that the
program promises nothing before it has handed it over; that the disk keeps it when the power fails
is SQLite's ``synchronous = FULL`` and can't be shown here.

``python tests/benchmarks/kill.py [KILLS [journal|window|command …]]``
"""

import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from companion.journal import FILE_NAME, Journal, JournalError, Mark, Outcome, ticks

KILLS_A_HOME = 10  # then a new one, so that making it is interrupted as well
LONGEST_S = {"journal": 0.4, "window": 3.0, "command": 3.0}
UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
READY = "ready"


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


def _say(line: str) -> None:
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


# The children.


def tick_journal(home: Path, name: str) -> None:
    """Write outcomes and print each one after its commit, for ever."""
    _say(READY)
    journal = Journal(home / FILE_NAME)
    number = 0
    while True:
        key = f"own:{name}-{number}"
        journal.mark("2026-10-10", UTC_NOW, Mark({"key": key, "name": key}, Outcome.FOUND))
        _say(key)
        number += 1


def tick_window(home: Path, name: str) -> None:
    """Play the real window: add a target, press found, print it once it is shown, for ever."""
    from PySide6.QtCore import QEvent, Qt, QTimer
    from PySide6.QtGui import QKeyEvent
    from PySide6.QtWidgets import QApplication

    import companion.app as program
    from companion.sky import Kind, Target

    def play(window: Any) -> Iterator[None]:
        _say(READY)
        queue, number = window.evening.queue, 0
        while True:
            key = f"own:{name}-{number}"
            queue.add(Target(key, key, Kind.STAR, 279.2, 38.8))
            while queue.item(key) is None:
                yield
            space = QKeyEvent(
                QEvent.Type.KeyPress, Qt.Key.Key_Space, Qt.KeyboardModifier.NoModifier, " "
            )
            QApplication.sendEvent(window, space)
            while queue.item(key).outcome is not Outcome.FOUND:
                yield
            _say(key)
            number += 1

    class Played(program.MainWindow):  # type: ignore[misc,name-defined]
        def __init__(self, *words: Any, **options: Any) -> None:
            super().__init__(*words, **options)
            self._scene = play(self)
            self._clock = QTimer(self)
            self._clock.timeout.connect(lambda: next(self._scene))
            self._clock.start(5)

    setattr(program, "MainWindow", Played)  # noqa: B010 - the program itself has no hook
    program.run(program.AppOptions(site_name="Loon Barrens", home=str(home)))


def tick_command(home: Path, name: str) -> None:
    """Run the text command for one star after another; it prints what it has written."""
    from companion.cli import main

    _say(READY)
    while True:
        for star in ("vega", "deneb", "altair", "arcturus", "capella", "mizar"):
            main(["mark", star, "found", "--note", name, "--home", str(home)])
            sys.stdout.flush()


CHILDREN: dict[str, Callable[[Path, str], None]] = {
    "journal": tick_journal,
    "window": tick_window,
    "command": tick_command,
}


# Those who kill them.


def killed_run(kind: str, home: Path, name: str, after_s: float) -> list[str]:
    """Start a child, kill it a while after it is ready and give what it had printed."""
    command = [sys.executable, __file__, "--child", kind, str(home), name]
    child = subprocess.Popen(
        command,
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
    )
    assert child.stdout is not None
    with child.stdout as stream:
        if stream.readline() != f"{READY}\n":
            child.wait()
            raise RuntimeError(f"the child ended by itself with {child.returncode}")
        time.sleep(after_s)
        child.send_signal(signal.SIGKILL)
        output = stream.read()
    if child.wait() != -signal.SIGKILL:
        raise RuntimeError(f"the child ended by itself with {child.returncode}")
    lines = output.split("\n")[:-1]  # what follows the last line end was not printed whole
    return [f"{name} {line.partition(':')[0]}" if kind == "command" else line for line in lines]


def kept(kind: str, path: Path) -> set[str]:
    """Give what a journal holds as found, as it is printed."""
    journal = Journal(path)
    try:
        held = [tick for tick in ticks(journal) if tick.outcome == Outcome.FOUND]
    finally:
        journal.close()
    if kind != "command":
        return {tick.key for tick in held}
    # A star is marked again and again, and a note is added to those that it has.
    return {f"{line} {tick.name}" for tick in held for line in tick.note.split("\n")}


def count(figures: Figures, printed: Sequence[str], path: Path, kind: str = "journal") -> None:
    """Add one kill."""
    figures.kills += 1
    figures.printed += len(printed)
    figures.before_the_first += not printed
    try:
        figures.lost += len(set(printed) - kept(kind, path))
    except JournalError as error:
        figures.unopened += 1
        sys.stderr.write(f"{error}\n")


def run(kind: str, kills: int, folder: Path) -> Figures:
    """Kill so many times."""
    figures = Figures()
    chance = random.Random(f"{kind} {kills}")  # noqa: S311 - moments, no secrets
    for number in range(kills):
        home = folder / f"{kind}-{number // KILLS_A_HOME}"
        home.mkdir(exist_ok=True)
        after_s = chance.uniform(0.0, LONGEST_S[kind])
        printed = killed_run(kind, home, f"{number}", after_s)
        count(figures, printed, home / FILE_NAME, kind)
    return figures


def main(arguments: list[str]) -> int:
    """Run the child's part or the benchmark; give 1 if anything was lost."""
    if arguments[:1] == ["--child"]:
        CHILDREN[arguments[1]](Path(arguments[2]), arguments[3])
        return 1
    kills, kinds = int((arguments or ["200"])[0]), arguments[1:] or ["journal"]
    failed = False
    with tempfile.TemporaryDirectory() as folder:
        for kind in kinds:
            figures = run(kind, kills, Path(folder))
            sys.stdout.write(f"{kind}: {figures}\n")
            sys.stdout.flush()
            failed |= bool(figures.lost or figures.unopened)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
