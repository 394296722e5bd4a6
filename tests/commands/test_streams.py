"""Answers reach whatever standard output there is, or the failure is one line."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from companion.commands.streams import plain_form

AIM = [sys.executable, "-m", "companion", "aim", "--demo"]


def _run(command: list[str], **extra: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        command,
        env={**os.environ, **extra},
        capture_output=True,
        text=True,
        encoding="latin-1",
        check=False,
        timeout=120,
    )


@pytest.mark.parametrize(
    ("char", "plain"), [("°", " deg"), ("α", "alpha"), ("é", "e"), ("−", "-"), ("☉", "?")]
)
def test_every_character_has_a_plain_form(char: str, plain: str) -> None:
    assert plain_form(char) == plain
    assert plain_form(char).isascii()


@pytest.mark.slow
def test_a_terminal_of_ascii_gets_plain_forms() -> None:
    done = _run(AIM, PYTHONIOENCODING="ascii")
    assert (done.returncode, done.stderr) == (0, "")
    assert " deg" in done.stdout
    done = _run([*AIM, "--json"], PYTHONIOENCODING="ascii")
    assert all(json.loads(line)["name"] for line in done.stdout.splitlines())


@pytest.mark.slow
@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full device")
@pytest.mark.parametrize(
    "words", ["aim vega --demo >/dev/full", "aim vega --demo >&-", "-h >&-", "-h >/dev/full"]
)
def test_output_that_cannot_be_written_is_one_line(words: str) -> None:
    done = _run(["sh", "-c", f"exec '{sys.executable}' -m companion {words}"])
    assert done.returncode == 1
    assert done.stderr.count("\n") == 1
    assert "could not be written" in done.stderr
