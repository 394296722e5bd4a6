"""All nights of the journal, read when somebody wants to look at them, and written to files."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from companion.advice import AdviceError
from companion.files import write_whole
from companion.journal import (
    Entry,
    Held,
    Journal,
    Lifetime,
    LifetimeReader,
    csv_text,
    entries,
    entries_of,
    json_lines,
    night_text,
)
from companion.live.messages import Messages, Severity
from companion.live.threads.catalogue_thread import CatalogueThread, Library
from companion.live.threads.journal_thread import JournalThread

_PART = 2000  # entries that are read at one go
_KEPT = 1000  # entries of which all is known


class FileKind(StrEnum):
    """What the journal can be written as; the value is the end of the file's name."""

    TABLE = "csv"
    LINES = "jsonl"
    PAGE = "txt"


@dataclass(frozen=True, slots=True)
class FamousLists:
    """Keys of the lists that people go through in a lifetime."""

    messier: frozenset[str]
    caldwell: frozenset[str]

    @classmethod
    def of(cls, library: Library) -> "FamousLists":
        """Look them up; to be asked in the thread that owns the catalogue."""
        sky = library.catalogue.deep_sky
        return cls(
            frozenset(sky.target(row).key for row in sky.messier_rows.values()),
            frozenset(sky.target(row).key for row in sky.caldwell_rows.values()),
        )


_WRITERS: dict[FileKind, Callable[[tuple[Entry, ...]], str]] = {
    FileKind.TABLE: csv_text,
    FileKind.LINES: json_lines,
    FileKind.PAGE: night_text,
}


class Nights(QObject):
    """Reads through the journal's thread; ``changed`` tells that something more is known.

    What holds is read a part at a time, so that nothing that is to be written has to wait for it.
    """

    changed = Signal()

    def __init__(
        self,
        journal: JournalThread,
        catalogues: CatalogueThread,
        messages: Messages,
        home: Path,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._journal, self._catalogues = journal, catalogues
        self._messages, self._home = messages, home
        self._reader = LifetimeReader()  # of the journal's thread
        self._stale, self._reading = True, False
        self._entries: dict[Held, Entry | None] = {}
        self._asked: set[Held] = set()
        self.lists: FamousLists | None = None
        self.view: Lifetime | None = None
        journal.state_changed.connect(self._follow)

    def refresh(self) -> None:
        """Read what was written since the last time."""
        if self.lists is None:
            self._catalogues.ask("famous lists", FamousLists.of, self._take_lists)
        if self._stale and not self._reading:
            self._stale, self._reading = False, True
            self._read_on()

    def load(self, held: Sequence[Held]) -> None:
        """Read all about the entries that are in sight; ``entry`` gives them then."""
        wanted = [one for one in held if one not in self._entries and one not in self._asked]
        if wanted:
            self._asked.update(wanted)
            self._journal.read(
                lambda journal: entries_of(journal, wanted),
                lambda found: self._take_entries(wanted, found),
            )

    def entry(self, held: Held) -> Entry | None:
        """Give all about an entry; None if that was not read yet, or cannot be."""
        return self._entries.get(held)

    def knows(self, held: Held) -> bool:
        """Tell whether it was tried to read this entry."""
        return held in self._entries

    def write(self, kind: FileKind) -> None:
        """Write the whole journal into a file in the home folder."""
        path = self._home / f"journal.{kind}"
        self._journal.read(lambda journal: _write(journal, path, kind), self._written)

    def _follow(self, _state: object) -> None:
        self._stale = True
        self.changed.emit()

    def _read_on(self) -> None:
        first = self.view is None

        def part(journal: Journal) -> Lifetime | None:
            whole = self._reader.read_on(journal, _PART)
            return self._reader.so_far() if whole or first else None

        self._journal.read(lambda journal: (part(journal),), self._take)

    def _take(self, answer: tuple[Lifetime | None] | None) -> None:
        if answer is None:
            self._stale, self._reading = True, False  # in trouble, and says so itself
            return
        (view,) = answer
        self._reading = view is None or not view.whole
        if view is not None:
            self.view = view
            self.changed.emit()
        if self._reading:
            self._read_on()

    def _take_entries(self, wanted: Sequence[Held], found: dict[Held, Entry | None] | None) -> None:
        self._asked.difference_update(wanted)
        if found is None:
            return
        self._entries |= found
        for old in list(self._entries)[: -_KEPT if len(self._entries) > _KEPT else 0]:
            del self._entries[old]
        self.changed.emit()

    def _take_lists(self, lists: FamousLists) -> None:
        self.lists = lists
        self.changed.emit()

    def _written(self, said: tuple[Severity, str] | None) -> None:
        if said is not None:
            self._messages.say(*said, "journal file")


def _write(journal: Journal, path: Path, kind: FileKind) -> tuple[Severity, str]:
    try:
        write_whole(path, _WRITERS[kind](entries(journal)).encode(), [journal.path])
    except AdviceError as error:
        return Severity.WARNING, f"{error} The journal itself is safe."
    return Severity.NOTE, f"Written: {path}."
