"""How the journal is doing: what keeps it from being written, what waits, what can be rescued."""

from pathlib import Path

from PySide6.QtCore import QObject, Signal

from companion.journal import EveningState, Fault, Flaw, JournalError, Left, Settings
from companion.live.messages import Messages, Severity
from companion.live.threads.journal_thread import JournalThread

_TROUBLE, _RESCUE, _FLAWS, _LEAVING = "journal", "rescue", "flaws", "leaving"  # keys of messages
_MOST_WORDS = 4


class JournalUpkeep(QObject):
    """Says what happens to the journal, and what a person can do about it.

    ``changed`` tells that there is something else to do.
    """

    changed = Signal()

    def __init__(
        self, journal: JournalThread, messages: Messages, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._journal, self._messages = journal, messages
        self._flaws: tuple[Flaw, ...] = ()
        self.fault: Fault | None = None  # what keeps the journal from being written
        self.unwritten: tuple[str, ...] = ()  # words of what waits for that
        self.rescuable: tuple[Path, ...] = ()
        journal.failed.connect(self._take_failure)
        journal.settled.connect(lambda: self._take_fault(None))
        journal.opened.connect(lambda _state, _settings: self._take_fault(None))
        journal.waiting_changed.connect(self._take_waiting)
        journal.rescuable_changed.connect(self._take_rescuable)
        journal.told.connect(lambda text: messages.say(Severity.WARNING, text))

    # What a person does about it.

    def retry(self) -> None:
        """Try again to open the journal and to write what waits."""
        self._journal.retry()

    def begin_anew(self) -> None:
        """Give an unusable journal another name and begin a new one."""
        self._journal.begin_anew()

    def rescue(self) -> None:
        """Bring back what files hold that were set aside."""
        self._messages.clear(_RESCUE)
        self._journal.rescue()

    def warn_of_leaving(self) -> None:
        """Say what is not written yet, before a person leaves."""
        if self.unwritten:
            self._messages.say(
                Severity.WARNING,
                f"{_entries(self.unwritten)} not in the journal yet: {_listed(self.unwritten)}. "
                "Leaving keeps that in a text file, which the next start reads.",
                _LEAVING,
            )

    def close(self, *, give_up: bool = False) -> Left:
        """Leave the journal; where something would be lost it stays open, unless given up."""
        left = self._journal.close(give_up=give_up)
        if left.lost and not give_up:
            self._messages.say(
                Severity.ERROR, f"{left} Leave twice again to leave all the same.", _LEAVING
            )
        return left

    # What comes in.

    def take_settings(self, settings: Settings) -> None:
        """Say which settings could not be read."""
        for name in settings.unusable:
            self._messages.say(
                Severity.WARNING,
                f"The setting {name} could not be read: its default is used.",
                f"setting {name}",
            )
        for name in settings.mended:
            self._messages.say(
                Severity.WARNING,
                f"The setting {name} holds bytes that are not text; they were replaced.",
                f"setting {name}",
            )

    def take_state(self, state: EveningState) -> None:
        """Say which entries of the evening could not be read."""
        if state.flaws == self._flaws:
            return
        self._flaws = state.flaws
        if not state.flaws:
            self._messages.clear(_FLAWS)
            return
        more = f" And {len(state.flaws) - 1} more." if len(state.flaws) > 1 else ""
        self._messages.say(
            Severity.WARNING,
            f"{state.flaws[0]}{more} companion journal check lists what could not be read.",
            _FLAWS,
        )

    def _take_failure(self, error: JournalError) -> None:
        self._messages.say(Severity.ERROR, str(error), _TROUBLE)
        self._take_fault(error.fault)

    def _take_fault(self, fault: Fault | None) -> None:
        if fault is None:
            self._messages.clear(_TROUBLE)
        if fault != self.fault:
            self.fault = fault
            self.changed.emit()

    def _take_waiting(self, words: tuple[str, ...]) -> None:
        self.unwritten = words
        if not words:
            self._messages.clear(_LEAVING)
        self.changed.emit()

    def _take_rescuable(self, paths: tuple[Path, ...]) -> None:
        self.rescuable = paths
        if paths:
            names = " and ".join(path.name for path in paths)
            self._messages.say(
                Severity.WARNING,
                f"{names} holds entries that are not in the journal: shift y brings them back.",
                _RESCUE,
            )
        else:
            self._messages.clear(_RESCUE)
        self.changed.emit()


def _entries(words: tuple[str, ...]) -> str:
    return "One entry is" if len(words) == 1 else f"{len(words)} entries are"


def _listed(words: tuple[str, ...]) -> str:
    more = f" and {len(words) - _MOST_WORDS} more" if len(words) > _MOST_WORDS else ""
    return "; ".join(words[:_MOST_WORDS]) + more
