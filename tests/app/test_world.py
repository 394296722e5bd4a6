"""No display, and a system that asks the program to end."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

WINDOW = [sys.executable, "-m", "companion"]


def ended(command: list[str], env: dict[str, str]) -> subprocess.CompletedProcess[str]:
    """Give what a program has said at its end."""
    return subprocess.run(command, env=env, capture_output=True, text=True, check=False, timeout=60)


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="displays of X are Linux's")
@pytest.mark.parametrize("display", ["", ":4077"])
def test_no_display_is_one_line_that_says_what_to_do(display: str) -> None:
    kept = {
        key: value
        for key, value in os.environ.items()
        if key not in {"DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"}
    }
    done = ended(WINDOW, kept | {"DISPLAY": display, "QT_QPA_PLATFORM": "xcb"})
    assert done.returncode == 1
    assert done.stderr.count("\n") == 1
    assert "cannot be shown here" in done.stderr
    assert "companion aim saturn" in done.stderr


FAULT = """
import shiboken6
from PySide6.QtCore import QThread
from companion.window import RedApplication, say_why_no_window
say_why_no_window()
app = RedApplication([])
thread = QThread()
thread.start()
shiboken6.delete(thread)
"""


def test_a_fault_of_qt_is_not_taken_for_a_missing_display() -> None:
    done = ended([sys.executable, "-c", FAULT], os.environ | {"QT_QPA_PLATFORM": "offscreen"})
    assert done.returncode == 1
    assert done.stderr.count("\n") == 1
    assert "is still running. Whatever was written is safe" in done.stderr


@pytest.mark.slow
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_a_demo_that_is_ended_leaves_nothing(number: signal.Signals, tmp_path: Path) -> None:
    program = subprocess.Popen(
        [*WINDOW, "--demo"],
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen", "TMPDIR": str(tmp_path)},
    )
    deadline = time.monotonic() + 60.0
    while not list(tmp_path.glob("companion-demo-*/journal.sqlite")):
        assert time.monotonic() < deadline, "the demo never began"
        time.sleep(0.1)
    program.send_signal(number)
    program.wait(30)
    assert program.returncode == 0
    assert list(tmp_path.glob("companion-demo-*")) == []
