"""Every try at a step of the road, as the journal holds them."""

from dataclasses import dataclass
from datetime import datetime

from companion.journal.advice import advised
from companion.journal.events import Did, live_events
from companion.journal.journal import Journal
from companion.journal.open_file import NOTHING_CHANGED
from companion.journal.reading import COLUMNS, read_event

_KINDS = ", ".join(f"'{kind}'" for kind in (Did.LEARNED, Did.UNDONE, Did.REDONE))
_READ = f"SELECT {COLUMNS} FROM event WHERE kind IN ({_KINDS}) ORDER BY number"  # noqa: S608


@dataclass(frozen=True, slots=True)
class Lesson:
    """One try: the code of its aim, the key of what was to be found, and whether it was."""

    aim: str
    subject: str
    utc: datetime
    found: bool
    practice: bool


def lessons(journal: Journal) -> tuple[Lesson, ...]:
    """Give all tries that hold, in the order in which they were written.

    Raises
    ------
    JournalError
        If the file cannot be read.
    """
    with advised(journal.path, NOTHING_CHANGED):
        rows = journal.connection.execute(_READ).fetchall()
    read = (read_event(row)[0] for row in rows)
    return tuple(
        Lesson(
            str(event.payload["aim"]),
            str(event.payload["subject"]),
            event.utc,
            event.payload["found"] is True,
            event.payload["practice"] is True,
        )
        for event in live_events([event for event in read if event is not None])
        if event.kind is Did.LEARNED
    )
