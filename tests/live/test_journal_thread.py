import os
import resource
import shutil
import sqlite3
import tempfile
import threading
from collections.abc import Callable, Iterator
from contextlib import closing
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
    Left,
    Mark,
    Outcome,
    Settings,
    Written,
    ticks,
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
            journal_thread.told,
        ):
            signal.connect(self._hear)
        self.rescuable: tuple[Path, ...] = ()
        journal_thread.rescuable_changed.connect(self._take_rescuable)

    def _take_rescuable(self, paths: tuple[Path, ...]) -> None:
        self.rescuable = paths

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
    journal_thread.close(give_up=True)


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


def test_every_action_is_on_disk_when_it_is_told(
    journal_thread: JournalThread, listener: Listener, home: Path
) -> None:
    seen: list[bool] = []
    journal_thread.state_changed.connect(lambda state: seen.append(on_disk(home) == state))
    journal_thread.open(UTC_NOW, UTC)
    listener.wait(tuple)
    actions: list[Callable[[], None]] = [
        lambda: journal_thread.queue(UTC_NOW, [SATURN, VEGA]),
        lambda: journal_thread.order(UTC_NOW, ["hip:91262", "body:saturn"]),
        lambda: journal_thread.mark(UTC_NOW, FOUND),
        lambda: journal_thread.note(UTC_NOW, "white", VEGA),
        lambda: journal_thread.remove(UTC_NOW, "body:saturn"),
        lambda: journal_thread.sight(UTC_NOW, "wooden", {"azimuth_reading_deg": 1.0}),
        lambda: journal_thread.undo(UTC_NOW),
        lambda: journal_thread.redo(UTC_NOW),
    ]
    for number, action in enumerate(actions, 1):
        action()
        listener.wait(Written, number)
    assert seen == [True] * len(actions)
    state = listener.all(EveningState)[-1]
    assert [(entry.key, entry.outcome, entry.note) for entry in state.queue] == [
        ("hip:91262", Outcome.FOUND, "blue-white\nwhite")
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
    assert journal_thread.close() == Left()


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


@pytest.mark.parametrize("outcome", [Outcome.NOT_SEEN, Outcome.FOUND])
def test_an_outcome_that_another_window_wrote_is_told_instead_of_replaced(
    journal_thread: JournalThread, listener: Listener, home: Path, outcome: Outcome
) -> None:
    journal_thread.open(UTC_NOW, UTC)
    listener.wait(tuple)
    with closing(Journal(home / FILE_NAME)) as other:
        other.mark(NIGHT, UTC_NOW, FOUND)
    journal_thread.mark(UTC_NOW, Mark(VEGA, outcome), None)  # as it stood before
    written = listener.wait(Written)
    assert written.contradicted == (outcome is Outcome.NOT_SEEN)
    assert written.before is not None
    assert written.before.outcome is Outcome.FOUND
    entry = on_disk(home).entry("hip:91262")
    assert entry is not None
    assert (entry.outcome, entry.note) == (Outcome.FOUND, "blue-white")
    # Whoever has seen that, and presses again, means it.
    journal_thread.mark(UTC_NOW, Mark(VEGA, Outcome.NOT_SEEN), written.before.marked)
    assert not listener.wait(Written, 2).contradicted


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
    assert journal_thread.close() == Left()
    assert len(on_disk(home).queue) == 50


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
