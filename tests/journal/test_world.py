"""What the world does to the file: each fault in words, and the file left as it was."""

import os
import shutil
import sqlite3
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from companion.journal import (
    FILE_NAME,
    Fault,
    Journal,
    JournalError,
    Mark,
    Outcome,
    read_settings,
)
from companion.journal.database import put_aside

NIGHT = "2026-10-10"
UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
VEGA = {"key": "hip:91262", "name": "Vega"}
FOUND = Mark(VEGA, Outcome.FOUND, note="x" * 5000)


def _fault_of(act: Callable[[], object]) -> JournalError:
    with pytest.raises(JournalError) as caught:
        act()
    assert caught.value.wrong
    assert caught.value.do
    return caught.value


def _sql(path: Path, *statements: str) -> None:
    connection = sqlite3.connect(path)
    for statement in statements:
        connection.execute(statement)
    connection.commit()
    connection.close()


def test_durability_is_asked_for(journal: Journal) -> None:
    assert journal.connection.execute("PRAGMA synchronous").fetchone() == (2,)  # FULL
    assert journal.connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)
    assert journal.connection.execute("PRAGMA user_version").fetchone() == (1,)


@pytest.mark.parametrize(
    "content",
    [b"my shopping list\n", b"SQLite format 3", bytes(4096), b"x" * 1_000_000],
)
def test_a_file_that_is_no_database_is_left_alone(path: Path, content: bytes) -> None:
    path.write_bytes(content)
    error = _fault_of(lambda: Journal(path))
    assert error.fault == Fault.FOREIGN
    assert "--home" in error.do
    assert path.read_bytes() == content
    assert _fault_of(lambda: read_settings(path.parent)).fault == Fault.FOREIGN


def test_the_database_of_another_program_is_left_alone(path: Path) -> None:
    _sql(path, "CREATE TABLE event (x)", "INSERT INTO event VALUES (1)")
    before = path.read_bytes()
    assert _fault_of(lambda: Journal(path)).fault == Fault.FOREIGN
    assert path.read_bytes() == before
    assert [file.name for file in path.parent.iterdir()] == [FILE_NAME]


def test_a_newer_journal_is_left_alone(path: Path) -> None:
    Journal(path).close()
    _sql(path, "PRAGMA user_version = 2")
    before = path.read_bytes()
    error = _fault_of(lambda: Journal(path))
    assert error.fault == Fault.NEWER
    assert "format 2" in error.wrong
    assert path.read_bytes() == before


def test_an_empty_file_is_as_good_as_none(path: Path) -> None:
    path.touch()
    journal = Journal(path)
    assert journal.mark(NIGHT, UTC_NOW, FOUND).event is not None
    journal.close()


def test_a_damaged_journal_is_recognised(path: Path) -> None:
    journal = Journal(path)
    for _ in range(20):
        journal.mark(NIGHT, UTC_NOW, FOUND)
    journal.close()
    content = bytearray(path.read_bytes())
    content[4096:] = b"\xa5" * (len(content) - 4096)
    path.write_bytes(bytes(content))
    assert _fault_of(lambda: Journal(path)).fault == Fault.DAMAGED
    assert path.read_bytes() == bytes(content)


def test_a_journal_cut_short_is_recognised(path: Path) -> None:
    journal = Journal(path)
    journal.mark(NIGHT, UTC_NOW, FOUND)
    journal.close()
    path.write_bytes(path.read_bytes()[:5000])
    assert _fault_of(lambda: Journal(path)).fault == Fault.DAMAGED


def test_an_unusable_file_is_put_aside_and_never_overwritten(path: Path) -> None:
    for text in ("first", "second"):
        path.write_text(text)
        assert put_aside(path).read_text() == text
    Journal(path).close()
    assert sorted(file.name for file in path.parent.glob("*aside*")) == [
        "journal-aside-1.sqlite",
        "journal-aside-2.sqlite",
    ]


def test_rows_that_nobody_understands_are_counted_and_passed_over(path: Path) -> None:
    journal = Journal(path)
    journal.mark(NIGHT, UTC_NOW, FOUND)
    row = "INSERT INTO event (utc, night, kind, subject, payload) VALUES (?, ?, ?, ?, ?)"
    for values in (
        ("2026-10-10T00:00:00+00:00", NIGHT, "sang", "", "{}"),
        ("yesterday", NIGHT, "marked", "", "{}"),
        ("2026-10-10T00:00:00+00:00", NIGHT, "marked", "", "[" * 100_000),
        ("2026-10-10T00:00:00+00:00", NIGHT, "queued", "", "[]"),
    ):
        journal.connection.execute(row, values)
    for payload in ('{"targets": 7}', '{"targets": [7, {}]}', '{"targets": [], "place": "x"}'):
        journal.connection.execute(row, ("2026-10-10T00:00:00+00:00", NIGHT, "queued", "", payload))
    state = journal.evening(NIGHT)
    assert [flaw.number for flaw in state.flaws] == [2, 3, 4, 5, 6, 7, 8]
    assert "unknown kind 'sang'" in state.flaws[0].why
    assert [entry.key for entry in state.queue] == ["hip:91262"]
    journal.close()


def test_events_are_never_changed_or_deleted(journal: Journal) -> None:
    journal.mark(NIGHT, UTC_NOW, FOUND)
    for statement in ("UPDATE event SET night = 'x'", "DELETE FROM event"):
        with pytest.raises(sqlite3.IntegrityError, match="never"):
            journal.connection.execute(statement)


@pytest.mark.parametrize("table", ["event", "evening", "setting"])
def test_a_missing_table_is_damage(path: Path, table: str) -> None:
    Journal(path).close()
    _sql(path, "PRAGMA foreign_keys = OFF", f"DROP TABLE {table}")
    assert _fault_of(lambda: Journal(path)).fault == Fault.DAMAGED
    assert _fault_of(lambda: read_settings(path.parent)).fault == Fault.DAMAGED


def test_tables_that_are_not_ours_any_more_are_damage(path: Path) -> None:
    Journal(path).close()
    data = path.read_bytes()
    path.write_bytes(data.replace(b"subject TEXT NOT NULL", b"subjekt TEXT NOT NULL"))
    assert _fault_of(lambda: Journal(path)).fault == Fault.DAMAGED


def test_missing_indexes_and_triggers_are_made_again(path: Path) -> None:
    Journal(path).close()
    _sql(path, "DROP INDEX event_with_horizon", "DROP TRIGGER event_stays")
    journal = Journal(path)
    journal.mark(NIGHT, UTC_NOW, FOUND)
    with pytest.raises(sqlite3.IntegrityError, match="never"):
        journal.connection.execute("UPDATE event SET night = 'x'")
    found = journal.connection.execute("SELECT count(*) FROM sqlite_schema WHERE sql IS NOT NULL")
    assert found.fetchone() == (3 + 4 + 2 + 1,)  # tables, indexes, triggers, SQLite's own
    journal.close()


def test_the_journal_is_its_owners_alone(path: Path) -> None:
    before = os.umask(0)
    try:
        journal = Journal(path)
        journal.mark(NIGHT, UTC_NOW, FOUND)
        modes = {part.name: part.stat().st_mode & 0o777 for part in path.parent.iterdir()}
        journal.close()
    finally:
        os.umask(before)
    assert set(modes.values()) == {0o600}
    assert len(modes) == 3
    path.chmod(0o644)  # as versions before made it
    Journal(path).close()
    assert path.stat().st_mode & 0o777 == 0o600


def test_a_pipe_in_the_way_holds_nothing_up(path: Path) -> None:
    os.mkfifo(path)
    assert _fault_of(lambda: Journal(path)).fault == Fault.UNREACHABLE
    assert _fault_of(lambda: read_settings(path.parent)).fault == Fault.UNREACHABLE


def test_a_copy_of_the_file_alone_is_whole_after_a_pause(
    open_journal: Callable[[], Journal], tmp_path: Path
) -> None:
    journal, other = open_journal(), open_journal()
    for number in range(6):
        target = {"key": f"own:{number}", "name": "x"}
        journal.mark(NIGHT, UTC_NOW, Mark(target, Outcome.FOUND))
    other.evening(NIGHT)
    journal.checkpoint()
    copy = tmp_path / "copy.sqlite"
    shutil.copyfile(journal.path, copy)
    again = Journal(copy)
    assert len(again.evening(NIGHT).queue) == 6
    again.close()
    assert journal.path.with_name(FILE_NAME + "-wal").stat().st_size == 0
    assert other.mark(NIGHT, UTC_NOW, FOUND).event is not None


def test_the_log_stays_small_without_any_pause(journal: Journal) -> None:
    for number in range(300):
        journal.sight(NIGHT, UTC_NOW, "wooden", {"text": f"{number}" * 500})
    assert journal.path.with_name(FILE_NAME + "-wal").stat().st_size < 500_000


def test_a_copy_is_not_held_up_by_somebody_who_reads(
    path: Path, open_journal: Callable[[], Journal]
) -> None:
    journal = open_journal()
    journal.mark(NIGHT, UTC_NOW, FOUND)
    reader = sqlite3.connect(path, isolation_level=None)
    reader.execute("BEGIN")
    reader.execute("SELECT count(*) FROM event").fetchone()
    journal.checkpoint()
    reader.close()
    assert journal.mark(NIGHT, UTC_NOW, FOUND).event is not None


def test_a_damaged_log_is_damage_for_what_stands_behind_it_would_be_lost(
    path: Path, tmp_path: Path
) -> None:
    journal = Journal(path)
    journal.checkpoint()
    for number in range(4):
        target = {"key": f"own:{number}", "name": "x"}
        journal.mark(NIGHT, UTC_NOW, Mark(target, Outcome.FOUND))
    killed = tmp_path / "killed" / FILE_NAME
    killed.parent.mkdir()
    for part in (path, path.with_name(FILE_NAME + "-wal")):
        shutil.copyfile(part, killed.with_name(part.name))
    journal.close()
    log = killed.with_name(FILE_NAME + "-wal")
    whole = log.read_bytes()
    for at in (16, 32 + 8, 32 + 24 + 100):  # a salt, the first frame's salt, its page
        log.write_bytes(whole[:at] + bytes([whole[at] ^ 1]) + whole[at + 1 :])
        assert _fault_of(lambda: Journal(killed)).fault == Fault.DAMAGED
    # A log that was cut short by a kill is no damage: the last transaction was never promised.
    log.write_bytes(whole[: len(whole) - 5000])
    again = Journal(killed)
    assert 0 < len(again.evening(NIGHT).queue) < 4
    again.close()
