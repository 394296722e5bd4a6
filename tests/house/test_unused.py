"""What only tests keep alive is found."""

from pathlib import Path

import pytest

pytest.importorskip("vulture", reason="a tool of the check, not of the program")
from unused import unused

PLANTED = """
from enum import Enum
from functools import singledispatch

class Told(Enum):
    BY_ITS_VALUE = 1

class Panel:
    def paintEvent(self): ...
    def planted(self): ...
    def kept(self): ...

@singledispatch
def answer(question): return question

@answer.register
def _number(question: int): return question

print(Told(1), Panel(), answer(1))
"""


def test_what_nobody_uses_is_found_and_what_others_call_is_not(tmp_path: Path) -> None:
    (tmp_path / "companion").mkdir()
    (tmp_path / "companion" / "one.py").write_text(PLANTED)
    (found,) = unused(tmp_path, {"kept"})
    assert found == "companion/one.py:10: unused method 'planted'"
    (tmp_path / "companion" / "two.py").write_text("from one import Panel\nPanel().kept()\n")
    assert "pyproject.toml: kept is used, or gone" in list(unused(tmp_path, {"kept"}))
