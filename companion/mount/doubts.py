"""A doubt about sightings, as a record to be shown."""

from dataclasses import dataclass
from enum import StrEnum

from companion.mount.records import Sighting


class DoubtKind(StrEnum):
    """What is doubted; the value is the word shown."""

    STAR = "another star"
    WEAK = "compass or level"
    HOUR = "wrong hour"
    BUMP = "bumped dial"
    TWICE = "same star twice"
    ONE_SIDE = "all in one direction"
    BELOW = "below the horizon"
    LEAN = "leaning base"
    UNSURE = "leaning base or another star"
    CONFUSED = "no agreement"


@dataclass(frozen=True, slots=True)
class Fitting:
    """A star that a sighting's readings would fit, and how far off it is then.

    ``azimuth_deg`` (true) and ``altitude_deg`` (refracted) tell where it stood.
    """

    name: str
    key: str
    azimuth_deg: float
    altitude_deg: float
    off_deg: float


@dataclass(frozen=True, slots=True)
class Doubt:
    """What does not fit, and what to do about it.

    ``sightings`` are those to be set aside if the person agrees. Where ``aside`` is false they
    stay in use: after a wrong hour the time is to be corrected, and a poor geometry is not wrong.
    ``fits`` names the stars that would have fitted, the likeliest first; ``hours`` is what to add
    to the times as given; ``exchanged`` says that its two readings would fit the other way round.
    Nothing is ever deleted.
    """

    kind: DoubtKind
    sightings: tuple[Sighting, ...]
    wrong: str
    do: str
    fits: tuple[Fitting, ...] = ()
    hours: float | None = None
    exchanged: bool = False

    @property
    def numbers(self) -> tuple[int, ...]:
        """Give the identities of the sightings in the journal."""
        return tuple(one.number for one in self.sightings)

    @property
    def contradicts(self) -> bool:
        """Tell whether something must be wrong; else it is only weak, or worth to know."""
        return self.kind not in {DoubtKind.TWICE, DoubtKind.ONE_SIDE, DoubtKind.LEAN}

    @property
    def answered(self) -> bool:
        """Tell whether somebody has said of all its sightings that they are right."""
        return self.contradicts and bool(self.sightings) and all(s.kept for s in self.sightings)

    @property
    def aside(self) -> bool:
        """Tell whether setting the sightings aside would help."""
        return self.contradicts and self.kind not in {DoubtKind.HOUR, DoubtKind.UNSURE}
