"""The thread that owns the journal's file: every change is written in its turn."""

from collections.abc import Callable, Sequence
from datetime import UTC, datetime, tzinfo
from pathlib import Path
from typing import Any

from PySide6.QtCore import QObject, Qt, QThread, Signal, Slot

from companion.journal import (
    WHATEVER_STANDS,
    Change,
    Journal,
    Left,
    Mark,
    Plain,
    What,
    go_change,
    keep_change,
    key_change,
    learn_change,
    mark_change,
    night_of,
    note_change,
    queue_change,
    setting_change,
    sight_change,
    sightings_change,
)
from companion.live.threads.journal_worker import JournalWorker, Open, Read


class JournalThread(QObject):
    """The only owner of the journal in the window's process; every call returns at once.

    Signals tell what is on disk, never what is about to be. An action that fails waits, with those
    after it, and is tried again with the next action, every two seconds, by ``retry`` and at the
    end. One that can never succeed (``Fault.REFUSED``) is only reported.

    Parameters
    ----------
    home : Path
        The folder of the journal; it is made if it is missing.
    """

    opened = Signal(object, object)  # EveningState, Settings
    state_changed = Signal(object)  # EveningState, after the commit
    written = Signal(object)  # Written, after its state; undo and redo tell the action they touched
    settings_changed = Signal(object)  # Settings
    failed = Signal(object)  # JournalError
    settled = Signal()  # what had failed is done now
    waiting_changed = Signal(object)  # words of each change that waits to be written
    rescuable_changed = Signal(object)  # Paths of files set aside that hold something
    told = Signal(str)  # what else the person should know
    _ask = Signal(object)
    _read = Signal(object)
    _retry = Signal()
    _begin = Signal()
    _look = Signal()
    _rescue = Signal()
    _halt = Signal(bool)

    def __init__(self, home: Path, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._zone: tzinfo = UTC
        self._answers: dict[int, Callable[[Any], None]] = {}
        self._asked = 0
        self._thread = QThread()
        self._thread.setObjectName("journal")
        self._worker = worker = JournalWorker(home)
        worker.moveToThread(self._thread)
        self._thread.started.connect(worker.start)
        self._ask.connect(worker.ask)
        self._read.connect(worker.read)
        self._retry.connect(worker.retry)
        self._begin.connect(worker.begin_anew)
        self._rescue.connect(worker.rescue)
        self._look.connect(worker.look)
        self._halt.connect(worker.stop, Qt.ConnectionType.BlockingQueuedConnection)
        worker.opened.connect(self.opened)
        worker.state_changed.connect(self.state_changed)
        worker.written.connect(self.written)
        worker.settings_changed.connect(self.settings_changed)
        worker.failed.connect(self.failed)
        worker.settled.connect(self.settled)
        worker.waiting_changed.connect(self.waiting_changed)
        worker.rescuable_changed.connect(self.rescuable_changed)
        worker.told.connect(self.told)
        worker.answered.connect(self._hand_over)
        self._thread.start()

    def follow(self, zone: tzinfo) -> None:
        """Take a site's clocks: by them every change belongs to the night of its own moment."""
        self._zone = zone

    def open(self, utc: datetime, zone: tzinfo) -> None:
        """Show the evening of a moment by a site's clocks; ``opened`` answers.

        What was prepared for it in the forenoon is brought over.
        """
        self.follow(zone)
        self._ask.emit(Open(night_of(utc, zone), utc, zone))

    def write(self, change: Change) -> None:
        """Write a change, after all that still wait."""
        self._ask.emit(change)

    def queue(self, utc: datetime, targets: Sequence[Plain], place: int | None = None) -> None:
        """Add plain targets at a row of the queue, or at its end."""
        self.write(queue_change(self._night(utc), utc, targets, place))

    def remove(self, utc: datetime, key: str) -> None:
        """Take a target out of the queue."""
        self.write(key_change(What.REMOVE, self._night(utc), utc, key))

    def order(self, utc: datetime, keys: Sequence[str]) -> None:
        """Put the named targets first, in that order."""
        self.write(Change(What.ORDER, self._night(utc), utc, {"keys": list(keys)}))

    def mark(self, utc: datetime, mark: Mark, known: int | None = WHATEVER_STANDS) -> None:
        """Write what became of a target; an outcome other than the known one is not replaced."""
        self.write(mark_change(self._night(utc), utc, mark, known))

    def note(
        self, utc: datetime, text: str, target: Plain | None = None, site: Plain | None = None
    ) -> None:
        """Write what was noted at a moment: of a target, ticked or not, or of the night itself."""
        self.write(note_change(self._night(utc), utc, text, target, site))

    def learn(
        self, utc: datetime, aim: str, subject: str, *, found: bool, practice: bool = False
    ) -> None:
        """Write a try at a step of the road; ``practice`` was indoors."""
        self.write(
            learn_change(self._night(utc), utc, aim, subject, found=found, practice=practice)
        )

    def sight(self, utc: datetime, mount: str, sighting: Plain) -> None:
        """Add a sighting of a mount."""
        self.write(sight_change(self._night(utc), utc, mount, sighting))

    def set_aside(self, utc: datetime, numbers: Sequence[int]) -> None:
        """Leave sightings out of the fit."""
        self.write(sightings_change(self._night(utc), utc, numbers, aside=True))

    def bring_back(self, utc: datetime, numbers: Sequence[int]) -> None:
        """Use sightings again."""
        self.write(sightings_change(self._night(utc), utc, numbers, aside=False))

    def go(self, utc: datetime, site: Plain, before: Plain) -> None:
        """Write that a place was left for another, so that it can be taken back."""
        self.write(go_change(self._night(utc), utc, site, before))

    def keep(self, utc: datetime, numbers: Sequence[int]) -> None:
        """Let sightings count whatever is said of them."""
        self.write(keep_change(self._night(utc), utc, numbers))

    def undo(self, utc: datetime) -> None:
        """Cancel the last action of the evening."""
        self.write(Change(What.UNDO, self._night(utc), utc))

    def redo(self, utc: datetime) -> None:
        """Cancel the last undoing."""
        self.write(Change(What.REDO, self._night(utc), utc))

    def set_setting(self, utc: datetime, name: str, value: object) -> None:
        """Keep a setting by the name of its field in ``Settings``."""
        self.write(setting_change(utc, name, value))

    def read(self, act: Callable[[Journal], object], answer: Callable[[Any], None]) -> None:
        """Ask the journal something; ``answer`` gets None if it cannot be read."""
        self._asked += 1
        self._answers[self._asked] = answer
        self._read.emit(Read(self._asked, act))

    def look(self) -> None:
        """See at once whether another program wrote; it is done every two seconds anyway."""
        self._look.emit()

    def retry(self) -> None:
        """Open the file afresh and write what waits; ``opened`` answers, or ``failed``."""
        self._retry.emit()

    def begin_anew(self) -> None:
        """Give a file that is no usable journal another name and begin a new one.

        For errors whose ``fault.can_set_aside``; ``opened`` answers, or ``failed``.
        """
        self._begin.emit()

    def rescue(self) -> None:
        """Bring back what files hold that were set aside; ``opened`` answers, or ``failed``."""
        self._rescue.emit()

    def close(self, *, give_up: bool = False) -> Left:
        """Write what waits, keep beside what cannot be written, end the thread and wait for it.

        Parameters
        ----------
        give_up : bool, optional
            Whether to end it though something would be lost; otherwise it goes on then.

        Returns
        -------
        Left
            What could not be written, and where it is kept.
        """
        if self._thread.isRunning():
            self._halt.emit(give_up)
            if give_up or not self._worker.left.lost:
                self._thread.quit()
                self._thread.wait()
        return self._worker.left

    @Slot(int, object)
    def _hand_over(self, number: int, answer: object) -> None:
        self._answers.pop(number)(answer)

    def _night(self, utc: datetime) -> str:
        return night_of(utc, self._zone)
