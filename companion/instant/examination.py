"""Whether the sightings agree: a question that takes longer than a snapshot, and its answer."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from companion.mount import Mount, Sighting
from companion.sky import Site

if TYPE_CHECKING:  # it brings numpy, which the window does not wait for
    from companion.instant.bright_stars import BrightSky
    from companion.mount import Doubt


@dataclass(frozen=True, slots=True)
class SightingsQuestion:
    """What is to be examined: sightings of one mount from one place."""

    mount: Mount
    sightings: tuple[Sighting, ...]
    site: Site


@dataclass(frozen=True, slots=True)
class Examination:
    """What there is to be said of sightings; ``question`` tells of which."""

    question: SightingsQuestion
    doubts: tuple["Doubt", ...]


def examined(question: SightingsQuestion, sky: "BrightSky") -> Examination:
    """Examine sightings; takes up to seconds where they contradict each other."""
    from companion.mount import examine

    doubts = examine(
        question.mount,
        question.sightings,
        lambda utc: sky.at(question.site, utc),
        question.site.latitude_deg,
    )
    return Examination(question, doubts)
