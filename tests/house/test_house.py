"""The house stands as DEVELOPERS.md says, checked against the real files."""

import ast
import importlib
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "companion"
PURE = ("sky", "mount", "finding", "night", "journal", "instant", "charts")
MODULES = sorted(
    ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")
    for path in PACKAGE.rglob("*.py")
    if path.name != "__main__.py"
)
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


def test_every_module_imports_alone() -> None:
    # A fork gives each module a fresh interpreter state without its start-up time.
    code = (Path(__file__).parent / "import_each_alone.py").read_text()
    done = subprocess.run(
        [sys.executable, "-c", code, *MODULES], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert done.stdout == "", done.stderr


@pytest.mark.parametrize("package", PURE)
def test_pure_packages_read_no_clock(package: str) -> None:
    offenders = [
        f"{path.name}:{node.lineno}"
        for path in (PACKAGE / package).rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text()))
        if isinstance(node, ast.Attribute)
        and node.attr in {"now", "utcnow", "today", "time", "time_ns"}
        and isinstance(node.value, ast.Name)
        and node.value.id in {"datetime", "date", "time"}
    ]
    assert offenders == []
