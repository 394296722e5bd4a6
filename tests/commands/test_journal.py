import csv
import json
import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from companion.journal import FILE_NAME, Journal, Mark, Outcome

from .conftest import Run

PLACE = ("--lat", "45.2", "--lon", "-62.3", "--at", "2026-10-10T23:14:00Z")
NIGHT = "2026-10-10"
UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
FORMULA = {"key": "own:1", "name": "=cmd|' /C calc'!A0"}


@pytest.fixture
def kept(home: Path) -> Path:
    """A home with a journal of two outcomes."""
    home.mkdir()
    with closing(Journal(home / FILE_NAME)) as journal:
        journal.mark(NIGHT, UTC_NOW, Mark(FORMULA, Outcome.FOUND))
        journal.mark(NIGHT, UTC_NOW, Mark({"key": "hip:91262", "name": "Vega"}, Outcome.FOUND))
    return home


def test_a_whole_copy_is_made_while_the_journal_is_in_use(
    run: Run, kept: Path, tmp_path: Path
) -> None:
    with closing(Journal(kept / FILE_NAME)) as window:
        window.queue(NIGHT, UTC_NOW, [{"key": "body:saturn", "name": "Saturn"}])
        copy = tmp_path / "copy.sqlite"
        assert run("journal", "copy", copy) == (0, f"Copied: {copy}\n", "")
    with closing(Journal(copy)) as again:
        assert len(again.evening(NIGHT).queue) == 3
    (tmp_path / "link.sqlite").symlink_to(kept / FILE_NAME)
    before = (kept / FILE_NAME).read_bytes()
    for place in (kept / FILE_NAME, tmp_path / "link.sqlite"):
        code, _out, err = run("journal", "copy", place)
        assert (code, err.count("\n")) == (1, 1)
    assert (kept / FILE_NAME).read_bytes() == before


def test_what_cannot_be_read_is_listed(run: Run, kept: Path) -> None:
    assert run("journal", "check") == (
        0,
        "1 nights, 2 outcomes, 0 notes; 0 entries with a flaw.\n",
        "",
    )
    connection = sqlite3.connect(kept / FILE_NAME)
    row = ("yesterday", NIGHT, "marked", "x", "{}")
    connection.execute(
        "INSERT INTO event (utc, night, kind, subject, payload) VALUES (?, ?, ?, ?, ?)", row
    )
    connection.commit()
    connection.close()
    code, out, _err = run("journal", "check")
    assert code == 1
    assert out.startswith("Entry 3 of the night 2026-10-10: its moment is 'yesterday'.\n")
    code, out, _err = run("journal", "check", "--json")
    assert (code, json.loads(out)["number"]) == (1, 3)


@pytest.mark.parametrize("ending", ["csv", "jsonl", "txt"])
def test_all_outcomes_are_written_out(run: Run, kept: Path, tmp_path: Path, ending: str) -> None:
    path = tmp_path / f"all.{ending}"
    assert run("journal", "write", path)[0] == 0
    assert path.stat().st_mode & 0o777 == 0o600
    assert "Vega" in path.read_text()
    if ending == "csv":
        (first, _vega) = csv.DictReader(path.read_text().splitlines())
        assert first["name"] == f"'{FORMULA['name']}"  # harmless in a spreadsheet


def test_wrong_words_are_answered_in_a_line(run: Run, kept: Path, tmp_path: Path) -> None:
    for words in (
        ("copy",),
        ("write", tmp_path / "all.doc"),
        ("write", tmp_path / "no" / "all.csv"),
        ("check", "--home", tmp_path / "nowhere"),
        ("rescue", "--home", tmp_path / "nowhere"),
    ):
        code, out, err = run("journal", *words)
        assert (code, out, err.count("\n")) == (1, "", 1), words


def test_a_damaged_journal_is_set_aside_by_a_tick_and_brought_back_on_request(
    run: Run, kept: Path
) -> None:
    assert run("journal", "rescue")[1] == (
        "There is nothing to bring back: the journal is whole.\n"
    )
    data = (kept / FILE_NAME).read_bytes()
    (kept / FILE_NAME).write_bytes(bytes(100) + data[100:])
    code, out, err = run("mark", "m31", "found", *PLACE)
    assert (code, out) == (0, "M 31: found, night of 2026-10-10\n")
    assert "kept as journal-aside-1.sqlite" in err
    assert "companion journal rescue brings them back" in err
    code, out, err = run("journal", "rescue")
    assert (code, err) == (0, "")
    assert out.startswith("2 entries were brought back")
    with closing(Journal(kept / FILE_NAME)) as journal:
        assert [entry.name for entry in journal.evening(NIGHT).queue][1:] == ["Vega", "M 31"]
    assert run("mark", "m31", "not_seen", *PLACE) == (
        0,
        "M 31: not seen, night of 2026-10-10, before: found\n",
        "",
    )


def test_a_damaged_journal_gives_no_traceback_anywhere(run: Run, kept: Path) -> None:
    data = (kept / FILE_NAME).read_bytes()
    (kept / FILE_NAME).write_bytes(data[:4096] + bytes(len(data) - 4096))
    for words in (("check",), ("copy", kept / "x"), ("write", kept / "x.csv")):
        code, out, err = run("journal", *words)
        assert (code, out, err.count("\n")) == (1, "", 1)
        assert "companion journal rescue" in err
    # What needs no journal is answered all the same.
    code, out, err = run("aim", "vega", "--site", "Loon Barrens", "--at", "2026-10-10T23:14Z")
    assert (code, err.count("\n")) == (0, 1)
    assert "Vega" in out
