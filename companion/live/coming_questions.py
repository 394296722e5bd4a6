"""What is asked about what the sky brings, and what comes back: frozen on both sides."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import TYPE_CHECKING

from companion.finding import Instrument
from companion.sky import Site

if TYPE_CHECKING:  # they bring numpy, which the first frame does not wait for
    from companion.events import Day, Event, KpRow
    from companion.instant import Choices


class Reach(StrEnum):
    """How far ahead one looks; the value is the word shown."""

    HOUR = "the next hour"
    NIGHT = "this night"
    MONTH = "this month"
    YEAR = "this year"


@dataclass(frozen=True, slots=True)
class ComingQuestion:
    """What comes between two moments, and the days of the year where a picture is wanted."""

    site: Site
    first: datetime
    last: datetime
    instrument: Instrument | None  # None: the usual binoculars


@dataclass(frozen=True, slots=True)
class ComingView:
    """The answer."""

    question: ComingQuestion
    events: "tuple[Event, ...]"
    days: "tuple[Day, ...]"


@dataclass(frozen=True, slots=True)
class AuroraQuestion:
    """What Kp means at a site; the answer is an ``AuroraLook``."""

    site: Site
    utc: datetime
    kp: float | None


@dataclass(frozen=True, slots=True)
class ReadingsQuestion:
    """What the mount's dials show for directions: each a name, azimuth and altitude (refracted)."""

    choices: "Choices"
    places: tuple[tuple[str, float, float], ...]


@dataclass(frozen=True, slots=True)
class FileQuestion:
    """Read a file of elements or of Kp."""

    path: str
    utc: datetime


@dataclass(frozen=True, slots=True)
class FileRead:
    """What a file held: words for the person, and Kp where it was that."""

    words: str
    kp: "tuple[KpRow, ...]" = ()
