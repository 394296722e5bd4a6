"""Contracts that cannot fail protect nothing: each kind of breach is planted and must be seen."""

import subprocess
import sys
from pathlib import Path

import pytest
from contracts import breaches

ROOT = Path(__file__).parents[2]


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """A copy of the program's sources, to plant breaches in."""
    for pattern in ("*.py", "*.pyi"):
        for path in (ROOT / "companion").rglob(pattern):
            to = tmp_path / path.relative_to(ROOT)
            to.parent.mkdir(parents=True, exist_ok=True)
            to.write_bytes(path.read_bytes())
    (tmp_path / "pyproject.toml").write_bytes((ROOT / "pyproject.toml").read_bytes())
    return tmp_path


def plant(root: Path, **lines: str) -> list[str]:
    """Add files ``package__name`` with these lines; give the breaches that name one of them."""
    for place, line in lines.items():
        path = root / "companion" / (place.replace("__", "/") + ".py")
        path.write_text(line + "\n")
    names = [f"companion.{place.replace('__', '.')}" for place in lines]
    return [found for found in breaches(root) if any(name in found for name in names)]


def test_the_house_keeps_its_contracts() -> None:
    assert breaches(ROOT) == []


@pytest.mark.parametrize(
    "line",
    [
        "from companion.sky.vectors import unit_vectors",
        "from companion.sky import vectors",
        "import companion.sky.vectors",
        "from companion.night.sight.limits import Limits",
        "from ..sky.vectors import unit_vectors",
        "def late() -> None:\n    from companion.sky.vectors import unit_vectors",
        "from importlib import import_module\nimport_module('companion.sky.vectors')",
        "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    import companion.sky.vectors",
    ],
)
def test_an_import_past_a_facade_is_seen(copy: Path, line: str) -> None:
    (found,) = plant(copy, commands__planted=line)
    assert "other packages read the façade" in found


def test_a_whole_package_is_no_name_of_its_facade(copy: Path) -> None:
    (found,) = plant(copy, commands__planted="from companion import sky")
    assert "doesn't list it" in found


def test_a_name_that_no_facade_lists_is_seen(copy: Path) -> None:
    (found,) = plant(copy, commands__planted="from companion.sky import Planted")
    assert "doesn't list it" in found


def test_a_package_does_not_read_its_own_facade(copy: Path) -> None:
    (found,) = plant(copy, finding__planted="from companion.finding import Way")
    assert "own package" in found


def test_a_facade_that_lists_what_is_not_there_is_seen(copy: Path) -> None:
    stub = copy / "companion" / "sky" / "__init__.pyi"
    stub.write_text(stub.read_text() + "from .planted import Nothing as Nothing\n")
    assert "companion.sky lists Nothing from companion.sky.planted, which is not there" in (
        breaches(copy)
    )


def test_rooms_of_one_package_may_read_each_other(copy: Path) -> None:
    assert plant(copy, night__hours__planted="from companion.night.sight.grades import Grade") == []


@pytest.mark.parametrize(
    "line",
    [
        "from companion.sky import separation_deg",
        "from companion.sky import Ephemeris",
        "from companion.charts import SkyFrameMaker",
        "from companion.live import PlannerThread",
    ],
)
def test_a_window_that_computes_is_seen(copy: Path, line: str) -> None:
    (found,) = plant(copy, window__sky__planted=line)
    assert "the window doesn't read that file" in found


def test_a_circle_within_a_package_is_seen(copy: Path) -> None:
    found = plant(
        copy,
        mount__one="if TYPE_CHECKING:\n    from companion.mount.other import There",
        mount__other="def late() -> None:\n    from companion.mount.one import Here",
    )
    assert found == ["These import each other: companion.mount.one, companion.mount.other"]


def test_a_circle_through_facades_is_seen(copy: Path) -> None:
    for package, name in (("mount", "Here"), ("finding", "There")):
        stub = copy / "companion" / package / "__init__.pyi"
        stub.write_text(f"{stub.read_text()}from .planted import {name} as {name}\n")
    found = plant(
        copy,
        mount__planted="from companion.finding import There",
        finding__planted="from companion.mount import Here",
    )
    assert found == ["These import each other: companion.finding.planted, companion.mount.planted"]


WRONG_ACQUAINTANCES = {
    "sky/planted_qt": ("import PySide6", "PySide6"),
    "sky/planted": ("from companion.mount import Aim", "companion.mount"),
    "mount/planted": ("from companion.finding import Way", "companion.finding"),
    "finding/planted": ("from companion.night import Grade", "companion.night"),
    "night/planted": ("from companion.journal import Journal", "companion.journal"),
    "journal/planted": ("import numpy", "numpy"),
    "instant/planted": ("from companion.charts import Scene", "companion.charts"),
    "charts/planted": ("from companion.commands import Context", "companion.commands"),
    "commands/planted": ("from companion.live import Evening", "companion.live"),
    "live/planted": ("from companion.window import Screen", "companion.window"),
    "window/planted": ("import skyfield", "skyfield"),
}


def test_knowing_the_wrong_package_is_seen(copy: Path) -> None:
    for place, (line, _known) in WRONG_ACQUAINTANCES.items():
        (copy / "companion" / f"{place}.py").write_text(line + "\n")
    lint = Path(sys.executable).parent / "lint-imports"
    done = subprocess.run(
        [lint, "--no-cache"],
        cwd=copy,
        env={"PYTHONPATH": str(copy), "PATH": ""},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 1
    for place, (_line, known) in WRONG_ACQUAINTANCES.items():
        assert f"companion.{place.replace('/', '.')} -> {known} " in done.stdout
