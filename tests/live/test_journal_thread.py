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
    """Writes down what the keeper says, and on which thread it arrives."""

    def __init__(self, qtbot: QtBot, keeper: JournalThread) -> None:
        self.heard: list[object] = []
        self.threads: set[threading.Thread] = set()
        self._qtbot = qtbot
        keeper.opened.connect(lambda state, settings: self._hear(("opened", state, settings)))
        keeper.settled.connect(lambda: self._hear("settled"))
        for signal in (
            keeper.state_changed,
            keeper.settings_changed,
            keeper.written,
            keeper.failed,
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
def keeper(qapp: object, home: Path) -> Iterator[JournalThread]:
    keeper = JournalThread(home)
    yield keeper
    keeper.close()


@pytest.fixture
def listener(qtbot: QtBot, keeper: JournalThread) -> Listener:
    return Listener(qtbot, keeper)


def on_disk(home: Path) -> EveningState:
    journal = Journal(home / FILE_NAME)
    state = journal.evening(NIGHT)
    journal.close()
    return state


def test_a_first_start_makes_the_home_and_shows_an_empty_evening(
    keeper: JournalThread, listener: Listener, home: Path
) -> None:
    keeper.open(UTC_NOW, UTC)
    assert listener.wait(tuple) == ("opened", EveningState(NIGHT), Settings())
    assert (home / FILE_NAME).exists()


def test_every_deed_is_on_disk_when_it_is_told(
    keeper: JournalThread, listener: Listener, home: Path
) -> None:
    seen: list[bool] = []
    keeper.state_changed.connect(lambda state: seen.append(on_disk(home) == state))
    keeper.open(UTC_NOW, UTC)
    listener.wait(tuple)
    deeds: list[Callable[[], None]] = [
        lambda: keeper.queue(UTC_NOW, [SATURN, VEGA]),
        lambda: keeper.order(UTC_NOW, ["hip:91262", "body:saturn"]),
        lambda: keeper.mark(UTC_NOW, FOUND),
        lambda: keeper.note(UTC_NOW, "hip:91262", "white"),
        lambda: keeper.remove(UTC_NOW, "body:saturn"),
        lambda: keeper.sight(UTC_NOW, "wooden", {"azimuth_reading_deg": 1.0}),
        lambda: keeper.undo(UTC_NOW),
        lambda: keeper.redo(UTC_NOW),
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
    keeper.set_aside(UTC_NOW, [number])
    assert listener.wait(Written, 9).state.sightings[0].set_aside
    keeper.bring_back(UTC_NOW, [number])
    assert not listener.wait(Written, 10).state.sightings[0].set_aside
    assert listener.threads == {threading.main_thread()}


def test_undo_tells_what_it_touched(keeper: JournalThread, listener: Listener) -> None:
    keeper.open(UTC_NOW, UTC)
    keeper.mark(UTC_NOW, FOUND)
    keeper.undo(UTC_NOW)
    undone = listener.wait(Written, 2).event
    assert undone is not None
    assert undone.subject == "hip:91262"


def test_a_setting_is_told_once_it_is_kept(
    keeper: JournalThread, listener: Listener, home: Path
) -> None:
    keeper.open(UTC_NOW, UTC)
    keeper.set_setting(UTC_NOW, "mount", "wooden")
    assert listener.wait(Settings).mount == "wooden"
    keeper.close()
    journal = Journal(home / FILE_NAME)
    assert journal.settings().mount == "wooden"
    journal.close()


def test_what_cannot_be_kept_is_said_and_blocks_nothing(
    keeper: JournalThread, listener: Listener
) -> None:
    keeper.open(UTC_NOW, UTC)
    keeper.set_setting(UTC_NOW, "rate_hz", -1)
    keeper.mark(UTC_NOW, FOUND)
    assert listener.wait(EveningState).queue
    assert listener.wait(JournalError).fault == Fault.REFUSED
    assert keeper.close() == 0


def test_a_tick_from_a_shell_shows_up(
    keeper: JournalThread, listener: Listener, home: Path, qtbot: QtBot
) -> None:
    keeper.open(UTC_NOW, UTC)
    listener.wait(tuple)
    shell = Journal(home / FILE_NAME)
    shell.mark(NIGHT, UTC_NOW, FOUND)
    shell.set(UTC_NOW, "mount", "iron")
    shell.close()
    keeper.look()
    assert listener.wait(EveningState) == on_disk(home)
    assert listener.wait(Settings).mount == "iron"
    keeper.look()
    qtbot.wait(50)
    assert len(listener.all(EveningState)) == 1


def test_a_copy_of_the_file_alone_holds_the_evening_after_a_pause(
    keeper: JournalThread, listener: Listener, home: Path, tmp_path: Path, qtbot: QtBot
) -> None:
    keeper.open(UTC_NOW, UTC)
    for number in range(6):
        keeper.mark(UTC_NOW, Mark({"key": f"own:{number}", "name": "x"}, Outcome.FOUND))
    listener.wait(Written, 6)
    keeper.look()  # as it does by itself every two seconds
    log = home / f"{FILE_NAME}-wal"
    qtbot.waitUntil(lambda: log.stat().st_size == 0, timeout=5000)
    shutil.copyfile(home / FILE_NAME, tmp_path / FILE_NAME)
    assert len(on_disk(tmp_path).queue) == 6


def test_it_looks_by_itself(keeper: JournalThread, listener: Listener, home: Path) -> None:
    keeper.open(UTC_NOW, UTC)
    listener.wait(tuple)
    shell = Journal(home / FILE_NAME)
    shell.mark(NIGHT, UTC_NOW, FOUND)
    shell.close()
    assert listener.wait(EveningState).queue


def test_another_evening_can_be_shown(keeper: JournalThread, listener: Listener) -> None:
    keeper.open(UTC_NOW, UTC)
    keeper.mark(UTC_NOW, FOUND)
    keeper.open(UTC_NOW + timedelta(days=1), UTC)
    keeper.queue(UTC_NOW + timedelta(days=1), [SATURN])
    assert listener.wait(Written, 2).state.night == "2026-10-11"
    keeper.open(UTC_NOW, UTC)
    _, state, _ = listener.wait(tuple, 3)
    assert [entry.key for entry in state.queue] == ["hip:91262"]


def test_a_locked_journal_delays_and_loses_nothing(
    keeper: JournalThread, listener: Listener, home: Path
) -> None:
    keeper.open(UTC_NOW, UTC)
    listener.wait(tuple)
    other = sqlite3.connect(home / FILE_NAME, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    keeper.queue(UTC_NOW, [SATURN])
    error = listener.wait(JournalError)
    assert error.fault == Fault.LOCKED
    assert "One entry is kept here" in error.kept
    other.execute("COMMIT")
    other.close()
    keeper.mark(UTC_NOW, FOUND)
    assert [entry.key for entry in listener.wait(Written, 2).state.queue] == [
        "body:saturn",
        "hip:91262",
    ]


def test_a_full_disk_keeps_what_was_typed_until_there_is_room(
    keeper: JournalThread, listener: Listener, home: Path
) -> None:
    keeper.open(UTC_NOW, UTC)
    listener.wait(tuple)
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (100, hard))
    try:
        keeper.mark(UTC_NOW, FOUND)
        keeper.queue(UTC_NOW, [SATURN])
        error = listener.wait(JournalError, 2)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert "2 entries are kept here" in error.kept
    assert listener.all(EveningState) == []
    keeper.retry()
    assert [entry.note for entry in listener.wait(Written, 2).state.queue] == ["blue-white", ""]
    _, state, _ = listener.wait(tuple, 2)
    assert state == on_disk(home)
    assert "settled" in listener.heard


def test_what_is_still_in_the_way_is_said_once(
    keeper: JournalThread, listener: Listener, home: Path, qtbot: QtBot
) -> None:
    home.write_text("a file")
    keeper.open(UTC_NOW, UTC)
    assert "is not a folder" in listener.wait(JournalError).wrong
    for _ in range(3):
        keeper.look()
    qtbot.wait(50)
    assert len(listener.all(JournalError)) == 1
    keeper.mark(UTC_NOW, FOUND)  # a new deed is worth saying it again
    assert "One entry" in listener.wait(JournalError, 2).kept
    home.unlink()
    keeper.look()
    assert listener.wait(Written).state.queue
    assert on_disk(home).queue


def test_a_home_that_never_works_is_reported_at_the_end(
    keeper: JournalThread, listener: Listener, home: Path
) -> None:
    home.write_text("a file")
    keeper.open(UTC_NOW, UTC)
    keeper.mark(UTC_NOW, FOUND)
    keeper.queue(UTC_NOW, [SATURN])
    assert keeper.close() == 2
    assert keeper.close() == 2
    assert home.read_text() == "a file"


@pytest.mark.parametrize("restored", [True, False])
def test_a_deleted_journal_comes_back(
    keeper: JournalThread, listener: Listener, home: Path, restored: bool
) -> None:
    keeper.open(UTC_NOW, UTC)
    keeper.queue(UTC_NOW, [SATURN])
    listener.wait(Written)
    moved = home.with_name("moved")
    (home / FILE_NAME).rename(moved)
    keeper.mark(UTC_NOW, FOUND)
    assert listener.wait(JournalError).fault == Fault.UNREACHABLE
    if restored:
        moved.rename(home / FILE_NAME)
    keeper.retry()
    listener.wait(tuple, 2)
    assert [entry.key for entry in on_disk(home).queue] == ["body:saturn", "hip:91262"]


def test_an_unusable_file_is_put_aside_on_request(
    keeper: JournalThread, listener: Listener, home: Path
) -> None:
    home.mkdir()
    (home / FILE_NAME).write_text("no database")
    keeper.open(UTC_NOW, UTC)
    keeper.mark(UTC_NOW, FOUND)
    error = listener.wait(JournalError)
    assert error.fault.can_set_aside
    keeper.begin_anew()
    listener.wait(tuple)
    listener.wait(Written)
    assert on_disk(home).queue
    assert (home / "journal-aside-1.sqlite").read_text() == "no database"


def test_our_own_slip_reaches_the_handler_and_the_thread_lives_on(
    keeper: JournalThread, listener: Listener, qtbot: QtBot
) -> None:
    keeper.open(UTC_NOW, UTC)
    listener.wait(tuple)
    with qtbot.captureExceptions() as caught:
        keeper.queue(UTC_NOW, [{"name": "no key"}])
        qtbot.waitUntil(lambda: bool(caught), timeout=5000)
    assert caught[0][0] is TypeError
    keeper.mark(UTC_NOW, FOUND)
    assert listener.wait(Written).state.queue


def test_all_that_was_asked_is_written_before_the_end(
    keeper: JournalThread, listener: Listener, home: Path
) -> None:
    keeper.open(UTC_NOW, UTC)
    for number in range(50):
        keeper.queue(UTC_NOW, [{"key": f"own:{number}", "name": "x"}])
    assert keeper.close() == 0
    assert len(on_disk(home).queue) == 50


def test_settings_are_told_where_nothing_may_be_written(qtbot: QtBot) -> None:
    home = Path(tempfile.mkdtemp(prefix="companion-test-"))  # pytest's own only root may enter
    journal = Journal(home / FILE_NAME)
    journal.set(UTC_NOW, "mount", "wooden")
    journal.close()
    (home / FILE_NAME).chmod(0o444)
    home.chmod(0o555)
    keeper = JournalThread(home)
    listener = Listener(qtbot, keeper)
    rights = os.geteuid()
    os.seteuid(65534 if rights == 0 else rights)  # root may write anywhere; nobody may not
    try:
        keeper.open(UTC_NOW, UTC)
        assert listener.wait(JournalError).fault == Fault.READ_ONLY
        assert listener.wait(Settings).mount == "wooden"
        assert keeper.close() == 0
    finally:
        os.seteuid(rights)
        home.chmod(0o755)
        shutil.rmtree(home)
