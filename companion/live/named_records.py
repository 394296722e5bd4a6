"""Records of one kind that a person keeps by name, with the one that is in use."""

from collections.abc import Sequence
from typing import Generic, Protocol, TypeVar

from companion.advice import AdviceError
from companion.journal import Plain, from_plain, to_plain
from companion.live.clock import EveningClock
from companion.live.threads.journal_thread import JournalThread

_MOST = 50


class Named(Protocol):
    """A record with a name."""

    @property
    def name(self) -> str:
        """What it is called."""
        ...


Record = TypeVar("Record", bound=Named)


class NamedRecords(Generic[Record]):
    """Reads and keeps records through the journal's settings, the last used first.

    Parameters
    ----------
    kind : type
        The record.
    journal : JournalThread
        Writes what is to be kept.
    setting : str
        The setting that names the one in use; its plural holds all of them.
    clock : EveningClock
        Gives the moment that an action is written with.
    """

    def __init__(
        self,
        kind: type[Record],
        journal: JournalThread,
        setting: str,
        clock: EveningClock,
    ) -> None:
        self._kind = kind
        self._journal = journal
        self._setting = setting
        self._clock = clock
        self.records = tuple[Record, ...]()

    def take(self, plain: Sequence[Plain]) -> None:
        """Take the records as they are on disk; one that nobody can read is passed over."""
        read = map(self._read, plain)
        self.records = tuple(record for record in read if record is not None)

    def named(self, name: str) -> Record | None:
        """Give the record of a name."""
        return next((record for record in self.records if record.name == name), None)

    def choose(self, record: Record | None) -> None:
        """Keep a record, new or changed, as the one in use; None for none of them."""
        if record is not None:
            others = (other for other in self.records if other.name != record.name)
            self.records = (record, *others)
            kept = [to_plain(one) for one in self.records][:_MOST]
            self._journal.set_setting(self._clock.written_utc, f"{self._setting}s", kept)
        name = "" if record is None else record.name
        self._journal.set_setting(self._clock.written_utc, self._setting, name)

    def _read(self, plain: Plain) -> Record | None:
        try:
            return from_plain(self._kind, plain)
        except AdviceError:
            return None
