"""The journal on disks that are full, closed or pulled away, and beside other programs."""

import os
import resource
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from companion.journal import (
    FILE_NAME,
    Fault,
    Journal,
    read_settings,
)
from companion.journal.schema import APPLICATION_ID
from journal.test_world import FOUND, NIGHT, UTC_NOW, _fault_of


def test_a_folder_in_the_way_is_said(path: Path) -> None:
    path.mkdir()
    assert _fault_of(lambda: Journal(path)).fault == Fault.UNREACHABLE
    assert _fault_of(lambda: read_settings(path.parent)).fault == Fault.UNREACHABLE


def test_another_writer_is_waited_for_and_then_named(
    path: Path, open_journal: Callable[[], Journal]
) -> None:
    journal = open_journal()
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    error = _fault_of(lambda: journal.mark(NIGHT, UTC_NOW, FOUND))
    assert error.fault == Fault.LOCKED
    assert "Nothing was changed" in error.kept
    other.execute("COMMIT")
    other.close()
    assert journal.mark(NIGHT, UTC_NOW, FOUND).event is not None


def test_a_full_disk_loses_nothing_and_is_survived(journal: Journal) -> None:
    before = journal.mark(NIGHT, UTC_NOW, FOUND).state
    pages = journal.connection.execute("PRAGMA page_count").fetchone()[0]
    journal.connection.execute(f"PRAGMA max_page_count = {pages}")

    def fill() -> None:
        for _ in range(20):
            journal.sight(NIGHT, UTC_NOW, "wooden", {"text": "x" * 5000})

    error = _fault_of(fill)
    assert error.fault == Fault.FULL
    assert "Free some space" in error.do
    assert journal.evening(NIGHT).queue == before.queue
    journal.connection.execute("PRAGMA max_page_count = 1000000")
    assert journal.undo(NIGHT, UTC_NOW).event is not None


def test_a_disk_that_refuses_a_write_loses_nothing(journal: Journal) -> None:
    before = journal.mark(NIGHT, UTC_NOW, FOUND).state
    log = journal.path.with_name(FILE_NAME + "-wal")
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (log.stat().st_size + 100, hard))
    try:
        error = _fault_of(lambda: journal.mark(NIGHT, UTC_NOW, FOUND))
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert error.fault in {Fault.UNREACHABLE, Fault.FULL}
    assert journal.evening(NIGHT) == before
    assert journal.mark(NIGHT, UTC_NOW, FOUND).event is not None


def test_a_journal_cannot_begin_where_nothing_may_be_written(sealed: Path) -> None:
    error = _fault_of(lambda: Journal(sealed / FILE_NAME))
    assert error.fault in {Fault.READ_ONLY, Fault.UNREACHABLE}
    assert "--home" in error.do


def test_settings_are_read_where_nothing_may_be_written(
    plain_folder: Path, request: pytest.FixtureRequest
) -> None:
    home = plain_folder / "home"
    home.mkdir()
    journal = Journal(home / FILE_NAME)
    journal.set(UTC_NOW, "mount", "wooden")
    journal.close()
    (home / FILE_NAME).chmod(0o444)
    home.chmod(0o555)
    request.getfixturevalue("unprivileged")
    assert read_settings(home).mount == "wooden"
    assert _fault_of(lambda: Journal(home / FILE_NAME)).fault == Fault.READ_ONLY


def test_settings_are_read_while_the_journal_is_in_use(journal: Journal) -> None:
    journal.set(UTC_NOW, "mount", "wooden")
    assert read_settings(journal.path.parent).mount == "wooden"
    journal.set(UTC_NOW, "mount", "iron")
    assert read_settings(journal.path.parent).mount == "iron"


def test_a_deleted_file_is_noticed_and_put_back(journal: Journal) -> None:
    before = journal.mark(NIGHT, UTC_NOW, FOUND).state
    journal.path.unlink()
    for act in (journal.changed_elsewhere, lambda: journal.undo(NIGHT, UTC_NOW)):
        error = _fault_of(act)
        assert error.fault == Fault.UNREACHABLE
        assert "moved or deleted" in error.wrong
    journal.restore()
    again = Journal(journal.path)
    assert again.evening(NIGHT) == before
    assert again.undo(NIGHT, UTC_NOW).event is not None
    again.close()


def test_a_rescued_file_is_on_the_disk_before_it_takes_its_place(
    journal: Journal, monkeypatch: pytest.MonkeyPatch
) -> None:
    journal.mark(NIGHT, UTC_NOW, FOUND)
    journal.path.unlink()
    flushed: list[tuple[int, bool]] = []

    def note(handle: int) -> None:
        flushed.append((os.fstat(handle).st_ino, journal.path.exists()))

    monkeypatch.setattr(os, "fsync", note)
    journal.restore()
    assert (journal.path.stat().st_ino, False) in flushed


def test_a_replaced_file_is_noticed_and_left_alone(journal: Journal, tmp_path: Path) -> None:
    journal.mark(NIGHT, UTC_NOW, FOUND)
    other = Journal(tmp_path / "other.sqlite")
    other.close()
    shutil.move(tmp_path / "other.sqlite", journal.path)
    assert _fault_of(lambda: journal.mark(NIGHT, UTC_NOW, FOUND)).fault == Fault.UNREACHABLE


def test_two_windows_see_each_other(open_journal: Callable[[], Journal]) -> None:
    one, two = open_journal(), open_journal()
    assert not one.changed_elsewhere()
    two.mark(NIGHT, UTC_NOW, FOUND)
    assert one.changed_elsewhere()
    assert not one.changed_elsewhere()
    assert one.evening(NIGHT) == two.evening(NIGHT)
    assert one.undo(NIGHT, UTC_NOW).state.queue == ()
    assert not one.changed_elsewhere()  # what it wrote itself is no news
    assert two.changed_elsewhere()


_WRITER = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from companion.journal import Journal, Mark, Outcome
journal = Journal(Path(sys.argv[1]))
for number in range(25):
    target = {"key": f"{sys.argv[2]}:{number}", "name": "x"}
    journal.mark("2026-10-10", datetime(2026, 10, 10, tzinfo=UTC), Mark(target, Outcome.FOUND))
"""


def test_programs_that_start_and_write_together_lose_nothing(path: Path) -> None:
    writers = [
        subprocess.Popen([sys.executable, "-c", _WRITER, path, name], stderr=subprocess.PIPE)
        for name in "abc"
    ]
    for writer in writers:
        _, complaints = writer.communicate(timeout=60)
        assert (writer.returncode, complaints) == (0, b"")
    journal = Journal(path)
    assert len(journal.evening(NIGHT).queue) == 75
    journal.close()


def test_the_mark_of_the_file_is_what_other_programs_may_look_for() -> None:
    assert APPLICATION_ID.to_bytes(4, "big") == b"COJ1"
