"""What is asked about the road, and what comes back: frozen on both sides."""

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from companion.finding import Instrument
from companion.journal import Lesson
from companion.sky import Site

if TYPE_CHECKING:  # it brings numpy, which the first frame does not wait for
    from companion.road import Road


@dataclass(frozen=True, slots=True)
class RoadQuestion:
    """Which steps come next, here, now, with this instrument, after these tries."""

    site: Site
    utc: datetime
    instrument: Instrument | None  # None: the bare eye
    lessons: tuple[Lesson, ...] = ()


@dataclass(frozen=True, slots=True)
class RoadView:
    """The answer."""

    question: RoadQuestion
    road: "Road"


@dataclass(frozen=True, slots=True)
class SkyCount:
    """What a count of stars says: the faintest star seen, the sky's brightness, and its error."""

    limit_mag: float
    zenith_mag: float
    error_mag: float
