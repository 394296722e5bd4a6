"""Ways to a target by eye, as plain records."""

from dataclasses import dataclass, field
from enum import StrEnum

from companion.finding.groups import Group


class WayKind(StrEnum):
    """How a way leads; the value is the word shown."""

    MEMBER = "in the group itself"
    BESIDE = "beside a star"
    LINE = "pointer line"
    BETWEEN = "between two stars"
    CURVE = "along a curve"
    CHAIN = "in two steps"


@dataclass(frozen=True, slots=True)
class Way:
    """One way to a target.

    ``gaps`` is the extension as a multiple of the gap between the two stars; for ``BETWEEN`` the
    part of the gap, for ``CURVE`` the multiple of the row's length. ``miss_deg`` is how far the
    target lies off the line (``LINE``), off the stated point (``BETWEEN``), or how far the row's
    own stars lie off the curve that leads to the target (``CURVE``).
    """

    kind: WayKind
    stars: tuple[int, ...]  # HIP numbers in the order in which the eye follows them
    names: tuple[str, ...]
    group: Group | None
    gap_deg: float
    extension_deg: float  # on from the last star (BETWEEN: from the first), along the line
    gaps: float
    distance_deg: float  # from the last star straight to the target
    miss_deg: float
    side: str  # "left" or "right" of the line, seen along it; "" where it makes no difference
    direction: str  # which way to go from the last star, as one stands facing it: "up", …
    bearing_deg: float  # the same, clockwise from up
    cost: float = field(repr=False)  # the lower, the better the way
    first: "Way | None" = None  # what to find before, for a CHAIN; the rest is its second step
    sentence: str = ""

    @property
    def fists(self) -> float:
        """The distance from the last star in fists of 10° (common practice, no source)."""
        return self.distance_deg / 10.0


@dataclass(frozen=True, slots=True)
class Ways:
    """The best ways to one target, best first; ``advice`` says why there are none."""

    ways: tuple[Way, ...]
    advice: str = ""
