"""What holds in a lifetime of nights, in so few words that all of it fits into memory."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from companion.journal.outcome import Outcome


@dataclass(frozen=True, slots=True)
class Night:
    """A night in figures."""

    night: str
    found: int = 0
    not_seen: int = 0
    skipped: int = 0
    notes: int = 0


@dataclass(frozen=True, slots=True)
class Held:
    """An entry that holds, by the event that it was written by; a remark has no outcome.

    ``noted`` is the event of an outcome's last note, where that is another one.
    """

    number: int
    key: str
    outcome: Outcome | None
    noted: int | None = None
    has_note: bool = False


@dataclass(frozen=True, slots=True)
class SeenTarget:
    """A target that was found: the last time, how often, and what was noted in that night."""

    last: Held
    count: int
    remarks: tuple[Held, ...] = ()


@dataclass(frozen=True, slots=True)
class Lifetime:
    """What holds in all nights; while it is not ``whole``, in the latest ones.

    ``held`` is each night in the order of its moments; ``seen`` is everything that was ever found,
    the latest first.
    """

    nights: tuple[Night, ...] = ()
    held: Mapping[str, tuple[Held, ...]] = field(default_factory=dict)
    seen: tuple[SeenTarget, ...] = ()
    whole: bool = True

    @property
    def found_keys(self) -> frozenset[str]:
        """The keys of everything that was ever found."""
        return frozenset(one.last.key for one in self.seen)
