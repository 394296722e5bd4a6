"""Make an environment and see that Qt finds its system libraries. Standard library only."""

from __future__ import annotations

import ctypes.util
import hashlib
import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent

# What Qt's xcb and offscreen plugins load, by the name the linker knows and Debian's package.
# Qt's own message names only one missing library at a time, and not always the right one.
QT_LIBRARIES = {
    "xcb-cursor": "libxcb-cursor0",
    "xcb-icccm": "libxcb-icccm4",
    "xcb-image": "libxcb-image0",
    "xcb-keysyms": "libxcb-keysyms1",
    "xcb-randr": "libxcb-randr0",
    "xcb-render-util": "libxcb-render-util0",
    "xcb-shape": "libxcb-shape0",
    "xcb-shm": "libxcb-shm0",
    "xcb-sync": "libxcb-sync1",
    "xcb-xfixes": "libxcb-xfixes0",
    "xcb-xkb": "libxcb-xkb1",
    "xkbcommon-x11": "libxkbcommon-x11-0",
    "X11-xcb": "libx11-xcb1",
    "EGL": "libegl1",
    "GL": "libgl1",
    "dbus-1": "libdbus-1-3",
    "fontconfig": "libfontconfig1",
    "glib-2.0": "libglib2.0-0",
}


def say(text: str) -> None:
    """Print one line of progress at once."""
    print(text, flush=True)


def run(command: Sequence[str | Path], **extra: str) -> int:
    """Run a command from the project's root, with extra environment variables."""
    return subprocess.call([str(part) for part in command], cwd=ROOT, env={**os.environ, **extra})


def environment_python(folder: Path) -> Path:
    """Give the interpreter of a virtual environment."""
    return folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def make_environment(folder: Path, extras: str = "") -> Path:
    """Make or refresh a virtual environment with the program in it; give its interpreter.

    Nothing is installed again while pyproject.toml stays as it was.
    """
    if sys.version_info < (3, 11):  # noqa: UP036 - this script runs on whatever python3 is there
        sys.exit("Python 3.11 or newer is needed; start this script with a newer python3.")
    python = environment_python(folder)
    stamp = folder / "made-from"
    wanted = hashlib.sha256((ROOT / "pyproject.toml").read_bytes() + extras.encode()).hexdigest()
    if python.exists() and stamp.exists() and stamp.read_text() == wanted:
        return python
    if not python.exists():
        say(f"Making an environment in {folder.name} ...")
        if run([sys.executable, "-m", "venv", folder]):
            sys.exit("No virtual environment could be made: on Debian, install python3-venv first.")
    say("Installing what the program needs (a few minutes the first time) ...")
    if run([python, "-m", "pip", "install", "--quiet", "-e", f".{extras}"]):
        sys.exit("Installing failed: see the lines above; a network is needed this one time.")
    stamp.write_text(wanted)
    return python


def missing_libraries() -> list[str]:
    """Give the Debian packages of system libraries that Qt would not find here."""
    if not sys.platform.startswith("linux"):
        return []
    return [pkg for name, pkg in QT_LIBRARIES.items() if ctypes.util.find_library(name) is None]


def provide_libraries() -> bool:
    """Install missing system libraries where that is allowed, else name them; True if complete."""
    missing = missing_libraries()
    if not missing:
        return True
    command = ["apt-get", "install", "-y", "--no-install-recommends", *missing]
    if shutil.which("apt-get") and hasattr(os, "geteuid") and os.geteuid() == 0:
        say("Installing system libraries for the window: " + " ".join(missing))
        for step in (["apt-get", "update", "-qq"], command):
            subprocess.call(step, stdout=subprocess.DEVNULL)
        if not missing_libraries():
            return True
    say("The window needs system libraries that are not here. On Debian or Ubuntu:")
    say("  sudo " + " ".join([*command[:3], *missing_libraries()]))
    say("On other systems, install the packages of the same names.")
    return False
