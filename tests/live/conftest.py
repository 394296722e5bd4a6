"""What the tests of the live package share."""

import os
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest
from pytestqt.qtbot import QtBot

from companion.journal import FILE_NAME, Settings, read_settings
from companion.live import Evening, JournalThread
from companion.sky import LOON_BARRENS, Site
from live.listening import Listener

# Loaded in a thread of ours, the helpers of numpy would bear its name and outlive it.
assert np.__version__
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
_OURS = {"ephemeris", "catalogues", "journal", "planner", "charts", "coming", "road"}
Open = Callable[..., Evening]
_DEMO_UTC = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
_TASKS = Path("/proc/self/task")  # Linux; elsewhere nothing is checked


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    # The offscreen platform says of every window what it can't do; no other message is let pass.
    for item in items:
        item.add_marker(pytest.mark.qt_log_ignore("This plugin does not support"))


@pytest.fixture(autouse=True)
def folders_of_the_person(
    tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> Path:
    """Let nothing that is kept beside a journal end up among the files of who runs the tests."""
    folder = tmp_path_factory.mktemp("person")
    monkeypatch.setenv("HOME", str(folder))
    monkeypatch.setattr(tempfile, "tempdir", str(folder))
    return folder


def _threads() -> set[str]:
    """Give the numbers of our own running threads; those of libraries come and go as they like."""
    found = set()
    for task in _TASKS.glob("*"):
        try:
            if (task / "comm").read_text().strip() in _OURS:
                found.add(task.name)
        except OSError:
            continue  # ended meanwhile
    return found


@pytest.fixture(autouse=True)
def _no_thread_is_left(qapp: object) -> Iterator[None]:
    """Fail if a thread outlives its owner: it would write into a closed world."""
    before = _threads()
    yield
    deadline = time.monotonic() + 2.0
    while (left := _threads() - before) and time.monotonic() < deadline:
        time.sleep(0.01)
    assert not left


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


@pytest.fixture
def open_evening(tmp_path: Path, qtbot: QtBot) -> Iterator[Open]:
    opened: list[Evening] = []

    def make(*, site: Site | None = LOON_BARRENS, demo: bool = True) -> Evening:
        settings = read_settings(tmp_path) if (tmp_path / FILE_NAME).exists() else Settings()
        evening = Evening(tmp_path, settings, site=site, demo_utc=_DEMO_UTC if demo else None)
        opened.append(evening)
        with qtbot.waitSignal(evening._journal.opened, timeout=5_000):
            evening.start()
        return evening

    yield make
    for evening in opened:
        evening.close(give_up=True)
