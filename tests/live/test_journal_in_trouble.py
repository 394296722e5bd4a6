"""The journal's thread where the journal cannot be written or read."""

import os
import resource
import shutil
import sqlite3
import tempfile
from contextlib import closing
from datetime import UTC
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from companion.journal import (
    FILE_NAME,
    EveningState,
    Fault,
    Journal,
    JournalError,
    Left,
    Mark,
    Outcome,
    Settings,
    Written,
    ticks,
)
from companion.live import JournalThread
from live.listening import FOUND, NIGHT, SATURN, UTC_NOW, Listener, on_disk


def test_a_locked_journal_delays_and_loses_nothing(
    journal_thread: JournalThread, listener: Listener, home: Path
) -> None:
    journal_thread.open(UTC_NOW, UTC)
    listener.wait(tuple)
    other = sqlite3.connect(home / FILE_NAME, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    journal_thread.queue(UTC_NOW, [SATURN])
    error = listener.wait(JournalError)
    assert error.fault == Fault.LOCKED
    assert "One entry is kept here" in error.kept
    other.execute("COMMIT")
    other.close()
    journal_thread.mark(UTC_NOW, FOUND)
    assert [entry.key for entry in listener.wait(Written, 2).state.queue] == [
        "body:saturn",
        "hip:91262",
    ]


def test_a_full_disk_keeps_what_was_typed_until_there_is_room(
    journal_thread: JournalThread, listener: Listener, home: Path
) -> None:
    journal_thread.open(UTC_NOW, UTC)
    listener.wait(tuple)
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (100, hard))
    try:
        journal_thread.mark(UTC_NOW, FOUND)
        journal_thread.queue(UTC_NOW, [SATURN])
        error = listener.wait(JournalError, 2)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert "2 entries are kept here" in error.kept
    assert listener.all(EveningState) == []
    journal_thread.retry()
    assert [entry.note for entry in listener.wait(Written, 2).state.queue] == ["blue-white", ""]
    _, state, _ = listener.wait(tuple, 2)
    assert state == on_disk(home)
    assert "settled" in listener.heard


def test_what_is_still_in_the_way_is_said_once(
    journal_thread: JournalThread, listener: Listener, home: Path, qtbot: QtBot
) -> None:
    home.write_text("a file")
    journal_thread.open(UTC_NOW, UTC)
    assert "is not a folder" in listener.wait(JournalError).wrong
    for _ in range(3):
        journal_thread.look()
    qtbot.wait(50)
    assert len(listener.all(JournalError)) == 1
    journal_thread.mark(UTC_NOW, FOUND)  # a new action is worth saying it again
    assert "One entry" in listener.wait(JournalError, 2).kept
    home.unlink()
    journal_thread.look()
    assert listener.wait(Written).state.queue
    assert on_disk(home).queue


def test_a_home_that_never_works_is_reported_at_the_end(
    journal_thread: JournalThread, home: Path, folders_of_the_person: Path, qtbot: QtBot
) -> None:
    home.write_text("a file")
    journal_thread.open(UTC_NOW, UTC)
    journal_thread.mark(UTC_NOW, FOUND)
    journal_thread.queue(UTC_NOW, [SATURN])
    left = journal_thread.close()
    assert left.words == ("found: Vega (blue-white)", "into the queue: Saturn")
    assert left.kept_in is not None
    assert left.kept_in.parent == folders_of_the_person
    assert str(left).startswith(
        "2 entries could not be written into the journal: found: Vega (blue-white); into the "
        f"queue: Saturn. They are kept in {left.kept_in}"
    )
    assert journal_thread.close() == left
    assert home.read_text() == "a file"
    home.unlink()
    again = JournalThread(home)
    heard = Listener(qtbot, again)
    again.open(UTC_NOW, UTC)
    _, state, _ = heard.wait(tuple)
    assert [entry.name for entry in state.queue] == ["Vega", "Saturn"]
    assert heard.all(str)[-1].startswith("2 entries that could not be written last time")
    assert again.close() == Left()
    assert list(folders_of_the_person.iterdir()) == []


def test_how_the_window_was_left_is_no_entry_that_waits(
    journal_thread: JournalThread,
    listener: Listener,
    home: Path,
    folders_of_the_person: Path,
    qtbot: QtBot,
) -> None:
    home.write_text("a file")
    journal_thread.open(UTC_NOW, UTC)
    journal_thread.set_setting(UTC_NOW, "screen", "sky")
    assert not listener.wait(JournalError).kept.startswith("One entry")
    for step in (3.0, 4.0):
        journal_thread.set_setting(UTC_NOW, "brightness_step", step)
    journal_thread.set_setting(UTC_NOW, "fist_deg", 9.0)
    journal_thread.set_setting(UTC_NOW, "fist_deg", 9.5)
    journal_thread.mark(UTC_NOW, FOUND)
    left = journal_thread.close()
    assert left.words == ("setting: fist deg", "found: Vega (blue-white)")
    assert left.kept_in is not None
    home.unlink()
    again = JournalThread(home)
    heard = Listener(qtbot, again)
    again.open(UTC_NOW, UTC)
    _, _state, settings = heard.wait(tuple)
    assert (settings.screen, settings.brightness_step, settings.fist_deg) == ("sky", 4.0, 9.5)
    again.close()
    assert list(folders_of_the_person.iterdir()) == []


def test_where_nothing_can_be_kept_the_thread_goes_on_until_it_is_given_up(
    journal_thread: JournalThread, listener: Listener, home: Path, folders_of_the_person: Path
) -> None:
    home.write_text("a file")
    folders_of_the_person.rmdir()
    journal_thread.open(UTC_NOW, UTC)
    journal_thread.mark(UTC_NOW, FOUND)
    left = journal_thread.close()
    assert left.lost
    assert "No folder took them" in str(left)
    journal_thread.queue(UTC_NOW, [SATURN])  # it still listens
    home.unlink()
    assert journal_thread.close() == Left()
    assert [entry.name for entry in on_disk(home).queue] == ["Vega", "Saturn"]


def test_given_up_means_given_up(
    journal_thread: JournalThread, home: Path, folders_of_the_person: Path
) -> None:
    home.write_text("a file")
    folders_of_the_person.rmdir()
    journal_thread.mark(UTC_NOW, FOUND)
    assert journal_thread.close(give_up=True).words == ("found: Vega (blue-white)",)


@pytest.mark.parametrize("blocked", [False, True])
def test_a_home_that_was_removed_costs_nothing_at_the_end(
    journal_thread: JournalThread,
    listener: Listener,
    home: Path,
    folders_of_the_person: Path,
    qtbot: QtBot,
    blocked: bool,
) -> None:
    journal_thread.open(UTC_NOW, UTC)
    journal_thread.mark(UTC_NOW, FOUND)
    listener.wait(Written)
    shutil.rmtree(home)
    if blocked:
        home.write_text("in the way")
    left = journal_thread.close()
    assert left.saved_as is not None
    assert not left.lost
    if blocked:
        assert left.saved_as.parent == folders_of_the_person
        home.unlink()
        again = JournalThread(home)
        heard = Listener(qtbot, again)
        again.open(UTC_NOW, UTC)
        heard.wait(tuple)
        again.rescue()
        _, state, _ = heard.wait(tuple, 2)
        assert [entry.name for entry in state.queue] == ["Vega"]
        again.close()
    assert [entry.name for entry in on_disk(home).queue] == ["Vega"]


def test_a_damaged_journal_is_set_aside_by_itself_and_brought_back_on_request(
    journal_thread: JournalThread, listener: Listener, home: Path
) -> None:
    home.mkdir()
    with closing(Journal(home / FILE_NAME)) as journal:
        journal.mark(NIGHT, UTC_NOW, FOUND)
        journal.set(UTC_NOW, "mount", "wooden")
    data = (home / FILE_NAME).read_bytes()
    (home / FILE_NAME).write_bytes(bytes(100) + data[100:])
    journal_thread.open(UTC_NOW, UTC)
    assert listener.wait(tuple) == ("opened", EveningState(NIGHT), Settings())
    assert "kept as journal-aside-1.sqlite, and a new one is begun" in listener.wait(str)
    assert listener.rescuable == (home / "journal-aside-1.sqlite",)
    journal_thread.queue(UTC_NOW, [SATURN])
    journal_thread.rescue()
    _, state, settings = listener.wait(tuple, 2)
    assert [entry.name for entry in state.queue] == ["Vega", "Saturn"]
    assert settings.mount == "wooden"
    assert "1 entries were brought back" in listener.all(str)[-1]
    assert not listener.rescuable


def test_a_journal_that_is_damaged_while_it_is_open_is_set_aside_as_well(
    journal_thread: JournalThread, listener: Listener, home: Path
) -> None:
    journal_thread.open(UTC_NOW, UTC)
    for number in range(40):
        note = f"{number}" * 300
        mark = Mark({"key": f"own:{number}", "name": "x"}, Outcome.FOUND, note)
        journal_thread.mark(UTC_NOW, mark)
    listener.wait(Written, 40)
    journal_thread.look()
    other = Journal(home / FILE_NAME)  # so that nothing of it stays in memory
    other.mark(NIGHT, UTC_NOW, FOUND)
    other.checkpoint()
    other.close()
    size = (home / FILE_NAME).stat().st_size
    with (home / FILE_NAME).open("rb+") as stream:
        stream.seek(4096)
        stream.write(bytes(size - 3 * 4096))
    journal_thread.mark(UTC_NOW, FOUND)
    listener.wait(Written, 41)
    assert "was damaged" in listener.wait(str)
    assert on_disk(home).entry("hip:91262") is not None
    assert listener.rescuable


@pytest.mark.parametrize("restored", [True, False])
def test_a_deleted_journal_comes_back(
    journal_thread: JournalThread, listener: Listener, home: Path, restored: bool
) -> None:
    journal_thread.open(UTC_NOW, UTC)
    journal_thread.queue(UTC_NOW, [SATURN])
    listener.wait(Written)
    moved = home.with_name("moved")
    (home / FILE_NAME).rename(moved)
    journal_thread.mark(UTC_NOW, FOUND)
    assert listener.wait(JournalError).fault == Fault.UNREACHABLE
    if restored:
        moved.rename(home / FILE_NAME)
    journal_thread.retry()
    listener.wait(tuple, 2)
    assert [entry.key for entry in on_disk(home).queue] == ["body:saturn", "hip:91262"]


def test_an_unusable_file_is_put_aside_on_request(
    journal_thread: JournalThread, listener: Listener, home: Path
) -> None:
    home.mkdir()
    (home / FILE_NAME).write_text("no database")
    journal_thread.open(UTC_NOW, UTC)
    journal_thread.mark(UTC_NOW, FOUND)
    error = listener.wait(JournalError)
    assert error.fault.can_set_aside
    journal_thread.begin_anew()
    listener.wait(tuple)
    listener.wait(Written)
    assert on_disk(home).queue
    assert (home / "journal-aside-1.sqlite").read_text() == "no database"


def test_an_evening_is_shown_where_nothing_may_be_written(qtbot: QtBot) -> None:
    # pytest's own folders only root may enter
    home = Path(tempfile.mkdtemp(prefix="companion-test-", dir="/tmp"))
    with closing(Journal(home / FILE_NAME)) as journal:
        journal.set(UTC_NOW, "mount", "wooden")
        journal.mark(NIGHT, UTC_NOW, FOUND)
    (home / FILE_NAME).chmod(0o444)
    home.chmod(0o555)
    journal_thread = JournalThread(home)
    listener = Listener(qtbot, journal_thread)
    rights = os.geteuid()
    os.seteuid(65534 if rights == 0 else rights)  # root may write anywhere; nobody may not
    try:
        journal_thread.open(UTC_NOW, UTC)
        assert listener.wait(JournalError).fault == Fault.READ_ONLY
        _, state, settings = listener.wait(tuple)
        assert settings.mount == "wooden"
        assert [entry.name for entry in state.queue] == ["Vega"]
        told: list[int] = []
        journal_thread.read(lambda journal: len(ticks(journal)), told.append)
        qtbot.waitUntil(lambda: told == [1], timeout=5000)
        journal_thread.look()
        assert journal_thread.close() == Left()
        assert len(listener.all(tuple)) == 1
    finally:
        os.seteuid(rights)
        home.chmod(0o755)
        shutil.rmtree(home)
