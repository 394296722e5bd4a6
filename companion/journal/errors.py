"""Errors of the journal that a person can act on."""

from enum import StrEnum

from companion.advice import AdviceError


class Fault(StrEnum):
    """What is the matter with the world around the journal; the window offers ways out by it."""

    REFUSED = "refused"  # a value that cannot be kept
    FOREIGN = "foreign"  # the file is something else
    DAMAGED = "damaged"
    NEWER = "newer"  # written by a newer version of the program
    READ_ONLY = "read-only"
    FULL = "full"
    LOCKED = "locked"
    UNREACHABLE = "unreachable"

    @property
    def can_set_aside(self) -> bool:
        """Whether giving the file another name and beginning a new one would help."""
        return self in {Fault.FOREIGN, Fault.DAMAGED, Fault.NEWER}


class JournalError(AdviceError):
    """What a person can do about the world around the journal, and of which family it is.

    A bug of ours is never a ``JournalError``.

    Parameters
    ----------
    wrong : str
        What was wrong.
    do : str
        The next step for the person.
    kept : str, optional
        What was kept or stays as it was.
    fault : Fault, optional
        The family of what was wrong.
    """

    def __init__(self, wrong: str, do: str, kept: str = "", fault: Fault = Fault.REFUSED) -> None:
        super().__init__(wrong, do, kept)
        self.fault = fault
