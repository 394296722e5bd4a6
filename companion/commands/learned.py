"""What the journal holds of the road: every try."""

from companion.commands.context import Context
from companion.journal import (
    FILE_NAME,
    Journal,
    learn_change,
    lessons,
    night_of,
    prepared_home,
)
from companion.road import Learned
from companion.sky import zone_of


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


def write_practice(context: Context, subject: str, *, found: bool) -> None:
    """Keep an answer that was given indoors.

    Raises
    ------
    JournalError
        If it cannot be written.
    """
    prepared_home(context.home)
    journal = Journal(context.home / FILE_NAME)
    try:
        night = night_of(context.now, zone_of("UTC"))
        journal.do(
            learn_change(night, context.now, "rehearse", subject, found=found, practice=True)
        )
    finally:
        journal.close()
