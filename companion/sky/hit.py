"""What a search gives: a target, how it answers to what was typed, and by which name."""

from dataclasses import dataclass
from enum import StrEnum

from companion.sky.target import Target


class Match(StrEnum):
    """How a find answers to what was typed; all but the first are guesses."""

    EXACT = "exact"  # called exactly so, and nothing else is
    SEVERAL = "several"  # called exactly so, as other things are
    BEGINS = "begins"
    HOLDS = "holds"
    CORRECTED = "corrected"  # called so but for one slip in a longer word
    LIKE = "like"


@dataclass(frozen=True, slots=True)
class Hit:
    """One find: ``score`` up to 110, higher is better; ``shown`` is the name that was found.

    ``at_once`` tells whether it may be taken without another look: it is called exactly so, or
    what was typed is the beginning of its name in words.
    """

    target: Target
    score: float
    match: Match
    shown: str
    at_once: bool = False


@dataclass(frozen=True, slots=True)
class Understood:
    """What a text means; ``taken_for`` is the name that it was corrected to, else empty."""

    target: Target
    taken_for: str = ""
