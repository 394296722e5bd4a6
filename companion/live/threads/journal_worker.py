"""The part of the journal's thread that lives in it and touches the file."""

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, tzinfo
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from companion.journal import (
    FILE_NAME,
    Change,
    Fault,
    Journal,
    JournalError,
    Settings,
    prepared_home,
    put_aside,
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
    """Lives in the keeper's thread; what could not be written waits there in its order."""

    opened = Signal(object, object)
    written = Signal(object)
    state_changed = Signal(object)
    settings_changed = Signal(object)
    failed = Signal(object)
    settled = Signal()
    answered = Signal(int, object)  # the number of a Read, its answer or None

    def __init__(self, home: Path) -> None:
        super().__init__()
        self._home = home
        self._journal: Journal | None = None
        self._shown: Open | None = None
        self._settings: Settings | None = None
        self._waiting: deque[Open | Change] = deque()
        self._failing = False
        self._said = ""  # the failure that the person knows of
        self._in_log = False  # whether the log may hold what the file alone does not
        self._timer: QTimer | None = None
        self.unwritten = 0

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
        self._waiting.append(request)
        self._said = ""
        self._guard(self._work_off)

    @Slot(object)
    def read(self, request: Read) -> None:
        """Answer a question after all that waits is written; None if the journal is in trouble."""
        answer = None
        try:
            answer = request.act(self._file())
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
        self._guard(self._put_aside)

    @Slot()
    def look(self) -> None:
        """Write what waits, or notice what another program wrote."""
        self._guard(self._look)

    @Slot()
    def stop(self) -> None:
        """Try the rest once more and close the file, in the thread that both belong to."""
        if self._timer is not None:
            self._timer.stop()
            self._timer = None
        try:
            self._guard(self._work_off)
        finally:
            self.unwritten = self._unwritten()
            if self._journal is not None:
                self._journal.close()
                self._journal = None

    def _guard(self, act: Callable[[], None]) -> None:
        """Say what is in the way, once, and that nothing typed is lost."""
        try:
            act()
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

    def _work_off(self) -> None:
        """Take what waits in its order; stop at the first that the world refuses."""
        while self._waiting:
            request = self._waiting.popleft()
            try:
                self._do(request)
            except JournalError as error:
                if error.fault == Fault.REFUSED:
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
        if self._shown is not None and answer.state.night == self._shown.night:
            self.state_changed.emit(answer.state)
        self.written.emit(answer)

    def _show(self, wanted: Open) -> None:
        self._shown = wanted
        journal = self._file()
        state = journal.carry(wanted.night, wanted.utc, wanted.zone).state
        self._settings = journal.settings()
        self.opened.emit(state, self._settings)

    def _file(self) -> Journal:
        """Give the open journal, opened now if it is not."""
        if self._journal is None:
            try:
                self._journal = Journal(prepared_home(self._home) / FILE_NAME, _BUSY_S)
            except JournalError as error:
                if error.fault == Fault.READ_ONLY:
                    self._tell_settings(read_settings(self._home))
                raise
        return self._journal

    def _reopen(self) -> None:
        if self._journal is not None:
            prepared_home(self._home)
            self._journal.restore()
            self._journal = None
        self._catch_up()

    def _put_aside(self) -> None:
        if self._journal is not None:
            self._journal.close()
            self._journal = None
        put_aside(self._home / FILE_NAME)
        self._catch_up()

    def _catch_up(self) -> None:
        """Write what waits into the file just opened, then show all of it."""
        self._work_off()
        if self._shown is not None:
            self._show(self._shown)

    def _look(self) -> None:
        self._work_off()
        if self._journal is None or self._shown is None:
            return
        changed = self._journal.changed_elsewhere()
        if self._in_log or changed:
            self._journal.checkpoint()  # from here on a copy of the file alone is whole
            self._in_log = False
        if not changed:
            return
        self.state_changed.emit(self._journal.evening(self._shown.night))
        self._tell_settings(self._journal.settings())

    def _tell_settings(self, settings: Settings) -> None:
        if settings != self._settings:
            self._settings = settings
            self.settings_changed.emit(settings)

    def _unwritten(self) -> int:
        return sum(isinstance(request, Change) for request in self._waiting)

    def _with_waiting(self, error: JournalError) -> JournalError:
        """Add how much waits to be written."""
        number = self._unwritten()
        if not number:
            return error
        what = "One entry is" if number == 1 else f"{number} entries are"
        kept = f"{what} kept here and written as soon as that is possible."
        return JournalError(error.wrong, error.do, kept, error.fault)
