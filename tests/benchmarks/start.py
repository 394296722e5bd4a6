"""Start to first paint and to first numbers, idle load and peak memory of the window.

Run ``xvfb-run -a python tests/benchmarks/start.py``. Each figure is the median of several starts
of the demo evening in a process of its own, beside a bare PySide6 window in the same run.
"""

import json
import os
import resource
import statistics
import subprocess
import sys
import time
from typing import Any

RUNS = 7
IDLE_S = 20.0


def bare(started: float) -> None:
    from PySide6.QtCore import QTimer
    from PySide6.QtGui import QPaintEvent
    from PySide6.QtWidgets import QApplication, QWidget

    class Bare(QWidget):
        def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
            times.setdefault("paint", time.time() - started)
            QTimer.singleShot(0, app.quit)

    times: dict[str, float] = {}
    app = QApplication([])
    window = Bare()
    window.resize(1366, 768)
    window.show()
    app.exec()
    print(json.dumps(times))


def ours(started: float, idle_s: float) -> None:
    from PySide6.QtCore import QTimer
    from PySide6.QtGui import QPaintEvent
    from PySide6.QtWidgets import QApplication

    import companion.app as program

    times: dict[str, float] = {}

    class Watched(program.MainWindow):  # type: ignore[misc,name-defined]
        def __init__(self, evening: Any, *words: Any, **options: Any) -> None:
            super().__init__(evening, *words, **options)
            evening.snapshot_ready.connect(self._numbers)

        def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
            super().paintEvent(event)
            times.setdefault("paint", time.time() - started)

        def _numbers(self, snapshot: Any) -> None:
            if snapshot.aim is not None and "numbers" not in times:
                QTimer.singleShot(0, self._shown)  # after the repaint that they cause

        def _shown(self) -> None:
            if "numbers" not in times:
                times["numbers"] = time.time() - started
                QTimer.singleShot(3000 if idle_s else 0, self._rest)

        def _rest(self) -> None:
            before, since = time.process_time(), time.time()

            def end() -> None:
                share = (time.process_time() - before) / max(time.time() - since, 1e-9)
                times["idle_percent"] = share * 100.0
                times["peak_mb"] = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
                QApplication.quit()

            QTimer.singleShot(round(idle_s * 1000), end)

    setattr(program, "MainWindow", Watched)  # noqa: B010 - the program itself has no hook
    program.run(program.AppOptions(demo=True))
    print(json.dumps(times))


def child(*words: str) -> dict[str, float]:
    command = [sys.executable, __file__, *words, repr(time.time())]
    # A person's start finds the modules compiled.
    plain = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    done = subprocess.run(command, check=True, capture_output=True, text=True, env=plain)
    answer: dict[str, float] = json.loads(done.stdout.splitlines()[-1])
    return answer


def main() -> None:
    child("bare")
    child("ours")  # the first starts fill the disk cache
    starts = [(child("bare"), child("ours")) for _ in range(RUNS)]
    base = statistics.median(one["paint"] for one, _ in starts)
    for what in ("paint", "numbers"):
        mine = statistics.median(one[what] for _, one in starts)
        print(f"first {what}: {mine:.2f} s, bare window {base:.2f} s, ratio {mine / base:.2f}")
    idle = child("idle")
    print(f"idle at 2 Hz: {idle['idle_percent']:.2f}% of a core, peak {idle['peak_mb']:.0f} MB")


if __name__ == "__main__":
    if len(sys.argv) == 1:
        main()
    elif sys.argv[1] == "bare":
        bare(float(sys.argv[2]))
    else:
        ours(float(sys.argv[2]), IDLE_S if sys.argv[1] == "idle" else 0.0)
