"""What the journal holds of the road: every try."""

from companion.commands.context import Context
from companion.journal import FILE_NAME, Journal, lessons
from companion.road import Learned


def tries_of(context: Context) -> tuple[Learned, ...]:
    """Give all tries at steps of the road, the oldest first; none where there is no journal.

    Raises
    ------
    JournalError
        If there is one that cannot be read.
    """
    path = context.home / FILE_NAME
    if not path.exists():
        return ()
    journal = Journal(path)
    try:
        found = lessons(journal)
    finally:
        journal.close()
    return tuple(Learned(one.aim, one.subject, one.utc, one.found, one.practice) for one in found)
