"""The real program in a process of its own, played by ``driver.py``."""

import json
import os
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from companion.journal import FILE_NAME, Journal, Outcome, night_of
from companion.sky import LOON_BARRENS, zone_of

DRIVER = Path(__file__).with_name("driver.py")
ROOT = DRIVER.parents[2]


def play(home: Path, scene: str, platform: str = "offscreen") -> tuple[int, dict[str, Any], str]:
    done = subprocess.run(
        [sys.executable, str(DRIVER), str(home), scene],
        cwd=ROOT,
        env={**os.environ, "QT_QPA_PLATFORM": platform, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    lines = done.stdout.splitlines()
    return done.returncode, json.loads(lines[-1]) if lines else {}, done.stderr


def test_a_target_is_aimed_at_found_and_kept(tmp_path: Path) -> None:
    code, said, stderr = play(tmp_path, "tick")
    assert (code, said["target"], said["items"]) == (0, "Vega", ["Vega"]), stderr
    night = night_of(datetime.now(UTC), zone_of(LOON_BARRENS.time_zone))
    journal = Journal(tmp_path / FILE_NAME)
    entry = journal.evening(night).entry("hip:91262")
    journal.close()
    assert entry is not None
    assert entry.outcome is Outcome.FOUND
    assert "Traceback" not in stderr


def test_a_file_that_is_no_journal_is_said_and_left_alone(tmp_path: Path) -> None:
    file = tmp_path / FILE_NAME
    file.write_text("a shopping list, and quite a long one too, for a whole week " * 5)
    before = file.read_bytes()
    code, said, stderr = play(tmp_path, "aim")
    assert said["target"] == "Vega", stderr
    assert any("no journal of this program" in text for text in said["messages"])
    assert code == 1  # an entry could not be written, and that is said
    assert "could not be written" in stderr
    assert file.read_bytes() == before


def test_the_demo_leaves_the_persons_own_state_alone(tmp_path: Path) -> None:
    code, said, stderr = play(tmp_path, "demo")
    assert code == 0, stderr
    assert said["items"][:2] == ["Saturn", "Vega"]
    assert list(tmp_path.iterdir()) == []


def test_a_host_leads_and_the_program_ends_though_the_guests_page_is_open(
    tmp_path: Path,
) -> None:
    code, said, stderr = play(tmp_path, "host")
    assert code == 0, stderr
    assert said["shown"] == said["guests"] == "Saturn"
    assert not said["whole"]  # on the only screen: the host's own window stays in sight
    assert "Traceback" not in stderr


def test_guests_have_the_second_screen_to_themselves(tmp_path: Path) -> None:
    names = {"one": 0, "two": 1366}
    screens = [
        {"name": name, "x": left, "y": 0, "width": 1366, "height": 768,
         "logicalDpi": 96, "logicalBaseDpi": 96, "dpr": 1}
        for name, left in names.items()
    ]  # fmt: skip
    file = tmp_path / "screens.json"
    file.write_text(json.dumps({"screens": screens}))
    code, said, stderr = play(tmp_path / "home", "host", f"offscreen:configfile={file}")
    assert code == 0, stderr
    assert (said["screen"], said["whole"]) == ("two", True)


@pytest.mark.parametrize(
    ("words", "code", "text"),
    [
        (("--site", "Nowhere at all"), 1, "No site or town"),
        (("--demo", "--site", "Dry Pan"), 2, "not allowed"),
    ],
)
def test_what_cannot_be_opened_is_said_in_a_line(
    tmp_path: Path, words: tuple[str, ...], code: int, text: str
) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "companion", *words],
        cwd=ROOT,
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen", "COMPANION_HOME": str(tmp_path)},
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    assert done.returncode == code
    assert text in done.stderr
    assert done.stderr.count("\n") == 1
