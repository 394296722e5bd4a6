"""What could not be written, kept as text and read back; a file that was deleted, saved."""

import json
import os
import shutil
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given, strategies as st

from companion.advice import AdviceError
from companion.journal import (
    FILE_NAME,
    Change,
    Journal,
    JournalError,
    Mark,
    Outcome,
    What,
    key_change,
    mark_change,
    queue_change,
    setting_change,
    sight_change,
    sightings_change,
)
from companion.journal.beside import keep_beside, kept_beside, read_back
from companion.journal.changes import change_line, read_change

NIGHT = "2026-10-10"
UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
VEGA = {"key": "hip:91262", "name": "Vega"}
SATURN = {"key": "body:saturn", "name": "Saturn"}
FOUND = Mark(VEGA, Outcome.FOUND, note="blue-white")
EVENING = [
    setting_change(UTC_NOW, "mount", "wooden"),
    queue_change(NIGHT, UTC_NOW, [SATURN, VEGA]),
    Change(What.ORDER, NIGHT, UTC_NOW, {"keys": ["hip:91262"]}),
    mark_change(NIGHT, UTC_NOW, FOUND),
    key_change(What.NOTE, NIGHT, UTC_NOW, "hip:91262", text="very white"),
    sight_change(NIGHT, UTC_NOW, "wooden", {"azimuth_reading_deg": 1.0}),
    key_change(What.REMOVE, NIGHT, UTC_NOW, "body:saturn"),
    sightings_change(NIGHT, UTC_NOW, [5], aside=True),
    sightings_change(NIGHT, UTC_NOW, [5], aside=False),
    Change(What.UNDO, NIGHT, UTC_NOW),
    Change(What.REDO, NIGHT, UTC_NOW),
]


def _shown(path: Path) -> object:
    with closing(Journal(path)) as journal:
        state = journal.evening(NIGHT)
        assert state.flaws == ()
        return state.queue, state.sightings, journal.settings()


@pytest.fixture
def directly(tmp_path: Path) -> object:
    """What the evening looks like that was never held up."""
    path = tmp_path / "directly" / FILE_NAME
    path.parent.mkdir()
    with closing(Journal(path)) as journal:
        for change in EVENING:
            journal.do(change)
    return _shown(path)


def test_changes_come_back_from_their_lines() -> None:
    assert [read_change(change_line(change)) for change in EVENING] == EVENING


@given(st.text(max_size=80))
def test_a_line_that_is_no_change_is_refused_in_words(line: str) -> None:
    with pytest.raises(JournalError, match="is not an entry"):
        read_change(line)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (EVENING[0], "setting: mount"),
        (EVENING[1], "into the queue: Saturn, Vega"),
        (EVENING[3], "found: Vega (blue-white)"),
        (EVENING[4], "note: very white"),
        (EVENING[9], "undo"),
    ],
)
def test_a_change_says_what_it_is(change: Change, words: str) -> None:
    assert change.words == words


def test_an_evening_kept_beside_is_read_back_once(tmp_path: Path, directly: object) -> None:
    home = tmp_path / "home"
    kept = keep_beside(EVENING, home, [home, tmp_path])  # the home is gone
    assert kept.parent == tmp_path
    assert kept.stat().st_mode & 0o777 == 0o600
    assert '"found"' in kept.read_text()
    home.mkdir()
    again = tmp_path / "kept"
    shutil.copyfile(kept, again)
    with closing(Journal(home / FILE_NAME)) as journal:
        assert kept_beside(home, [home, tmp_path]) == (kept,)
        told = read_back(journal, kept)
        assert str(told) == (
            "11 entries that could not be written last time: the journal has them now."
        )
        assert kept_beside(home, [home, tmp_path]) == ()
        # As if the program had been killed before it could delete the file.
        shutil.move(again, kept)
        assert read_back(journal, kept) is None
        assert not kept.exists()
    assert _shown(home / FILE_NAME) == directly


def test_a_file_changed_by_hand_costs_only_its_own_lines(tmp_path: Path) -> None:
    kept = keep_beside(EVENING[:4], tmp_path, [tmp_path])
    lines = kept.read_text().splitlines()
    spoilt = json.loads(lines[2])
    spoilt["values"] = {"targets": [7]}
    lines = [lines[0], lines[1], json.dumps(spoilt), "nonsense", *lines[3:]]
    kept.write_text("\n".join(lines))
    with closing(Journal(tmp_path / FILE_NAME)) as journal:
        told = read_back(journal, kept)
        assert told is not None
        assert (told.count, len(told.missed)) == (3, 2)
        assert journal.evening(NIGHT).entry("hip:91262") is not None


def test_nothing_is_half_read_back(tmp_path: Path, open_journal: Callable[[], Journal]) -> None:
    journal = open_journal()
    kept = keep_beside(EVENING, tmp_path, [tmp_path])
    pages = journal.connection.execute("PRAGMA page_count").fetchone()[0]
    journal.connection.execute(f"PRAGMA max_page_count = {pages}")
    journal.connection.execute("PRAGMA cache_size = 1")
    big = Mark(VEGA, Outcome.FOUND, note="x" * 9_000)
    kept.write_text(kept.read_text() + f"{change_line(mark_change(NIGHT, UTC_NOW, big))}\n" * 9)
    with pytest.raises(JournalError, match="no room"):
        read_back(journal, kept)
    assert kept.exists()
    assert journal.evening(NIGHT).queue == ()
    journal.connection.execute("PRAGMA max_page_count = 1000000")
    assert read_back(journal, kept) is not None
    assert journal.evening(NIGHT).entry("hip:91262") is not None


def test_what_somebody_else_left_there_is_passed_over(tmp_path: Path) -> None:
    home = tmp_path / "home"
    kept = keep_beside(EVENING, home, [tmp_path])
    link = kept.with_name(kept.name.replace("waiting-", "waiting-1"))
    link.symlink_to(kept)
    os.mkfifo(kept.with_name(kept.name.replace("waiting-", "waiting-2")))
    assert kept_beside(home, [tmp_path]) == (kept,)
    assert kept_beside(tmp_path / "other", [tmp_path]) == ()
    if os.geteuid() == 0:
        os.chown(kept, 65534, 65534)
        assert kept_beside(home, [tmp_path]) == ()


def test_where_nothing_can_be_kept_that_is_said(tmp_path: Path) -> None:
    with pytest.raises(AdviceError, match="cannot be written"):
        keep_beside(EVENING, tmp_path, [tmp_path / "no", tmp_path / "nor"])


def test_a_deleted_file_whose_name_was_taken_is_saved_beside(journal: Journal) -> None:
    journal.mark(NIGHT, UTC_NOW, FOUND)
    shutil.rmtree(journal.path.parent)
    journal.path.parent.mkdir()
    with closing(Journal(journal.path)) as other:
        other.queue(NIGHT, UTC_NOW, [SATURN])
    place = journal.restore()
    assert place == journal.path.with_name("journal-aside-1.sqlite")
    with closing(Journal(place)) as saved, closing(Journal(journal.path)) as present:
        assert [entry.name for entry in saved.evening(NIGHT).queue] == ["Vega"]
        assert [entry.name for entry in present.evening(NIGHT).queue] == ["Saturn"]


def test_a_whole_copy_is_one_file_and_never_the_journal_itself(
    journal: Journal, tmp_path: Path
) -> None:
    journal.mark(NIGHT, UTC_NOW, FOUND)
    copy = tmp_path / "copy.sqlite"
    journal.save_as(copy)
    assert copy.stat().st_mode & 0o777 == 0o600
    with closing(Journal(copy)) as again:
        assert again.evening(NIGHT).entry("hip:91262") is not None
    (tmp_path / "link.sqlite").symlink_to(journal.path)
    for place in (journal.path, tmp_path / "link.sqlite", tmp_path, tmp_path / "no" / "x"):
        with pytest.raises(JournalError, match="cannot be written"):
            journal.save_as(place)
    assert journal.mark(NIGHT, UTC_NOW, FOUND).event is not None


@pytest.mark.parametrize("log", [True, False])
def test_an_evening_is_read_where_nothing_may_be_written(
    plain_folder: Path, request: pytest.FixtureRequest, log: bool
) -> None:
    home = plain_folder / "home"
    work = plain_folder / "work"
    for folder in (home, work):
        folder.mkdir(mode=0o755)
    with closing(Journal(work / FILE_NAME)) as journal:
        journal.mark(NIGHT, UTC_NOW, FOUND)
        if not log:
            journal.checkpoint()
        for name in (FILE_NAME, f"{FILE_NAME}-wal"):
            shutil.copyfile(work / name, home / name)
            (home / name).chmod(0o444)
    if not log:
        (home / f"{FILE_NAME}-wal").unlink()
    home.chmod(0o555)
    before = sorted(part.name for part in home.iterdir())
    request.getfixturevalue("unprivileged")
    with closing(Journal(home / FILE_NAME, read_only=True)) as reader:
        assert reader.evening(NIGHT).entry("hip:91262") is not None
        with pytest.raises(JournalError, match="may only be read"):
            reader.mark(NIGHT, UTC_NOW, FOUND)
        assert reader.evening(NIGHT).queue[0].note == "blue-white"
    assert sorted(part.name for part in home.iterdir()) == before
