"""What became of a target."""

from enum import StrEnum


class Outcome(StrEnum):
    """What became of a target this evening; the value is the word shown and stored."""

    WAITING = "waiting"
    FOUND = "found"
    NOT_SEEN = "not seen"
    SKIPPED = "skipped"
