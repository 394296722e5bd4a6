"""All nights of the journal, read when somebody wants to look at them, and written to files."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from companion.advice import AdviceError
from companion.files import write_whole
from companion.journal import (
    Entry,
    Journal,
    Night,
    Outcome,
    Remark,
    Tick,
    csv_text,
    entries,
    json_lines,
    night_text,
    nights,
)
from companion.live.messages import Messages, Severity
from companion.live.threads.catalogue_thread import CatalogueThread, Library
from companion.live.threads.journal_thread import JournalThread


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


@dataclass(frozen=True, slots=True)
class JournalView:
    """All nights, the latest first, and all that holds of each, in the order of its moments."""

    nights: tuple[Night, ...]
    entries: tuple[Entry, ...]

    @property
    def ticks(self) -> tuple[Tick, ...]:
        """All outcomes that hold."""
        return tuple(entry for entry in self.entries if isinstance(entry, Tick))

    def of(self, night: str) -> tuple[Entry, ...]:
        """Give the outcomes of one night and what was noted between them."""
        return tuple(entry for entry in self.entries if entry.night == night)

    @property
    def notes(self) -> Mapping[tuple[str, str], str]:
        """Give what was noted beside outcomes, by key of the target and night."""
        noted: dict[tuple[str, str], str] = {}
        for entry in self.entries:
            if isinstance(entry, Remark) and entry.key:
                at = (entry.key, entry.night)
                noted[at] = f"{noted.get(at, '')} {entry.text}".strip()
        return noted

    @property
    def found_keys(self) -> frozenset[str]:
        """The keys of everything that was ever found."""
        return frozenset(tick.key for tick in self.ticks if tick.outcome is Outcome.FOUND)

    @property
    def seen(self) -> tuple[tuple[Tick, int], ...]:
        """Give everything that was ever found: the last time, and how often; the latest first."""
        counts: dict[str, int] = {}
        last: dict[str, Tick] = {}
        for tick in self.ticks:
            if tick.outcome is Outcome.FOUND:
                counts[tick.key] = counts.get(tick.key, 0) + 1
                last.pop(tick.key, None)
                last[tick.key] = tick
        return tuple((tick, counts[key]) for key, tick in reversed(last.items()))


class Nights(QObject):
    """Reads through the journal's thread; ``changed`` tells that ``view`` is new."""

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
        self._stale = True
        self.lists: FamousLists | None = None
        self.view: JournalView | None = None
        journal.state_changed.connect(self._follow)

    def refresh(self) -> None:
        """Read everything, unless nothing was written since the last time."""
        if self.lists is None:
            self._catalogues.ask("famous lists", FamousLists.of, self._take_lists)
        if self._stale:
            self._stale = False
            self._journal.read(_view, self._take)

    def write(self, kind: FileKind) -> None:
        """Write the whole journal into a file in the home folder."""
        path = self._home / f"journal.{kind}"
        self._journal.read(lambda journal: _write(journal, path, kind), self._written)

    def _follow(self, _state: object) -> None:
        self._stale = True
        self.changed.emit()

    def _take(self, view: JournalView | None) -> None:
        if view is None:
            self._stale = True  # the journal is in trouble, and says so itself
            return
        self.view = view
        self.changed.emit()

    def _take_lists(self, lists: FamousLists) -> None:
        self.lists = lists
        self.changed.emit()

    def _written(self, said: tuple[Severity, str] | None) -> None:
        if said is not None:
            self._messages.say(*said, "journal file")


def _view(journal: Journal) -> JournalView:
    return JournalView(nights(journal), entries(journal))


def _write(journal: Journal, path: Path, kind: FileKind) -> tuple[Severity, str]:
    try:
        write_whole(path, _WRITERS[kind](entries(journal)).encode(), [journal.path])
    except AdviceError as error:
        return Severity.WARNING, f"{error} The journal itself is safe."
    return Severity.NOTE, f"Written: {path}."
