"""A short run of the benchmark: days go by, clocks change, and every tick is in its own night."""

import importlib.util
from datetime import timedelta
from pathlib import Path
from types import ModuleType

import pytest

SCRIPT = Path(__file__).parents[1] / "benchmarks" / "day_and_night.py"


@pytest.fixture(scope="module")
def benchmark() -> ModuleType:
    spec = importlib.util.spec_from_file_location("day_and_night", SCRIPT)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.usefixtures("qapp")
def test_days_go_by_and_every_tick_is_in_its_own_night(
    benchmark: ModuleType, tmp_path: Path
) -> None:
    figures = benchmark.play(tmp_path, timedelta(minutes=220))
    assert (figures.wrong, figures.missing) == (0, 0)
    assert (figures.jumps, figures.jumps_said) == (2, 2)
    assert len(set(figures.written.values())) == 6
