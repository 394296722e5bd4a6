"""Ways to a target by eye, as plain records."""

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Final

from companion.finding.courses import Course
from companion.finding.groups import Group


class WayKind(StrEnum):
    """How a way leads; the values are codes."""

    MEMBER = "member"  # the target is a star of a known group
    BESIDE = "beside"  # straight from a star
    LINE = "line"  # on along two stars
    BETWEEN = "between"  # between two stars
    CURVE = "curve"  # on along a curved row
    BEND = "bend"  # on through the tip of a bend, from between the two beside it
    CHAIN = "chain"  # in two steps


_LONG_DEG: Final = 30.0
_LONG_GAPS: Final = 4.0
_KNOWN_GAPS: Final = 6.0  # two stars that are known as pointers lead farther: to Polaris


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
    bearing_deg: float  # from the last star (BETWEEN: from the point) on, clockwise from up
    cost: float = field(repr=False)  # the lower, the better the way
    first: "Way | None" = None  # what to find before, for a CHAIN; the rest is its second step
    course: Course | None = None  # the same as the bearing, as it is said
    side: Course | None = None  # where the target lies off the line; up is above it
    sentence: str = ""

    @property
    def fists(self) -> float:
        """The distance from the last star in fists of 10° (common practice, no source)."""
        return self.distance_deg / 10.0

    @property
    def rank(self) -> tuple[bool, float]:
        """What the better way has less of: a line too long for the eye, then cost."""
        steps = (self,) if self.first is None else (self.first, self)
        return any(step.is_long for step in steps), self.cost

    @property
    def is_long(self) -> bool:
        """Whether the step along two stars goes so far that the eye loses the line."""
        on_line = self.kind is WayKind.LINE or (self.kind is WayKind.CHAIN and self.gap_deg > 0.0)
        pointers = self.group is not None and len(self.group.stars) == 2
        most_gaps = _KNOWN_GAPS if pointers else _LONG_GAPS
        return on_line and (self.extension_deg > _LONG_DEG or self.gaps > most_gaps)


@dataclass(frozen=True, slots=True)
class Ways:
    """The best ways to one target, best first; ``advice`` says why there are none."""

    ways: tuple[Way, ...]
    advice: str = ""
