"""How many small planted faults the tests notice, package by package.

``python tests/benchmarks/mutants.py [PACKAGE ...] [--count N] [--seed S] [--at FILE]`` plants
faults in a copy of the program, one at a time: a comparison turned, a sign changed, a number
doubled, a sine for a cosine, a call left out. Which tests run a line is measured once; those tests
must fail. It prints every fault that none of them noticed, then the share that was noticed.
"""

from __future__ import annotations

import argparse
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from coverage import CoverageData

sys.path.insert(0, str(Path(__file__).parents[1]))

from benchmarks.planted import Fault, faults_of

ROOT = Path(__file__).resolve().parents[2]
TESTS: Mapping[str, tuple[str, ...]] = {
    "sky": ("tests/sky", "tests/reference"),
    "mount": ("tests/mount", "tests/reference"),
    "finding": ("tests/finding", "tests/reference"),
    "night": ("tests/night", "tests/reference"),
    "journal": ("tests/journal",),
    "about": ("tests/about", "tests/reference"),
    "events": ("tests/events", "tests/reference"),
    "road": ("tests/road",),
    "instant": ("tests/instant", "tests/commands"),
    "charts": ("tests/charts",),
    "live": ("tests/live",),
}
_MOST_S = 25.0  # of tests for one fault, by their time without it
_LEAST_S = 60.0  # before a run counts as hung: an endless loop is noticed, too
_MANY_TESTS = 120
_NOTHING_FOUND = 5  # pytest's exit code: no test was there to run


@dataclass(frozen=True, slots=True)
class Seen:
    """Which tests run which line, and how long each of them takes."""

    by_line: Mapping[str, Mapping[int, frozenset[str]]]
    seconds: Mapping[str, float]

    def tests_for(self, fault: Fault) -> list[str]:
        """Give the tests that may notice a fault: those that run its line, then its file's."""
        lines = self.by_line.get(fault.file, {})
        run_it = {test for line in fault.lines for test in lines.get(line, ())}
        near = {test for tests in lines.values() for test in tests} - run_it
        quick_first = [*self._quick(run_it), *self._quick(near)]
        chosen: list[str] = []
        spent = 0.0
        for test in quick_first[:_MANY_TESTS]:
            spent += self.seconds.get(test, 0.0)
            if chosen and spent > _MOST_S:
                break
            chosen.append(test)
        return chosen

    def _quick(self, tests: set[str]) -> list[str]:
        return sorted(tests, key=lambda test: (self.seconds.get(test, 0.0), test))


def copy_of_the_program() -> Path:
    """Give a folder with all that the tests need, to plant faults in."""
    copy = Path(tempfile.mkdtemp(prefix="companion-faults-"))
    unneeded = shutil.ignore_patterns("__pycache__")
    for name in ("companion", "tests", "packaging"):
        shutil.copytree(ROOT / name, copy / name, ignore=unneeded)
    shutil.copy(ROOT / "pyproject.toml", copy)
    (copy / "resources").symlink_to(ROOT / "resources")
    return copy


def measured(copy: Path, package: str) -> Seen:
    """Run the package's tests once and keep what each of them runs."""
    report = copy / "report.xml"
    command = [
        *(sys.executable, "-m", "pytest", "-q", "-m", "not slow and not kill"),
        *(f"--cov=companion/{package}", "--cov-context=test", "--cov-report="),
        *(f"--junitxml={report}", "-o", "junit_family=xunit1", *TESTS[package]),
    ]
    done = subprocess.run(command, cwd=copy, env=_environment(copy), check=False)
    if done.returncode:
        sys.exit(f"The tests of {package} fail without any fault.")
    return Seen(_lines(copy), _seconds(report))


def _environment(copy: Path) -> dict[str, str]:
    quiet = {"QT_QPA_PLATFORM": "offscreen", "OPENBLAS_NUM_THREADS": "1"}
    return {**os.environ, **quiet, "PYTHONPATH": str(copy), "PYTHONDONTWRITEBYTECODE": "1"}


def _lines(copy: Path) -> dict[str, dict[int, frozenset[str]]]:
    data = CoverageData(str(copy / ".coverage"))
    data.read()
    found: dict[str, dict[int, frozenset[str]]] = {}
    for path in data.measured_files():
        contexts = data.contexts_by_lineno(path)
        found[str(Path(path).relative_to(copy))] = {
            line: frozenset(one.partition("|")[0] for one in names if one)
            for line, names in contexts.items()
        }
    return found


def _seconds(report: Path) -> dict[str, float]:
    found: dict[str, float] = defaultdict(float)
    for case in ET.parse(report).iter("testcase"):  # noqa: S314 - our own file
        file = case.get("classname", "").replace(".", "/") + ".py"
        found[f"{file}::{case.get('name')}"] += float(case.get("time", 0.0))
    return found


def is_noticed(copy: Path, fault: Fault, tests: Sequence[str], usual_s: float) -> bool:
    """Plant a fault, run the tests in a child, and take the fault out again."""
    path = copy / fault.file
    right = path.read_text()
    path.write_text(fault.text)
    child = os.fork()
    if child == 0:
        _run_tests(copy, tests)
    try:
        return _ends_badly(child, _LEAST_S + 5.0 * usual_s)
    finally:
        path.write_text(right)


def _run_tests(copy: Path, tests: Sequence[str]) -> None:
    """Run tests in this process, which is a child, and end with their code whatever happens."""
    code = 1
    try:
        os.setsid()
        os.chdir(copy)
        os.environ.update(_environment(copy))
        sys.path.insert(0, str(copy))
        sys.dont_write_bytecode = True
        for stream in (1, 2):
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream)
        code = int(pytest.main(["-x", "-q", "--hypothesis-seed=1", *tests]))
    finally:
        os._exit(0 if code == _NOTHING_FOUND else code)


def _ends_badly(child: int, most_s: float) -> bool:
    ends = time.monotonic() + most_s
    while time.monotonic() < ends:
        ended, status = os.waitpid(child, os.WNOHANG)
        if ended:
            return status != 0
        time.sleep(0.05)
    os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return True


def sampled(copy: Path, package: str, count: int, seed: int, only: str) -> list[Fault]:
    """Choose faults of a package, each as likely as any other."""
    folder = copy / "companion" / package
    files = [path for path in sorted(folder.rglob("*.py")) if only in str(path)]
    every = [plant for path in files for plant in faults_of(path, copy)]
    chosen = random.Random(seed).sample(every, min(count, len(every)))  # noqa: S311 - a sample
    return sorted((plant() for plant in chosen), key=lambda fault: (fault.file, fault.lines.start))


def survivors(package: str, count: int, seed: int, only: str) -> Iterator[Fault | None]:
    """Plant faults in a package; give those that no test noticed, None for each that one did."""
    copy = copy_of_the_program()
    try:
        seen = measured(copy, package)
        faults = sampled(copy, package, count, seed, only)
        _check_that_right_is_right(copy, seen, faults[0])
        for fault in faults:
            tests = seen.tests_for(fault)
            usual_s = sum(seen.seconds.get(test, 0.0) for test in tests)
            noticed = bool(tests) and is_noticed(copy, fault, tests, usual_s)
            yield None if noticed else fault
    finally:
        shutil.rmtree(copy, ignore_errors=True)


def _check_that_right_is_right(copy: Path, seen: Seen, fault: Fault) -> None:
    """Stop where the tests fail in a child without any fault: then nothing would be proved."""
    none = replace(fault, text=(copy / fault.file).read_text())
    tests = seen.tests_for(fault)
    if not tests or is_noticed(copy, none, tests, _MOST_S):
        sys.exit(f"The tests of {fault.file} fail in a child, or there are none.")


def load_what_is_large() -> None:
    """Read the large libraries once, before any child: only our own modules change."""
    import numpy as np
    import PySide6.QtWidgets
    import skyfield.api

    assert all((np, PySide6.QtWidgets, skyfield.api))


def main() -> None:
    """Print what was not noticed, and the shares."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("packages", nargs="*", choices=[*TESTS, []], help="all if none is named")
    options.add_argument("--count", type=int, default=40, help="faults in each package")
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--at", default="", help="only files whose path holds this")
    asked = options.parse_args()
    load_what_is_large()
    for package in asked.packages or list(TESTS):
        noticed = total = 0
        for fault in survivors(package, asked.count, asked.seed, asked.at):
            total += 1
            noticed += fault is None
            if fault is not None:
                print(f"  {fault}", flush=True)
        share = 100.0 * noticed / max(total, 1)
        print(f"{package}: {noticed} of {total} noticed, {share:.0f}%", flush=True)


if __name__ == "__main__":
    main()
