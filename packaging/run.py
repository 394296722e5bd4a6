#!/usr/bin/env python3
"""Make everything ready on a fresh machine and open the window.

Arguments are passed on: ``python3 packaging/run.py --demo``. Without a display, tonight's aim
table of the demo queue is printed instead.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from environment import ROOT, make_environment, provide_libraries, run, say


def has_display() -> bool:
    """Tell whether a window could be shown at all."""
    if not sys.platform.startswith("linux"):
        return True
    chosen = os.environ.get("QT_QPA_PLATFORM", "")
    return bool(chosen or os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def window_opens(python: Path) -> bool:
    """Try a Qt application in a process of its own: a refused display kills the process."""
    attempt = "from PySide6.QtGui import QGuiApplication as A; A([])"
    return subprocess.run([python, "-c", attempt], check=False, capture_output=True).returncode == 0


def print_table(python: Path, why: str) -> int:
    """Print tonight's aim table of the demo queue."""
    say(f"{why} Here is tonight's aim table of the demo queue instead.")
    say("To open the window, start this from a desktop, or set DISPLAY.")
    return run([python, "-m", "companion", "aim", "--demo"])


def main() -> int:
    """Prepare, then start."""
    python = make_environment(ROOT / ".venv")
    if not has_display():
        return print_table(python, "There is no display (neither DISPLAY nor WAYLAND_DISPLAY).")
    if not provide_libraries():
        return print_table(python, "The window cannot be shown without those libraries.")
    if not window_opens(python):
        return print_table(python, "The display could not be opened.")
    return run([python, "-m", "companion", *sys.argv[1:]])


if __name__ == "__main__":
    raise SystemExit(main())
