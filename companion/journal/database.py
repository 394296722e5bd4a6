"""The journal's SQLite file: recognised before it is touched, made if missing, opened durably."""

import os
import shutil
import sqlite3
import stat
import tempfile
from contextlib import closing, suppress
from pathlib import Path

from companion.journal.advice import advised, damaged, foreign, unreachable
from companion.journal.errors import Fault, JournalError
from companion.journal.found_rows import holds_rows
from companion.journal.log import log_is_damaged, log_of
from companion.journal.reading import text_of
from companion.journal.schema import (
    APPLICATION_ID,
    SCHEMA_VERSION,
    add_helpers,
    make_tables,
    missing_helpers,
)

_MAGIC = b"SQLite format 3\0"
_HEADER_BYTES = 100  # https://www.sqlite.org/fileformat2.html, section 1.3
_USER_VERSION_AT = 60
_APPLICATION_ID_AT = 68
_OWNERS_ALONE = 0o600
_LOG_PAGES = 64  # the log is played into the file when it has grown to this
_PARTS = ("-wal", "-shm", "-journal", "")


def open_database(path: Path, busy_s: float) -> sqlite3.Connection:
    """Open the journal's file, or make it.

    Parameters
    ----------
    path : Path
        The file; its folder exists.
    busy_s : float
        How long to wait for another program that writes into it.

    Returns
    -------
    sqlite3.Connection
        With write-ahead log, ``synchronous = FULL`` and foreign keys; transactions by hand. Only
        the thread that opened it may use it.

    Raises
    ------
    JournalError
        If the file is something else, damaged, newer, locked, or cannot be written. It is then
        left exactly as it was.
    """
    with advised(path):
        recognise(path)
        _check_unchanged(path, busy_s)
        _keep_private(path)
        connection = sqlite3.connect(path, timeout=busy_s, isolation_level=None)
        try:
            connection.text_factory = text_of
            _prepare(connection, path)
        except BaseException:
            connection.close()
            raise
    return connection


def open_for_reading(path: Path, busy_s: float) -> sqlite3.Connection:
    """Open a journal that is there without ever writing into it or beside it, if need be.

    In a folder that may only be read SQLite cannot make the shared memory of the write-ahead
    log (https://www.sqlite.org/wal.html, "Read-Only Databases"). Where there is no log either, the
    file is complete and is read as one that never changes; otherwise a copy of both is read.

    Raises
    ------
    JournalError
        If the file is missing, something else, damaged, newer or unreadable.
    """
    with advised(path):
        recognise(path)
        try:
            return _connect_for_reading(path, "mode=ro", busy_s)
        except sqlite3.OperationalError:
            if _has_log(path):
                return _copied(path, busy_s)
        return _connect_for_reading(path, "mode=ro&immutable=1", busy_s)


def _check_unchanged(path: Path, busy_s: float) -> None:
    """Refuse a damaged file before it is opened for writing.

    On closing it SQLite would play the log into the damaged pages, and what stands there by
    mistake would be lost. What may only be read, or was killed while it was made, is checked
    when it is opened.
    """
    if not path.exists() or not path.stat().st_size or _with(path, "-journal").exists():
        return
    try:
        connection = _connect_for_reading(path, "mode=ro", busy_s)
    except sqlite3.OperationalError as error:
        if error.sqlite_errorcode & 0xFF not in {sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY}:
            raise
        return
    try:
        _check_pages(connection, path)
    finally:
        connection.close()


def _check_pages(connection: sqlite3.Connection, path: Path) -> None:
    if connection.execute("PRAGMA quick_check(1)").fetchone()[0] != "ok":
        raise damaged(path)


def _with(path: Path, ending: str) -> Path:
    return path.with_name(path.name + ending)


def _connect_for_reading(path: Path, how: str, busy_s: float) -> sqlite3.Connection:
    uri = f"{path.absolute().as_uri()}?{how}"
    connection = sqlite3.connect(uri, timeout=busy_s, isolation_level=None, uri=True)
    try:
        connection.text_factory = text_of
        connection.execute("PRAGMA trusted_schema = OFF")
        _is_made(connection, path)
        missing_helpers(connection, path)
    except BaseException:
        connection.close()
        raise
    return connection


def _copied(path: Path, busy_s: float) -> sqlite3.Connection:
    """Read file and log from a copy in a folder of our own, into memory."""
    with tempfile.TemporaryDirectory(prefix="companion-") as folder:
        copy = Path(folder) / path.name
        for part in (path, log_of(path)):
            shutil.copyfile(part, copy.with_name(part.name))
        with closing(sqlite3.connect(copy, timeout=busy_s, isolation_level=None)) as source:
            source.execute("PRAGMA journal_mode = DELETE")
            connection = sqlite3.connect(":memory:", isolation_level=None)
            source.backup(connection)
    connection.text_factory = text_of
    _is_made(connection, path)
    missing_helpers(connection, path)
    connection.execute("PRAGMA query_only = ON")
    return connection


def _has_log(path: Path) -> bool:
    """Tell whether a write-ahead log holds what is not in the file yet."""
    try:
        return log_of(path).stat().st_size > 0
    except OSError:
        return False


def _keep_private(path: Path) -> None:
    """Make the file, if it is missing, and let nobody but its owner read it or its log."""
    with suppress(FileExistsError):
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, _OWNERS_ALONE))
    for ending in _PARTS:
        part = _with(path, ending)
        with suppress(OSError):  # somebody else's, or a disk that knows no rights
            if part.stat().st_mode & 0o077:
                part.chmod(_OWNERS_ALONE)


def aside_name(path: Path) -> Path:
    """Give the name under which a file that is no usable journal is kept: none has it yet."""
    number = 1
    while any(path.parent.glob(f"{path.stem}-aside-{number}[.-]*")):
        number += 1
    return path.with_name(f"{path.stem}-aside-{number}{path.suffix}")


def put_aside(path: Path) -> Path:
    """Give a file that is no usable journal another name, so that a new one can be begun.

    Its write-ahead log goes with it: nothing is deleted.

    Returns
    -------
    Path
        Where it is now.

    Raises
    ------
    JournalError
        If it cannot be renamed.
    """
    with advised(path):
        aside = aside_name(path)
        for ending in _PARTS:
            part = _with(path, ending)
            if part.exists():
                part.rename(_with(aside, ending))
    return aside


def copy_aside(path: Path) -> Path:
    """Copy a file and its log as they are to a name under which nothing is kept yet.

    Raises
    ------
    JournalError
        If they cannot be copied.
    """
    with advised(path):
        aside = aside_name(path)
        for ending in ("-wal", ""):
            part = _with(path, ending)
            if part.exists():
                shutil.copyfile(part, _with(aside, ending))
                _with(aside, ending).chmod(_OWNERS_ALONE)
    return aside


def recognise(path: Path) -> None:
    """Refuse a file that is not a journal of ours, from its first bytes, without touching it.

    Raises
    ------
    JournalError
        If the file is something else or newer.
    """
    with advised(path):
        if not path.exists():
            return
        if not stat.S_ISREG(path.stat().st_mode):
            raise unreachable(path, "it is not a file")
        with path.open("rb") as stream:
            header = stream.read(_HEADER_BYTES)
    if not header:
        return  # made, but killed before the first write: as good as missing
    if not header.startswith(_MAGIC) or len(header) < _HEADER_BYTES:
        raise _strange(path, "is not a database")
    if _with(path, "-journal").exists():
        return  # killed while it was being made: SQLite mends it on opening
    application = int.from_bytes(header[_APPLICATION_ID_AT : _APPLICATION_ID_AT + 4], "big")
    if application != APPLICATION_ID:
        raise _strange(path, "is the database of another program")
    _check_version(path, int.from_bytes(header[_USER_VERSION_AT : _USER_VERSION_AT + 4], "big"))
    if log_is_damaged(path):
        raise damaged(path)


def _strange(path: Path, what: str) -> JournalError:
    """Tell a journal whose head was damaged from a file of somebody else."""
    with advised(path):
        return damaged(path) if holds_rows(path) else foreign(path, what)


def _prepare(connection: sqlite3.Connection, path: Path) -> None:
    """Set the connection up and make the tables if there are none."""
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("PRAGMA foreign_keys = ON")
    connection.execute("PRAGMA trusted_schema = OFF")
    if not _is_made(connection, path):
        _make(connection, path)
    add_helpers(connection, missing_helpers(connection, path))
    if _with(path, "-journal").exists():
        _check_pages(connection, path)
    _use_write_ahead_log(connection)


def _use_write_ahead_log(connection: sqlite3.Connection) -> None:
    """Switch the file to the write-ahead log, unless another program is using it just now.

    Without it commits are as durable, only slower; the next opening switches.
    """
    try:
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute(f"PRAGMA wal_autocheckpoint = {_LOG_PAGES}")
        connection.execute("PRAGMA journal_size_limit = 0")
    except sqlite3.OperationalError as error:
        if error.sqlite_errorcode & 0xFF != sqlite3.SQLITE_BUSY:
            raise


def play_log(connection: sqlite3.Connection) -> None:
    """Bring everything from the log into the file itself, and empty the log, without waiting.

    A copy of the file alone holds everything then. What another program is reading just now is
    left for the next time.
    """
    busy_ms = connection.execute("PRAGMA busy_timeout").fetchone()[0]
    connection.execute("PRAGMA busy_timeout = 0")
    try:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    finally:
        connection.execute(f"PRAGMA busy_timeout = {int(busy_ms)}")


def _is_made(connection: sqlite3.Connection, path: Path) -> bool:
    """Tell whether the tables are there; refuse those of another program or a newer version."""
    tables = connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()[0]
    application = connection.execute("PRAGMA application_id").fetchone()[0]
    if tables and application != APPLICATION_ID:
        raise foreign(path, "is the database of another program")
    if tables:
        _check_version(path, connection.execute("PRAGMA user_version").fetchone()[0])
    return bool(tables)


def _make(connection: sqlite3.Connection, path: Path) -> None:
    """Make the tables, all or none; another program may be making them at the same time."""
    try:
        make_tables(connection)
    except sqlite3.Error:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        if not _is_made(connection, path):
            raise


def _check_version(path: Path, version: int) -> None:
    if version > SCHEMA_VERSION:
        raise JournalError(
            f"The journal {path} was written by a newer version of the program "
            f"(format {version}; this one reads up to {SCHEMA_VERSION}).",
            "Use the newer version, or start with another --home.",
            "It was left as it is.",
            Fault.NEWER,
        )
    if version < 1:
        raise damaged(path)
