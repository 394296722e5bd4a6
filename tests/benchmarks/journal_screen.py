"""The journal screen of somebody who has written for decades: time, memory, and how it stutters.

``python tests/benchmarks/journal_screen.py [EVENTS [ONE_NIGHT]]`` makes a journal of so many
events, opens the real window on it in a process of its own and presses the screen's key. Said is
how long it takes until rows stand there, until the sums are whole, how long the window stood still
at worst meanwhile, and what memory all of it took, beside a journal that is nearly empty.
"""

import json
import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from companion.journal import FILE_NAME, Journal, Mark, Outcome, to_plain
from companion.sky import LOON_BARRENS, load_catalogue

FIRST_UTC = datetime(1970, 10, 10, 22, 0, tzinfo=UTC)
A_NIGHT = 40  # events: a queue, thirty outcomes, notes, slips that were mended
OUTCOMES = (Outcome.FOUND, Outcome.FOUND, Outcome.FOUND, Outcome.NOT_SEEN, Outcome.SKIPPED)
_COPY = "INSERT INTO event (utc, night, kind, subject, payload, cancels) VALUES (?, ?, ?, ?, ?, ?)"


def write_journal(home: Path, events: int, nights: int) -> None:
    """Write the first night as the program does, and copies of it under other dates and targets."""
    targets = [to_plain(target) for target in load_catalogue().deep_sky.targets[::3]]
    names = [(str(target["key"]), str(target["name"])) for target in targets]
    site = to_plain(LOON_BARRENS)
    with closing(Journal(home / FILE_NAME)) as journal:
        first = "1970-10-10"
        journal.queue(first, FIRST_UTC, targets[:6])
        for number in range(A_NIGHT - 5):
            utc = FIRST_UTC + timedelta(minutes=number)
            outcome = OUTCOMES[number % len(OUTCOMES)]
            mark = Mark(
                targets[number], outcome, "seen well" * (number % 3), "150 mm", site, 41.2, 171.5
            )
            journal.mark(first, utc, mark)
        journal.note(first, FIRST_UTC, "a smoke ring at 48×", targets[0])
        journal.undo(first, FIRST_UTC)
        journal.redo(first, FIRST_UTC)
        journal.undo(first, FIRST_UTC)
        rows = journal.connection.execute(
            "SELECT utc, kind, subject, payload, cancels - number FROM event ORDER BY number"
        ).fetchall()
        with journal.transaction():
            written = len(rows)
            while written < events:
                copy = written // len(rows)
                _copy_night(journal, rows, copy, copy * nights * len(rows) // events, names)
                written += len(rows)
        journal.checkpoint()


def _copy_night(
    journal: Journal, rows: list[Any], copy: int, night: int, names: list[tuple[str, str]]
) -> None:
    date = f"{FIRST_UTC + timedelta(days=night):%Y-%m-%d}"
    execute = journal.connection.execute
    execute("INSERT INTO evening VALUES (?, ?) ON CONFLICT DO NOTHING", (date, FIRST_UTC))
    (last,) = execute("SELECT max(number) FROM event").fetchone()
    for at, (utc, kind, subject, payload, cancels) in enumerate(rows):
        number = last + 1 + at
        about = _about(payload, names[(copy * 31 + at) % len(names)])
        target = about.get("target", {"key": subject})
        moment, gone = date + utc[10:], None if cancels is None else number + cancels
        execute(_COPY, (moment, date, kind, target["key"], json.dumps(about), gone))


def _about(payload: str, target: tuple[str, str]) -> dict[str, Any]:
    """Give what an event was about with another target."""
    about: dict[str, Any] = json.loads(payload)
    if "target" in about:
        about["target"] |= dict(zip(("key", "name"), target, strict=True))
    return about


def _memory_mb() -> float:
    pages = int(Path("/proc/self/statm").read_text().split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 2**20


class Play:
    """Somebody at the real window who goes to the journal and steps through it."""

    def __init__(self, window: Any) -> None:
        from PySide6.QtCore import QTimer

        self.window, self.said = window, dict[str, float]()
        self._worst_s, self._last = 0.0, time.perf_counter()
        self._scene = self._played()
        self._clock = QTimer(window)
        self._clock.timeout.connect(self._go_on)
        self._clock.start(5)

    def _go_on(self) -> None:
        now = time.perf_counter()
        self._worst_s, self._last = max(self._worst_s, now - self._last), now
        next(self._scene, None)

    def _press(self, key: str) -> float:
        """Press a key and draw what it does; give how long that took."""
        from PySide6.QtCore import QEvent, Qt
        from PySide6.QtGui import QKeyEvent
        from PySide6.QtWidgets import QApplication

        began = time.perf_counter()
        code = getattr(Qt.Key, f"Key_{key}")
        none = Qt.KeyboardModifier.NoModifier
        text = key if key.isdigit() else ""
        QApplication.sendEvent(self.window, QKeyEvent(QEvent.Type.KeyPress, code, none, text))
        self.window.grab()
        return time.perf_counter() - began

    def _played(self) -> Iterator[None]:
        window, nights = self.window, self.window.evening.nights
        while window.evening.latest is None:
            yield
        for _breath in range(200):
            yield
        self.said["before_mb"] = _memory_mb()
        began, busy, self._worst_s = time.perf_counter(), time.process_time(), 0.0
        self._press("6")
        rows = window.stage.shown.ticks
        while not rows.rows or not rows.rows[0].name:
            yield
        self.said["rows_s"] = time.perf_counter() - began
        while nights.view is None or not getattr(nights.view, "whole", True):
            yield
        self.said |= {
            "whole_s": time.perf_counter() - began,
            "worst_still_s": self._worst_s,
            "busy_s": time.process_time() - busy,
        }
        keys = [key for key in ("Down", "PageDown", "Right", "PageDown") for _again in range(5)]
        self.said["worst_step_s"] = max(map(self._press, keys))
        self.said["after_mb"] = _memory_mb()
        self.said["peak_mb"] = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
        window.close()
        print(json.dumps(self.said))


def play(home: str) -> None:
    """Open the window and let somebody play."""
    import companion.app as program

    class Played(program.MainWindow):  # type: ignore[misc,name-defined]
        def __init__(self, *words: Any, **options: Any) -> None:
            super().__init__(*words, **options)
            self._play = Play(self)

    setattr(program, "MainWindow", Played)  # noqa: B010 - the program itself has no hook
    program.run(program.AppOptions(site_name="Loon Barrens", home=home))


def main(arguments: list[str]) -> None:
    """Play once with a journal of a single night and once with the large one."""
    events = int((arguments or ["100000"])[0])
    nights = 1 if len(arguments) > 1 else events // A_NIGHT
    for number in (A_NIGHT, events):
        with tempfile.TemporaryDirectory() as home:
            write_journal(Path(home), number, min(nights, max(1, number // A_NIGHT)))
            size_mb = (Path(home) / FILE_NAME).stat().st_size / 2**20
            done = subprocess.run(
                [sys.executable, __file__, "--play", home],
                check=True,
                capture_output=True,
                text=True,
                env=os.environ | {"QT_QPA_PLATFORM": "offscreen"},
            )
            said = json.loads(done.stdout.splitlines()[-1])
            words = ", ".join(f"{name} {value:.3f}" for name, value in said.items())
            print(f"{number} events, {size_mb:.0f} MB: {words}")


if __name__ == "__main__":
    if sys.argv[1:2] == ["--play"]:
        play(sys.argv[2])
    else:
        main(sys.argv[1:])
