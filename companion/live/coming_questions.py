"""What is asked about what the sky brings, and what comes back: frozen on both sides."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import TYPE_CHECKING

from companion.finding import Instrument
from companion.sky import Site

if TYPE_CHECKING:  # they bring numpy, which the first frame does not wait for
    from companion.events import AuroraLook, Day, Event


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
    kp: float | None = None


@dataclass(frozen=True, slots=True)
class ComingView:
    """The answer."""

    question: ComingQuestion
    events: "tuple[Event, ...]"
    days: "tuple[Day, ...]"
    aurora: "AuroraLook"
