"""What is asked about the road, and what comes back: frozen on both sides."""

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from companion.finding import Instrument
from companion.journal import Lesson
from companion.sky import Site

if TYPE_CHECKING:  # it brings numpy, which the first frame does not wait for
    from companion.arrays import FloatArray
    from companion.charts import SkyFrame, SkyWay
    from companion.road import Rehearsal, Road


@dataclass(frozen=True, slots=True)
class RoadQuestion:
    """Which steps come next, here, now, with this instrument, after these tries."""

    site: Site
    utc: datetime
    instrument: Instrument | None  # None: the bare eye
    lessons: tuple[Lesson, ...] = ()
    overcast: bool = False


@dataclass(frozen=True, slots=True)
class RoadView:
    """The answer."""

    question: RoadQuestion
    road: "Road"


@dataclass(frozen=True, slots=True)
class RehearsalQuestion:
    """A round of questions about the sky of the evening; ``lessons`` tell what comes first."""

    site: Site
    utc: datetime
    lessons: tuple[Lesson, ...]
    count: int
    seed: int


@dataclass(frozen=True, slots=True, eq=False)
class AskedSky:
    """What the chart shows of a question: ``before`` it is answered, without names, and ``after``.

    ``faces`` is where the chart looks, ``place`` where the subject stands in this sky; pointing
    there answers it where ``by_pointing`` says so.
    """

    before: "SkyFrame"
    after: "SkyFrame"
    way: "SkyWay | None"
    faces: "FloatArray"
    place: "FloatArray"
    by_pointing: bool


@dataclass(frozen=True, slots=True, eq=False)
class RehearsalView:
    """The round, with the sky of each of its questions."""

    question: RehearsalQuestion
    rehearsal: "Rehearsal"
    skies: tuple[AskedSky, ...]


@dataclass(frozen=True, slots=True)
class SkyCount:
    """What a count of stars says: the faintest star seen, the sky's brightness, and its error."""

    limit_mag: float
    zenith_mag: float
    error_mag: float
