"""A short run of the benchmark of a failing disk, and the fault that it found."""

import importlib.util
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from companion.journal import Fault, Journal, JournalError
from companion.journal.open_file import OpenFile

SCRIPT = Path(__file__).parents[1] / "benchmarks" / "faults.py"


def _can_trace() -> bool:
    spec = importlib.util.spec_from_file_location("faults", SCRIPT)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module  # its records look for it there
    spec.loader.exec_module(module)
    return bool(module.can_trace())


@pytest.mark.kill
@pytest.mark.skipif(not _can_trace(), reason="needs strace, and leave to use it")
def test_no_fault_of_the_disk_makes_a_false_promise() -> None:
    done = subprocess.run(
        [sys.executable, SCRIPT, "4"], capture_output=True, text=True, timeout=120, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert "faults 4, of them met 4;" in done.stdout
    assert "lost 0; tracebacks 0; journals that did not open 0" in done.stdout


def test_a_disk_that_fails_just_after_opening_is_told_in_words(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(_file: OpenFile) -> int:
        error = sqlite3.OperationalError("disk I/O error")
        error.sqlite_errorcode = sqlite3.SQLITE_IOERR
        raise error

    Journal(path).close()
    monkeypatch.setattr(OpenFile, "_data_version", fails)
    with pytest.raises(JournalError) as caught:
        Journal(path)
    assert caught.value.fault is not Fault.DAMAGED
