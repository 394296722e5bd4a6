"""What became of a target: stable codes, and the words for them."""

from collections.abc import Mapping
from enum import StrEnum
from typing import Final


class Outcome(StrEnum):
    """What became of a target this evening; the value is what is stored and written."""

    WAITING = "waiting"
    FOUND = "found"
    NOT_SEEN = "not_seen"
    SKIPPED = "skipped"

    @classmethod
    def _missing_(cls, value: object) -> "Outcome | None":
        """Read what journals held before codes and words were parted."""
        return cls.NOT_SEEN if value == "not seen" else None


_WORDS: Final[Mapping[Outcome, str]] = {
    Outcome.WAITING: "waiting",
    Outcome.FOUND: "found",
    Outcome.NOT_SEEN: "not seen",
    Outcome.SKIPPED: "skipped",
}


def outcome_text(outcome: Outcome) -> str:
    """Say an outcome in words: "not seen"."""
    return _WORDS[outcome]


def outcome_of(value: object) -> Outcome | None:
    """Read an outcome as it was written, by whichever version; None where it is not one."""
    try:
        return Outcome(value) if isinstance(value, str) else None
    except ValueError:
        return None
