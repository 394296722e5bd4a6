"""What the journal's thread says, written down."""

import threading
from datetime import UTC, datetime
from pathlib import Path
from typing import TypeVar

from pytestqt.qtbot import QtBot

from companion.journal import (
    FILE_NAME,
    EveningState,
    Journal,
    Mark,
    Outcome,
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


def on_disk(home: Path) -> EveningState:
    journal = Journal(home / FILE_NAME)
    state = journal.evening(NIGHT)
    journal.close()
    return state
