#!/usr/bin/env python3
"""Everything that must hold, in one command: format, lint, types, contracts, tests, coverage.

``python3 packaging/check.py`` makes its own environment. ``--here`` uses the running interpreter
instead; ``--fast`` leaves out the tests that are marked slow, and the wheel. Coverage is that of
the pure packages by their own tests; ``--whole`` traces all, which takes half as long again.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

from environment import ROOT, make_environment, provide_libraries, run, say

PURE = [
    "sky",
    "mount",
    "finding",
    "night",
    "about",
    "road",
    "journal",
    "instant",
    "charts",
    "events",
]
COVERAGE_FLOOR_PERCENT = 85  # of everything
PURE_FLOOR_PERCENT = 90  # of the pure packages, by the tests in their own folders alone


def steps(python: Path, *, fast: bool, whole: bool) -> list[tuple[str, list[str | Path]]]:
    """Give the steps in the order in which a failure is cheapest to hear of."""
    tool: list[str | Path] = [python, "-m"]
    pytest = [*tool, "pytest", "-n", "2"]
    traced: list[str | Path] = ["--cov", "--cov-config=pyproject.toml", "--cov-report="]
    inside = f"--include={','.join(f'companion/{name}/*' for name in PURE)}"
    covered: list[str | Path] = (
        [f"--fail-under={COVERAGE_FLOOR_PERCENT}"]
        if whole
        else [inside, f"--fail-under={PURE_FLOOR_PERCENT}"]
    )
    if fast:
        pytest += ["-m", "not slow"]
    pure: list[str | Path] = [f"tests/{name}" for name in PURE]
    others: list[str | Path] = [f"--ignore={folder}" for folder in pure]
    installed: list[str | Path] = [python, "packaging/installed.py"]
    return [
        ("format", [*tool, "ruff", "format", "--check", "."]),
        ("lint", [*tool, "ruff", "check", "."]),
        ("types", [*tool, "mypy"]),
        ("contracts", [python.parent / "lint-imports"]),
        ("contracts through façades", [python, "packaging/contracts.py"]),
        ("nothing unused", [python, "packaging/unused.py"]),
        (
            "pure packages without Qt",
            [*pytest, *traced, "-c", "tests/house/no_qt.ini", *pure],
        ),
        ("all other tests", [*pytest, *([*traced, "--cov-append"] if whole else []), *others]),
        ("coverage", [*tool, "coverage", "report", *covered]),
        *([] if fast else [("wheel in an empty environment", installed)]),
    ]


def main() -> int:
    """Run all steps; stop at the first that fails."""
    here = "--here" in sys.argv
    python = (
        Path(sys.executable) if here else make_environment(ROOT / ".venv-check", "[check,build]")
    )
    provide_libraries()
    for name, command in steps(python, fast="--fast" in sys.argv, whole="--whole" in sys.argv):
        started = time.monotonic()
        say(f"== {name}")
        if run(command, QT_QPA_PLATFORM="offscreen"):
            say(f"{name} failed. What ran: {' '.join(str(part) for part in command)}")
            return 1
        say(f"   {time.monotonic() - started:.0f} s")
    say("All checks passed.")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
