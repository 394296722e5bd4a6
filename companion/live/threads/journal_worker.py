"""The part of the journal's thread that lives in it and touches the file."""

from collections import deque
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, tzinfo
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from companion.journal import (
    Change,
    Fault,
    Journal,
    JournalError,
    KeptJournal,
    Left,
    Settings,
    read_settings,
)

_LOOK_MS = 2000
_BUSY_S = 2.0


@dataclass(frozen=True, slots=True)
class Open:
    """An evening that is to be shown, with the moment and the clocks that it is the evening of."""

    night: str
    utc: datetime
    zone: tzinfo


@dataclass(frozen=True, slots=True)
class Read:
    """A question to the journal; ``number`` tells whose it is."""

    number: int
    act: Callable[[Journal], object]


class JournalWorker(QObject):
    """Lives in the journal's thread; what could not be written waits there in its order."""

    opened = Signal(object, object)
    written = Signal(object)
    state_changed = Signal(object)
    settings_changed = Signal(object)
    failed = Signal(object)
    settled = Signal()
    answered = Signal(int, object)  # the number of a Read, its answer or None
    waiting_changed = Signal(object)  # words of each change that waits to be written
    rescuable_changed = Signal(object)  # Paths of files set aside that hold something
    told = Signal(str)

    def __init__(self, home: Path) -> None:
        super().__init__()
        self._home = home
        self._kept = KeptJournal(home, _BUSY_S, self.told.emit)
        self._shown: Open | None = None
        self._settings: Settings | None = None
        self._waiting: deque[Open | Change] = deque()
        self._words: tuple[str, ...] = ()  # of what waits, as told last
        self._failing = False
        self._said = ""  # the failure that the person knows of
        self._in_log = False  # whether the log may hold what the file alone does not
        self._timer: QTimer | None = None
        self.left = Left()

    @Slot()
    def start(self) -> None:
        """Begin to look every two seconds."""
        self._timer = QTimer(self)
        self._timer.setInterval(_LOOK_MS)
        self._timer.timeout.connect(self.look)
        self._timer.start()

    @Slot(object)
    def ask(self, request: Open | Change) -> None:
        """Do what is asked, after all that still waits."""
        self._put_in_line(request)
        self._said = ""
        self._guard(self._work_off)

    @Slot(object)
    def read(self, request: Read) -> None:
        """Answer a question after all that waits is written; None if the journal is in trouble."""
        answer = None
        try:
            answer = request.act(self._kept.readable())
        except JournalError as error:
            self.failed.emit(self._with_waiting(error))
        self.answered.emit(request.number, answer)

    @Slot()
    def retry(self) -> None:
        """Open the file afresh and write what waits."""
        self._said = ""
        self._guard(self._reopen)

    @Slot()
    def begin_anew(self) -> None:
        """Give the unusable file another name and begin a new one."""
        self._said = ""
        self._guard(self._begin_anew)

    @Slot()
    def rescue(self) -> None:
        """Bring back what the files hold that were set aside."""
        self._said = ""
        self._guard(self._rescue)

    @Slot()
    def look(self) -> None:
        """Write what waits, or notice what another program wrote."""
        self._guard(self._look)

    @Slot(bool)
    def stop(self, give_up: bool) -> None:
        """Try the rest once more, keep beside what fails, and close the file.

        Nothing is closed if something would be lost, unless the person gives it up.
        """
        self._guard(self._work_off)
        changes = self._changes()
        self.left = self._kept.leave(changes)
        if self.left.kept_in is not None:
            self._waiting.clear()
        if self.left.lost and not give_up:
            return
        if self._timer is not None:
            self._timer.stop()
            self._timer = None
        self._kept.close()

    # What is done with the file.

    def _guard(self, act: Callable[[], None]) -> None:
        """Say what is in the way, once, and that nothing typed is lost."""
        try:
            self._with_new_file_for_damaged(act)
        except JournalError as error:
            self._failing = True
            if str(error) != self._said:
                self._said = str(error)
                self.failed.emit(self._with_waiting(error))
        else:
            self._said = ""
            if self._failing:
                self._failing = False
                self.settled.emit()
        self._tell_waiting()

    def _with_new_file_for_damaged(self, act: Callable[[], None]) -> None:
        """Do something; if the file turns out damaged meanwhile, do the rest with a new one."""
        try:
            act()
        except JournalError as error:
            if error.fault is not Fault.DAMAGED or self._kept.open_now is None:
                raise
            self._kept.set_damaged_aside()
            self._catch_up()

    def _put_in_line(self, request: Open | Change) -> None:
        """Let it wait behind all others; an older value of the same setting need not be written."""
        if isinstance(request, Change) and request.setting:
            older = [one for one in self._changes() if one.setting == request.setting]
            for one in older:
                self._waiting.remove(one)
        self._waiting.append(request)

    def _work_off(self) -> None:
        """Take what waits in its order; stop at the first that the world refuses."""
        while self._waiting:
            request = self._waiting.popleft()
            try:
                self._do(request)
            except JournalError as error:
                if error.fault is Fault.REFUSED:
                    # The value itself is wrong: it would never succeed and must not block others.
                    self.failed.emit(error)
                    continue
                self._waiting.appendleft(request)
                raise

    def _do(self, request: Open | Change) -> None:
        if isinstance(request, Open):
            self._show(request)
            return
        answer = self._file().do(request)
        self._in_log = True
        if isinstance(answer, Settings):
            self._tell_settings(answer)
            return
        if answer.contradicted:
            self.written.emit(answer)  # first: it changes what the state means
        if self._shown is not None and answer.state.night == self._shown.night:
            self.state_changed.emit(answer.state)
        if not answer.contradicted:
            self.written.emit(answer)

    def _show(self, wanted: Open) -> None:
        again, self._shown = wanted == self._shown, wanted
        try:
            journal = self._file()
        except JournalError:
            if not again:
                self._show_what_can_be_read(wanted)
            raise
        state = journal.carry(wanted.night, wanted.utc, wanted.zone).state
        self._settings = journal.settings()
        self.opened.emit(state, self._settings)

    def _show_what_can_be_read(self, wanted: Open) -> None:
        """Show an evening that cannot be written; what keeps it from that is said elsewhere."""
        try:
            journal = self._kept.readable()
            state, self._settings = journal.evening(wanted.night), journal.settings()
        except JournalError:
            with suppress(JournalError):
                self._tell_settings(read_settings(self._home))
        else:
            self.opened.emit(state, self._settings)

    def _file(self) -> Journal:
        """Give the open journal, opened now if it is not."""
        if self._kept.open_now is not None:
            return self._kept.open_now
        journal = self._kept.file()
        self._in_log = True
        self.rescuable_changed.emit(self._kept.rescuable)
        return journal

    def _reopen(self) -> None:
        self._kept.reopen()
        self._catch_up()

    def _begin_anew(self) -> None:
        self._kept.begin_anew()
        self._catch_up()

    def _rescue(self) -> None:
        self._work_off()
        for rescued in self._kept.rescue():
            self.told.emit(str(rescued))
        self._catch_up()

    def _catch_up(self) -> None:
        """Write what waits into the file just opened, then show all of it."""
        self._work_off()
        if self._shown is not None:
            self._show(self._shown)

    def _look(self) -> None:
        self._work_off()
        journal = self._kept.open_now
        if journal is None or self._shown is None:
            return
        changed = journal.changed_elsewhere()
        if self._in_log or changed:
            journal.checkpoint()  # from here on a copy of the file alone is whole
            self._in_log = False
        if not changed:
            return
        self.state_changed.emit(journal.evening(self._shown.night))
        self._tell_settings(journal.settings())

    # What is told.

    def _tell_settings(self, settings: Settings) -> None:
        if settings != self._settings:
            self._settings = settings
            self.settings_changed.emit(settings)

    def _changes(self) -> list[Change]:
        return [request for request in self._waiting if isinstance(request, Change)]

    def _entries(self) -> list[Change]:
        return [one for one in self._changes() if one.by_person]

    def _tell_waiting(self) -> None:
        words = tuple(change.words for change in self._entries())
        if words != self._words:
            self._words = words
            self.waiting_changed.emit(words)

    def _with_waiting(self, error: JournalError) -> JournalError:
        """Add how much waits to be written."""
        number = len(self._entries())
        if not number:
            return error
        what = "One entry is" if number == 1 else f"{number} entries are"
        kept = f"{what} kept here and written as soon as that is possible."
        return JournalError(error.wrong, error.do, kept, error.fault)
