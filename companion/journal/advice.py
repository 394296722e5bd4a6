"""What the world did to the journal's file, in words that say what to do."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from companion.journal.errors import Fault, JournalError


@contextmanager
def advised(path: Path, kept: str = "It was left as it is.") -> Iterator[None]:
    """Turn what the world did to SQLite into advice; bugs of ours pass through.

    Raises
    ------
    JournalError
        For a damaged, locked, full, read-only or unreachable file.
    """
    try:
        yield
    except sqlite3.Error as error:
        advice = _advice(path, error, kept)
        if advice is None:
            raise
        raise advice from error
    except OSError as error:
        raise unreachable(path, error.strerror or str(error)) from error


def _advice(path: Path, error: sqlite3.Error, kept: str) -> JournalError | None:
    """Give the advice for an error of SQLite, or None if the program itself is at fault."""
    code = getattr(error, "sqlite_errorcode", sqlite3.SQLITE_ERROR) & 0xFF
    if code in {sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_CORRUPT}:
        return damaged(path)
    known = {
        sqlite3.SQLITE_BUSY: (
            f"Another program has kept the journal {path} locked.",
            "Close the other program and try again.",
            Fault.LOCKED,
        ),
        sqlite3.SQLITE_FULL: (
            f"There is no room left for the journal {path}.",
            "Free some space on that disk and try again, or start with another --home.",
            Fault.FULL,
        ),
        sqlite3.SQLITE_READONLY: (
            f"The journal {path} may only be read.",
            "Make it and its folder writable, or start with another --home.",
            Fault.READ_ONLY,
        ),
        sqlite3.SQLITE_CANTOPEN: (
            f"The journal {path} cannot be opened.",
            "Check that its folder is there and writable, or start with another --home.",
            Fault.UNREACHABLE,
        ),
        sqlite3.SQLITE_IOERR: (
            f"The disk failed while the journal {path} was used.",
            "Check the disk and its free space, or start with another --home.",
            Fault.UNREACHABLE,
        ),
    }
    known[sqlite3.SQLITE_LOCKED] = known[sqlite3.SQLITE_BUSY]
    known[sqlite3.SQLITE_PERM] = known[sqlite3.SQLITE_READONLY]
    if code not in known:
        return None
    wrong, do, fault = known[code]
    return JournalError(wrong, do, kept, fault)


def foreign(path: Path, what: str) -> JournalError:
    """Give the advice for a file that belongs to something else."""
    return JournalError(
        f"{path} {what}, no journal of this program.",
        "Move it away or give it another name, or start with another --home.",
        "It was left as it is.",
        Fault.FOREIGN,
    )


def damaged(path: Path) -> JournalError:
    """Give the advice for a file that was a journal once."""
    return JournalError(
        f"The journal {path} is damaged.",
        "companion journal rescue sets it aside and brings back what it still holds.",
        "It was left as it is.",
        Fault.DAMAGED,
    )


def unreachable(path: Path, why: str) -> JournalError:
    """Give the advice for a file that the system keeps from us."""
    return JournalError(
        f"The journal {path} cannot be used ({why}).",
        "Make it a readable file, or start with another --home.",
        "It was left as it is.",
        Fault.UNREACHABLE,
    )
