"""The house stands as DEVELOPERS.md says, checked against the real files."""

import ast
import importlib
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "companion"
PURE = ("sky", "mount", "finding", "night", "road", "journal", "instant", "charts", "events")
MODULES = sorted(
    ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")
    for path in PACKAGE.rglob("*.py")
    if path.name != "__main__.py"
)
CLOCKS = {"now", "utcnow", "today", "time", "time_ns", "monotonic", "perf_counter"}
TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "companion",
    "resources",
    "tests",
    "packaging",
}


def test_top_level_is_exactly_what_was_agreed() -> None:
    listed = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, check=True, capture_output=True, text=True
    ).stdout.splitlines()
    assert {name.partition("/")[0] for name in listed if not name.startswith(".")} == TOP_LEVEL


@pytest.mark.parametrize("package", [*PURE, "commands", "live", "window"])
def test_facade_gives_every_name_that_it_lists(package: str) -> None:
    facade = importlib.import_module(f"companion.{package}")
    stub = ast.parse((PACKAGE / package / "__init__.pyi").read_text())
    listed = {
        alias.asname or alias.name
        for node in stub.body
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    }
    assert listed
    assert set(facade.__all__) == listed
    for name in listed:
        assert getattr(facade, name) is not None


def test_the_modules_of_each_folder_import_by_themselves() -> None:
    # A fork gives each module a fresh interpreter state without its start-up time.
    code = (Path(__file__).parent / "import_each_alone.py").read_text()
    done = subprocess.run(
        [sys.executable, "-c", code, *MODULES], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert done.stdout == "", done.stderr


@pytest.mark.parametrize("package", [*PURE, "commands"])
def test_pure_packages_read_no_clock(package: str) -> None:
    offenders = [
        f"{path.name}:{line}"
        for path in (PACKAGE / package).rglob("*.py")
        for line in _clock_readings(path.read_text())
    ]
    assert offenders == []


@pytest.mark.parametrize(
    "line",
    ["datetime.now(UTC)", "date.today()", "time.monotonic()", "from time import perf_counter"],
)
def test_a_planted_clock_is_seen(line: str) -> None:
    assert list(_clock_readings(line)) == [1]


def _clock_readings(text: str) -> Iterator[int]:
    """Give the lines on which a clock is read, or taken from the module of clocks."""
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            if node.attr in CLOCKS and node.value.id in {"datetime", "date", "time"}:
                yield node.lineno
        elif isinstance(node, ast.ImportFrom) and node.module == "time":
            yield node.lineno
