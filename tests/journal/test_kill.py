"""A short run of the benchmark, and proof that its counting can fail."""

import importlib.util
import re
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

from companion.journal import FILE_NAME

SCRIPT = Path(__file__).parents[1] / "benchmarks" / "kill.py"


@pytest.mark.kill
def test_nothing_that_was_promised_is_lost_by_kills() -> None:
    done = subprocess.run(
        [sys.executable, SCRIPT, "5"], capture_output=True, text=True, timeout=60, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    figures = re.fullmatch(
        r"journal: kills 5, .*ticks printed (\d+), lost 0; files that did not open 0\n", done.stdout
    )
    assert figures is not None
    assert int(figures[1]) > 0


@pytest.fixture
def kill() -> ModuleType:
    spec = importlib.util.spec_from_file_location("kill", SCRIPT)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["kill"] = module
    spec.loader.exec_module(module)
    return module


def test_a_loss_would_be_counted(kill: ModuleType, tmp_path: Path) -> None:
    figures = kill.Figures()
    kill.count(figures, ["a", "b"], tmp_path / FILE_NAME)
    (tmp_path / FILE_NAME).write_text("no database")
    kill.count(figures, [], tmp_path / FILE_NAME)
    assert (figures.kills, figures.lost, figures.unopened) == (2, 2, 1)
    assert figures.before_the_first == 1
