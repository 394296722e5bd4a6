"""The tables of the journal: made whole, and looked at before they are believed."""

import sqlite3
from pathlib import Path

from companion.journal.advice import damaged

APPLICATION_ID = 0x434F4A31  # marks the file as ours (SQLite's "magic number for file types")
SCHEMA_VERSION = 1

_TABLES = {
    "evening": """CREATE TABLE evening (
    night TEXT PRIMARY KEY CHECK (night GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    begun_utc TEXT NOT NULL
) WITHOUT ROWID""",
    "event": """CREATE TABLE event (
    number INTEGER PRIMARY KEY AUTOINCREMENT,
    utc TEXT NOT NULL,
    night TEXT NOT NULL REFERENCES evening (night),
    kind TEXT NOT NULL,
    subject TEXT NOT NULL,
    payload TEXT NOT NULL,
    cancels INTEGER REFERENCES event (number) CHECK (cancels < number)
)""",
    "setting": """CREATE TABLE setting (
    name TEXT PRIMARY KEY,
    utc TEXT NOT NULL,
    value TEXT NOT NULL
) WITHOUT ROWID""",
}
_HELPERS = {
    "event_of_night": "CREATE INDEX event_of_night ON event (night, number)",
    "event_of_subject": (
        "CREATE INDEX event_of_subject ON event (subject, kind) WHERE kind = 'marked'"
    ),
    "event_cancelling": (
        "CREATE INDEX event_cancelling ON event (cancels) WHERE cancels IS NOT NULL"
    ),
    "event_with_horizon": (
        "CREATE INDEX event_with_horizon ON event (subject) WHERE kind = 'horizon'"
    ),
    "event_stays": """CREATE TRIGGER event_stays BEFORE UPDATE ON event
    BEGIN SELECT RAISE (ABORT, 'events are never changed'); END""",
    "event_remains": """CREATE TRIGGER event_remains BEFORE DELETE ON event
    BEGIN SELECT RAISE (ABORT, 'events are never deleted'); END""",
}
_BEGIN = "BEGIN IMMEDIATE"


def make_tables(connection: sqlite3.Connection) -> None:
    """Make all tables in an empty file, all or none."""
    statements = [
        _BEGIN,
        *_TABLES.values(),
        *_HELPERS.values(),
        f"PRAGMA application_id = {APPLICATION_ID}",
        f"PRAGMA user_version = {SCHEMA_VERSION}",
        "COMMIT",
    ]
    for statement in statements:
        connection.execute(statement)


def add_helpers(connection: sqlite3.Connection, names: frozenset[str]) -> None:
    """Make indexes and triggers that an older or a mended file lacks."""
    if names:
        connection.execute(_BEGIN)
        for name in sorted(names):
            connection.execute(_HELPERS[name])
        connection.execute("COMMIT")


def missing_helpers(connection: sqlite3.Connection, path: Path) -> frozenset[str]:
    """Look whether the tables are what they must be; give the names of helpers that are missing.

    Raises
    ------
    JournalError
        If a table is missing, or what is there is not what was made.
    """
    found = dict(connection.execute("SELECT name, sql FROM sqlite_schema WHERE sql IS NOT NULL"))
    known = _TABLES | _HELPERS
    if not _TABLES.keys() <= found.keys() or any(
        _spaced(found[name]) != _spaced(sql) for name, sql in known.items() if name in found
    ):
        raise damaged(path)
    return frozenset(_HELPERS.keys() - found.keys())


def _spaced(sql: object) -> str:
    return " ".join(str(sql).split())
