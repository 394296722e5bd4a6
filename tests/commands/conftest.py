from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from companion.cli import main

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def home(tmp_path: Path) -> Path:
    return tmp_path / "home"


@pytest.fixture
def run(home: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run a command in this process, with a state folder of its own."""
    monkeypatch.setenv("COMPANION_HOME", str(home))

    def runner(*words: Any) -> tuple[int, str, str]:
        try:
            code = main([str(word) for word in words])
        except SystemExit as stop:
            code = int(str(stop.code))
        out, err = capsys.readouterr()
        return code, out, err

    return runner
