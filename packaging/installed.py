#!/usr/bin/env python3
"""Build the sdist and the wheel, install the wheel into an empty environment, and ask it things.

``python3 packaging/installed.py`` uses the running interpreter; ``--all`` every one from 3.11 on
that is found here. ``--keep FOLDER`` leaves the sdist and the wheel there.
"""

import argparse
import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from environment import ROOT, environment_python, say

ASKED = ("aim", "saturn", "m31", "vega", "--site", "Loon Barrens", "--at", "2026-10-10T20:14")
VERSIONS = ("3.11", "3.12", "3.13")


def build(to: Path) -> Path:
    """Build the sdist, and the wheel from nothing but the sdist; give the wheel."""
    command = [sys.executable, "-m", "build", "--outdir", str(to), str(ROOT)]
    subprocess.run(command, check=True, capture_output=True, text=True)
    (wheel,) = to.glob("*.whl")
    for made in sorted(to.glob("companion-*")):
        say(f"{made.name}: {made.stat().st_size / 1e6:.2f} MB")
    return wheel


def interpreters() -> Iterator[Path]:
    """Give an interpreter of each wanted version, from the path or from pyenv."""
    versions = Path(os.environ.get("PYENV_ROOT", Path.home() / ".pyenv")) / "versions"
    for version in VERSIONS:
        candidates = [*sorted(versions.glob(f"{version}.*/bin/python")), Path(f"python{version}")]
        found = next((one for one in candidates if _works(one)), None)
        if found is None:
            say(f"Python {version} is not here: not tried.")
        else:
            yield found


def _works(python: Path) -> bool:
    if shutil.which(str(python)) is None:
        return False
    return subprocess.run([python, "-c", ""], check=False, capture_output=True).returncode == 0


def ask(python: Path | str, elsewhere: Path, *words: str) -> str:
    """Give what the program prints, asked from a folder that has nothing to do with it."""
    environment = {name: os.environ[name] for name in os.environ if not name.startswith("PYTHON")}
    done = subprocess.run(
        [python, *words],
        cwd=elsewhere,
        env={**environment, "QT_QPA_PLATFORM": "offscreen", "COMPANION_HOME": str(elsewhere)},
        check=False,
        capture_output=True,
        text=True,
        timeout=120,
    )
    if done.returncode or done.stderr:
        sys.exit(f"{' '.join(words)} ended with {done.returncode}:\n{done.stderr}")
    return done.stdout


def check_installed(base: Path, wheel: Path, folder: Path) -> None:
    """Install the wheel for one interpreter; it must answer as the checkout does."""
    environment, elsewhere = folder / "environment", folder / "elsewhere"
    elsewhere.mkdir()
    subprocess.run([base, "-m", "venv", environment], check=True)
    python = environment_python(environment)
    subprocess.run([python, "-m", "pip", "install", "--quiet", str(wheel)], check=True)
    expected = ask(sys.executable, elsewhere, "-m", "companion", *ASKED, "--json")
    script = python.with_name("companion" + python.suffix)
    if ask(script, elsewhere, *ASKED, "--json") != expected:
        sys.exit("The installed program gives other numbers than the checkout.")
    said = json.loads(ask(python, elsewhere, str(ROOT / "tests/app/driver.py"), "home", "demo"))
    if said["target"] != "Saturn":
        sys.exit(f"The installed window aims at {said['target']}, not at Saturn.")
    say(f"{ask(python, elsewhere, '-V').strip()}: commands and window work")


def main() -> int:
    """Build, then install and ask with each interpreter."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--all", action="store_true")
    parser.add_argument("--keep", type=Path)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="companion-installed-") as name:
        folder = Path(name)
        wheel = build(options.keep or folder / "dist")
        for number, base in enumerate(interpreters() if options.all else [Path(sys.executable)]):
            (folder / str(number)).mkdir()
            check_installed(base, wheel, folder / str(number))
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
