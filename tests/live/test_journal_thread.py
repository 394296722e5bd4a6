import os
import resource
import shutil
import sqlite3
import tempfile
import threading
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TypeVar

import pytest
from pytestqt.qtbot import QtBot

from companion.journal import (
    FILE_NAME,
    EveningState,
    Fault,
    Journal,
    JournalError,
    Mark,
    Outcome,
    Settings,
    Written,
)
from companion.live import JournalThread

NIGHT = "2026-10-10"
UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
SATURN = {"key": "body:saturn", "name": "Saturn"}
VEGA = {"key": "hip:91262", "name": "Vega"}
FOUND = Mark(VEGA, Outcome.FOUND, note="blue-white")
Kind = TypeVar("Kind")


class Listener:
    """Writes down what the journal_thread says, and on which thread it arrives."""

    def __init__(self, qtbot: QtBot, journal_thread: JournalThread) -> None:
        self.heard: list[object] = []
        self.threads: set[threading.Thread] = set()
        self._qtbot = qtbot
        journal_thread.opened.connect(
            lambda state, settings: self._hear(("opened", state, settings))
        )
        journal_thread.settled.connect(lambda: self._hear("settled"))
        for signal in (
            journal_thread.state_changed,
            journal_thread.settings_changed,
            journal_thread.written,
            journal_thread.failed,
        ):
            signal.connect(self._hear)

    def _hear(self, told: object) -> None:
        self.threads.add(threading.current_thread())
        self.heard.append(told)

    def all(self, kind: type[Kind]) -> list[Kind]:
        return [told for told in self.heard if isinstance(told, kind)]

    def wait(self, kind: type[Kind], number: int = 1) -> Kind:
        """Wait until so many of a kind were heard; give the last."""
        self._qtbot.waitUntil(lambda: len(self.all(kind)) >= number, timeout=5000)
        return self.all(kind)[-1]


@pytest.fixture
def home(tmp_path: Path) -> Path:
    return tmp_path / "home"


@pytest.fixture
def journal_thread(qapp: object, home: Path) -> Iterator[JournalThread]:
    journal_thread = JournalThread(home)
    yield journal_thread
    journal_thread.close()


@pytest.fixture
def listener(qtbot: QtBot, journal_thread: JournalThread) -> Listener:
    return Listener(qtbot, journal_thread)


def on_disk(home: Path) -> EveningState:
    journal = Journal(home / FILE_NAME)
    state = journal.evening(NIGHT)
    journal.close()
    return state


def test_a_first_start_makes_the_home_and_shows_an_empty_evening(
    journal_thread: JournalThread, listener: Listener, home: Path
) -> None:
    journal_thread.open(UTC_NOW, UTC)
    assert listener.wait(tuple) == ("opened", EveningState(NIGHT), Settings())
    assert (home / FILE_NAME).exists()


def test_every_deed_is_on_disk_when_it_is_told(
    journal_thread: JournalThread, listener: Listener, home: Path
) -> None:
    seen: list[bool] = []
    journal_thread.state_changed.connect(lambda state: seen.append(on_disk(home) == state))
    journal_thread.open(UTC_NOW, UTC)
    listener.wait(tuple)
    deeds: list[Callable[[], None]] = [
        lambda: journal_thread.queue(UTC_NOW, [SATURN, VEGA]),
        lambda: journal_thread.order(UTC_NOW, ["hip:91262", "body:saturn"]),
        lambda: journal_thread.mark(UTC_NOW, FOUND),
        lambda: journal_thread.note(UTC_NOW, "hip:91262", "white"),
        lambda: journal_thread.remove(UTC_NOW, "body:saturn"),
        lambda: journal_thread.sight(UTC_NOW, "wooden", {"azimuth_reading_deg": 1.0}),
        lambda: journal_thread.undo(UTC_NOW),
        lambda: journal_thread.redo(UTC_NOW),
    ]
    for number, deed in enumerate(deeds, 1):
        deed()
        listener.wait(Written, number)
    assert seen == [True] * len(deeds)
    state = listener.all(EveningState)[-1]
    assert [(entry.key, entry.outcome, entry.note) for entry in state.queue] == [
        ("hip:91262", Outcome.FOUND, "white")
    ]
    number = state.sightings[0].number
    journal_thread.set_aside(UTC_NOW, [number])
    assert listener.wait(Written, 9).state.sightings[0].set_aside
    journal_thread.bring_back(UTC_NOW, [number])
    assert not listener.wait(Written, 10).state.sightings[0].set_aside
    assert listener.threads == {threading.main_thread()}


def test_undo_tells_what_it_touched(journal_thread: JournalThread, listener: Listener) -> None:
    journal_thread.open(UTC_NOW, UTC)
    journal_thread.mark(UTC_NOW, FOUND)
    journal_thread.undo(UTC_NOW)
    undone = listener.wait(Written, 2).event
    assert undone is not None
    assert undone.subject == "hip:91262"


def test_a_setting_is_told_once_it_is_kept(
    journal_thread: JournalThread, listener: Listener, home: Path
) -> None:
    journal_thread.open(UTC_NOW, UTC)
    journal_thread.set_setting(UTC_NOW, "mount", "wooden")
    assert listener.wait(Settings).mount == "wooden"
    journal_thread.close()
    journal = Journal(home / FILE_NAME)
    assert journal.settings().mount == "wooden"
    journal.close()


def test_what_cannot_be_kept_is_said_and_blocks_nothing(
    journal_thread: JournalThread, listener: Listener
) -> None:
    journal_thread.open(UTC_NOW, UTC)
    journal_thread.set_setting(UTC_NOW, "rate_hz", -1)
    journal_thread.mark(UTC_NOW, FOUND)
    assert listener.wait(EveningState).queue
    assert listener.wait(JournalError).fault == Fault.REFUSED
    assert journal_thread.close() == 0


def test_a_tick_from_a_shell_shows_up(
    journal_thread: JournalThread, listener: Listener, home: Path, qtbot: QtBot
) -> None:
    journal_thread.open(UTC_NOW, UTC)
    listener.wait(tuple)
    shell = Journal(home / FILE_NAME)
    shell.mark(NIGHT, UTC_NOW, FOUND)
    shell.set(UTC_NOW, "mount", "iron")
    shell.close()
    journal_thread.look()
    assert listener.wait(EveningState) == on_disk(home)
    assert listener.wait(Settings).mount == "iron"
    journal_thread.look()
    qtbot.wait(50)
    assert len(listener.all(EveningState)) == 1


def test_a_copy_of_the_file_alone_holds_the_evening_after_a_pause(
    journal_thread: JournalThread, listener: Listener, home: Path, tmp_path: Path, qtbot: QtBot
) -> None:
    journal_thread.open(UTC_NOW, UTC)
    for number in range(6):
        journal_thread.mark(UTC_NOW, Mark({"key": f"own:{number}", "name": "x"}, Outcome.FOUND))
    listener.wait(Written, 6)
    journal_thread.look()  # as it does by itself every two seconds
    log = home / f"{FILE_NAME}-wal"
    qtbot.waitUntil(lambda: log.stat().st_size == 0, timeout=5000)
    shutil.copyfile(home / FILE_NAME, tmp_path / FILE_NAME)
    assert len(on_disk(tmp_path).queue) == 6


def test_it_looks_by_itself(journal_thread: JournalThread, listener: Listener, home: Path) -> None:
    journal_thread.open(UTC_NOW, UTC)
    listener.wait(tuple)
    shell = Journal(home / FILE_NAME)
    shell.mark(NIGHT, UTC_NOW, FOUND)
    shell.close()
    assert listener.wait(EveningState).queue


def test_another_evening_can_be_shown(journal_thread: JournalThread, listener: Listener) -> None:
    journal_thread.open(UTC_NOW, UTC)
    journal_thread.mark(UTC_NOW, FOUND)
    journal_thread.open(UTC_NOW + timedelta(days=1), UTC)
    journal_thread.queue(UTC_NOW + timedelta(days=1), [SATURN])
    assert listener.wait(Written, 2).state.night == "2026-10-11"
    journal_thread.open(UTC_NOW, UTC)
    _, state, _ = listener.wait(tuple, 3)
    assert [entry.key for entry in state.queue] == ["hip:91262"]


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
    journal_thread: JournalThread, listener: Listener, home: Path
) -> None:
    home.write_text("a file")
    journal_thread.open(UTC_NOW, UTC)
    journal_thread.mark(UTC_NOW, FOUND)
    journal_thread.queue(UTC_NOW, [SATURN])
    assert journal_thread.close() == 2
    assert journal_thread.close() == 2
    assert home.read_text() == "a file"


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


def test_our_own_slip_reaches_the_handler_and_the_thread_lives_on(
    journal_thread: JournalThread, listener: Listener, qtbot: QtBot
) -> None:
    journal_thread.open(UTC_NOW, UTC)
    listener.wait(tuple)
    with qtbot.captureExceptions() as caught:
        journal_thread.queue(UTC_NOW, [{"name": "no key"}])
        qtbot.waitUntil(lambda: bool(caught), timeout=5000)
    assert caught[0][0] is TypeError
    journal_thread.mark(UTC_NOW, FOUND)
    assert listener.wait(Written).state.queue


def test_all_that_was_asked_is_written_before_the_end(
    journal_thread: JournalThread, listener: Listener, home: Path
) -> None:
    journal_thread.open(UTC_NOW, UTC)
    for number in range(50):
        journal_thread.queue(UTC_NOW, [{"key": f"own:{number}", "name": "x"}])
    assert journal_thread.close() == 0
    assert len(on_disk(home).queue) == 50


def test_settings_are_told_where_nothing_may_be_written(qtbot: QtBot) -> None:
    home = Path(tempfile.mkdtemp(prefix="companion-test-"))  # pytest's own only root may enter
    journal = Journal(home / FILE_NAME)
    journal.set(UTC_NOW, "mount", "wooden")
    journal.close()
    (home / FILE_NAME).chmod(0o444)
    home.chmod(0o555)
    journal_thread = JournalThread(home)
    listener = Listener(qtbot, journal_thread)
    rights = os.geteuid()
    os.seteuid(65534 if rights == 0 else rights)  # root may write anywhere; nobody may not
    try:
        journal_thread.open(UTC_NOW, UTC)
        assert listener.wait(JournalError).fault == Fault.READ_ONLY
        assert listener.wait(Settings).mount == "wooden"
        assert journal_thread.close() == 0
    finally:
        os.seteuid(rights)
        home.chmod(0o755)
        shutil.rmtree(home)
