"""The journal of a home, whatever state it is in: opened, mended, kept beside, left."""

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from companion.advice import AdviceError
from companion.journal.beside import (
    folders_beside,
    keep_beside,
    kept_beside,
    read_back,
    saved_name,
)
from companion.journal.changes import Change
from companion.journal.database import copy_aside, put_aside
from companion.journal.errors import Fault, JournalError
from companion.journal.home import prepared_home, read_settings
from companion.journal.journal import FILE_NAME, Journal
from companion.journal.rescue import Rescued, rescuable, rescue, rescued_settings
from companion.journal.settings import Settings

_READABLE = frozenset({Fault.READ_ONLY, Fault.UNREACHABLE, Fault.FULL})


@dataclass(frozen=True, slots=True)
class Left:
    """What could not be brought into the journal at the end, and where it is kept.

    ``words`` tell of each thing that was done and not written; ``kept_in`` is the text file with
    all of them, None if no folder took it. ``saved_as`` is where the whole journal was put because
    its file had gone; ``unsaved`` tells that this could not be done.
    """

    words: tuple[str, ...] = ()
    kept_in: Path | None = None
    saved_as: Path | None = None
    unsaved: bool = False

    @property
    def lost(self) -> bool:
        """Whether leaving now would lose something."""
        return self.unsaved or (bool(self.words) and self.kept_in is None)

    def __str__(self) -> str:
        said = []
        if self.words:
            what = "One entry" if len(self.words) == 1 else f"{len(self.words)} entries"
            said += [f"{what} could not be written into the journal: {'; '.join(self.words)}."]
            kept = f"kept in {self.kept_in} and read at the next start"
            said += [f"They are {kept}." if self.kept_in else "No folder took them."]
        if self.saved_as is not None:
            said += [f"The journal's file had gone: it is now {self.saved_as}."]
        if self.unsaved:
            said += [
                "The journal's file has gone, and no folder took what this window holds of it."
            ]
        return " ".join(said)


class KeptJournal:
    """Opens the journal when it is needed, and looks after what cannot be written into it.

    Parameters
    ----------
    home : Path
        The folder of the journal; it is made if it is missing.
    busy_s : float
        How long to wait for another program that is writing.
    tell : callable
        Takes what the person should know, in words.
    """

    def __init__(self, home: Path, busy_s: float, tell: Callable[[str], None]) -> None:
        self._home, self._busy_s, self._tell = home, busy_s, tell
        self._path = home / FILE_NAME
        self._journal: Journal | None = None
        self._reader: Journal | None = None  # where it may only be read

    @property
    def open_now(self) -> Journal | None:
        """The journal, if it is open for writing."""
        return self._journal

    def file(self) -> Journal:
        """Give the open journal, opened now if it is not.

        A damaged file is set aside, and a new one begun; what had to be kept beside is read back.

        Raises
        ------
        JournalError
            If it cannot be written.
        """
        if self._journal is None:
            self._journal = self._opened()
            if self._reader is not None:
                self._reader.close()
                self._reader = None
            for path in kept_beside(self._home, folders_beside(self._home)):
                told = read_back(self._journal, path)
                if told is not None:
                    self._tell(str(told))
        return self._journal

    def readable(self) -> Journal:
        """Give the journal, or one that is only read where it cannot be written.

        Raises
        ------
        JournalError
            If it cannot even be read.
        """
        try:
            return self.file()
        except JournalError as error:
            if error.fault not in _READABLE or not self._path.exists():
                raise
        if self._reader is None:
            self._reader = Journal(self._path, self._busy_s, read_only=True)
        return self._reader

    @property
    def rescuable(self) -> tuple[Path, ...]:
        """Files that were set aside and still hold something."""
        return rescuable(self._home, folders_beside(self._home))

    def rescue(self) -> tuple[Rescued, ...]:
        """Bring back what files hold that were set aside; the journal is opened afresh then.

        Raises
        ------
        JournalError
            If a file cannot be read or the new one not be written.
        """
        self.close()
        prepared_home(self._home)
        return tuple(rescue(path, self._path) for path in self.rescuable)

    def reopen(self) -> None:
        """Close the file; if it was deleted while open, put it back in its place first."""
        if self._journal is not None:
            prepared_home(self._home)
            self._journal.restore()
            self._journal = None

    def begin_anew(self) -> None:
        """Give the unusable file another name, so that a new one is begun."""
        self.close()
        put_aside(self._path)

    def set_damaged_aside(self) -> None:
        """Take the open file out of use that turned out damaged, as it is before it is closed."""
        aside = copy_aside(self._path)
        self.close()
        put_aside(self._path).unlink(missing_ok=True)
        self._tell_of(aside)

    def close(self) -> None:
        """Close what is open."""
        for journal in (self._journal, self._reader):
            if journal is not None:
                journal.close()
        self._journal = self._reader = None

    def leave(self, changes: Sequence[Change]) -> Left:
        """Keep beside what could not be written, and the journal itself if its file has gone.

        It stays open; ``close`` is for afterwards.
        """
        kept_in = None
        words = tuple(change.words for change in changes if change.by_person)
        if words:
            with suppress(AdviceError):
                kept_in = keep_beside(changes, self._home, folders_beside(self._home))
        saved_as, unsaved = self._saved()
        return Left(words, kept_in, saved_as, unsaved)

    def _saved(self) -> tuple[Path | None, bool]:
        """Put the journal back where it was, or into another folder, if its file has gone."""
        journal = self._journal
        if journal is None:
            return None, False
        with suppress(JournalError):
            prepared_home(self._home)
            place = journal.restore()
            self._journal = None
            return place, False
        for folder in folders_beside(self._home):
            with suppress(JournalError):
                journal.save_as(folder / saved_name(self._home))
                return folder / saved_name(self._home), False
        return None, True

    def _opened(self) -> Journal:
        prepared_home(self._home)
        try:
            return Journal(self._path, self._busy_s)
        except JournalError as error:
            if error.fault is not Fault.DAMAGED:
                raise
        aside = put_aside(self._path)
        journal = Journal(self._path, self._busy_s)
        self._tell_of(aside)
        return journal

    def _tell_of(self, aside: Path) -> None:
        self._tell(
            f"The journal was damaged and could not be used: it is kept as {aside.name}, and a new "
            "one is begun."
        )


def settings_to_start_with(home: Path) -> tuple[Settings, str]:
    """Give what is remembered, whatever state the journal is in, and what is wrong with it.

    Of a damaged journal it is what can still be read.
    """
    try:
        return read_settings(home), ""
    except JournalError as error:
        said = str(error)
        if error.fault is not Fault.DAMAGED:
            return Settings(), said
    try:
        return rescued_settings(home / FILE_NAME), said
    except JournalError:
        return Settings(), said
