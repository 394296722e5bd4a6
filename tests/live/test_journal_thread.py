import shutil
import threading
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, timedelta
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
)
from companion.live import JournalThread
from live.listening import FOUND, NIGHT, SATURN, UTC_NOW, VEGA, Listener, on_disk


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
