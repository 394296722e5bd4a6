"""What a person has chosen, as one frozen record that the service thread works from."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from companion.finding import Instrument
from companion.instant.examination import Examination, SightingsQuestion
from companion.mount import Mount, Sighting
from companion.sky import Site, Target


@dataclass(frozen=True, slots=True)
class Choices:
    """Replaced, never edited; ``stamp`` rises with every replacement.

    ``preview_utc`` set means that the numbers are for that moment and the sky stands still, unless
    ``preview_since_utc`` tells the machine's time at which it began to run on from there.
    With ``lead_since_utc`` the numbers stand for moments ``lead_s`` apart, counted from there;
    without it they run on, ``lead_s`` ahead.
    ``uncovered`` holds the keys of targets near the Sun whose numbers the person has
    deliberately uncovered.
    """

    stamp: int
    site: Site
    target: Target | None = None
    last_target: Target | None = None
    queue: tuple[Target, ...] = ()
    mount: Mount | None = None
    instrument: Instrument | None = None
    eyepiece: str = ""  # name of the one that is in, of the instrument's; empty: nobody told
    sightings: tuple[Sighting, ...] = ()
    examination: Examination | None = None  # of these sightings, or still of those before
    lead_s: float = 0.0
    lead_since_utc: datetime | None = None
    preview_utc: datetime | None = None
    preview_since_utc: datetime | None = None
    clock_correction_s: float = 0.0
    compass_deviation_deg: float | None = None
    low_limit_deg: float = 10.0  # "time left" counts to here
    hours: tuple[str, ...] = ()  # the person's own, two clock times, or the whole night
    rate_hz: float = 2.0
    pointed_deg: tuple[float, float] | None = None  # readings of both dials, to be looked up
    uncovered: frozenset[str] = frozenset()

    @property
    def sightings_question(self) -> SightingsQuestion | None:
        """Whether the sightings agree, as a question; None where none is in use."""
        if self.mount is None or all(one.set_aside for one in self.sightings):
            return None
        return SightingsQuestion(self.mount, self.sightings, self.site)

    def moment(self, machine_utc: datetime) -> datetime:
        """Give the moment that the numbers are for: the preview, or the corrected clock."""
        if self.preview_utc is None:
            return machine_utc + timedelta(seconds=self.clock_correction_s)
        if self.preview_since_utc is None:
            return self.preview_utc
        return self.preview_utc + (machine_utc - self.preview_since_utc)

    def lead_at(self, utc: datetime) -> float:
        """Give how many seconds ahead the numbers of a moment are for: they count down to it."""
        if self.lead_since_utc is None or self.lead_s <= 0.0:
            return self.lead_s
        return self.lead_s - (utc - self.lead_since_utc).total_seconds() % self.lead_s
