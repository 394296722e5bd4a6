"""One database file that is open: where it is, what others did to it, and how it is kept."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from companion.advice import AdviceError
from companion.files import make_whole
from companion.journal.advice import advised
from companion.journal.database import aside_name, open_database, open_for_reading, play_log
from companion.journal.errors import Fault, JournalError

NOTHING_CHANGED = "Nothing was changed; what was kept before is safe."


class OpenFile:
    """The journal's file, used by the thread that opened it; other programs may use it too.

    Parameters
    ----------
    path : Path
        The file. It is made if it is missing.
    busy_s : float, optional
        How long to wait for another program that is writing.
    read_only : bool, optional
        Whether it is only to be read, from a file that is there: everything that writes raises.
    """

    def __init__(self, path: Path, busy_s: float = 5.0, *, read_only: bool = False) -> None:
        self.path = path
        self._connection = (open_for_reading if read_only else open_database)(path, busy_s)
        try:
            with advised(path):
                self._identity = self._file_identity()
                self._version = self._data_version()
        except BaseException:
            self._connection.close()
            raise

    def close(self) -> None:
        """Close the file; the journal is of no use afterwards."""
        self._connection.close()

    def restore(self) -> Path | None:
        """Close the file; if it was deleted while open, put it back in its place first.

        The system keeps a deleted file as long as it is open, so nothing is lost until then. Where
        another one has taken its place meanwhile, it gets a name of its own beside that.

        Returns
        -------
        Path or None
            Where it was put, None if it had not gone.
        """
        with advised(self.path, NOTHING_CHANGED):
            if self._is_there(self.path) or any(map(self._is_there, self._beside())):
                self.close()
                return None
            place = aside_name(self.path) if self.path.exists() else self.path
            self.save_as(place)
        self.close()  # last: until here this connection alone held everything
        return place

    def save_as(self, place: Path) -> None:
        """Write all of the journal as it is now into another file, replaced whole or not at all.

        Raises
        ------
        JournalError
            If the place cannot be written, or is the journal itself.
        """
        with advised(self.path, NOTHING_CHANGED):
            try:
                make_whole(place, self._copy_into, [self.path])
            except JournalError:
                raise
            except AdviceError as error:
                raise JournalError(error.wrong, error.do, error.kept, Fault.UNREACHABLE) from error

    def _copy_into(self, draft: Path) -> None:
        self._connection.execute("VACUUM INTO ?", (str(draft),))

    def _beside(self) -> list[Path]:
        return list(self.path.parent.glob(f"{self.path.stem}-aside-*"))

    def _is_there(self, path: Path) -> bool:
        try:
            status = path.stat()
        except OSError:
            return False
        return (status.st_dev, status.st_ino) == self._identity

    def changed_elsewhere(self) -> bool:
        """Tell whether another program wrote into the file since this was last asked."""
        with advised(self.path, NOTHING_CHANGED):
            self.check_file()
            before, self._version = self._version, self._data_version()
        return before != self._version

    def checkpoint(self) -> None:
        """Bring everything into the file itself, so that a copy of it alone is whole."""
        with advised(self.path, NOTHING_CHANGED):
            play_log(self._connection)

    @property
    def connection(self) -> sqlite3.Connection:
        """The open connection, for the reading modules of this package."""
        return self._connection

    @contextmanager
    def transaction(self) -> Iterator[None]:
        """Hold the only right to write from here to the commit; within another it is part of it."""
        if self._writes():
            yield
            return
        self._connection.execute("BEGIN IMMEDIATE")
        try:
            yield
            self._connection.execute("COMMIT")
        except BaseException:
            if self._writes():
                self._connection.execute("ROLLBACK")
            raise

    def _writes(self) -> bool:
        return self._connection.in_transaction

    def _data_version(self) -> int:
        version: int = self._connection.execute("PRAGMA data_version").fetchone()[0]
        return version

    def _file_identity(self) -> tuple[int, int]:
        status = self.path.stat()
        return status.st_dev, status.st_ino

    def check_file(self) -> None:
        """Notice that the file was deleted or replaced: SQLite would go on writing into nothing."""
        if not self._is_there(self.path):
            raise JournalError(
                f"The journal {self.path} was moved or deleted while it was in use.",
                "Put it back, or try again to begin a new one.",
                "What it held is no longer where it was.",
                Fault.UNREACHABLE,
            )
