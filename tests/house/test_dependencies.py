"""What is imported is declared in ``pyproject.toml``, and what is declared is imported."""

import ast
import re
import sys
import tomllib
from functools import cache
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
# Declared without an import of ours: zoneinfo reads the first.
READ_BY_OTHERS = {"tzdata"}


def _normal(name: str) -> str:
    """Give a distribution's name as PEP 503 compares it."""
    return re.sub(r"[-_.]+", "-", name).lower()


def _declared(requirements: list[str]) -> set[str]:
    return {_normal(re.split(r"[^\w.-]", one, maxsplit=1)[0]) for one in requirements}


@cache
def _imported(folder: str) -> dict[str, str]:
    """Give top-level names from outside, each with a file that imports it."""
    found: dict[str, str] = {}
    for path in (ROOT / folder).rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.Import):
                names = [alias.name for alias in node.names]
            elif isinstance(node, ast.ImportFrom) and not node.level:
                names = [node.module or ""]
            else:
                continue
            found |= {name.partition(".")[0]: str(path.relative_to(ROOT)) for name in names}
    own = {"companion"} if folder == "companion" else _own_names()
    return {name: path for name, path in found.items() if name not in sys.stdlib_module_names | own}


def _own_names() -> set[str]:
    """Give what scripts and tests may import from beside themselves."""
    places = [path for folder in ("packaging", "tests") for path in (ROOT / folder).rglob("*")]
    return {"companion", "tests", *(path.stem for path in places if path.suffix in {"", ".py"})}


_bringers = cache(packages_distributions)


def _distributions(name: str) -> set[str]:
    """Give what may bring an import; a missing one is taken to be called as its import."""
    return {_normal(one) for one in _bringers().get(name, [name])}


def test_every_runtime_dependency_is_imported() -> None:
    imported = {one for name in _imported("companion") for one in _distributions(name)}
    assert _declared(PROJECT["dependencies"]) - imported == READ_BY_OTHERS


@pytest.mark.parametrize("folder", ["companion", "tests", "packaging"])
def test_every_import_is_declared(folder: str) -> None:
    extras = [] if folder == "companion" else PROJECT["optional-dependencies"].values()
    declared = _declared([*PROJECT["dependencies"], *(one for extra in extras for one in extra)])
    undeclared = {
        name: path
        for name, path in _imported(folder).items()
        if not _distributions(name) & declared
    }
    assert undeclared == {}
