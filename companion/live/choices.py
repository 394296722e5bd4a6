"""What a person has chosen, as one frozen record that the service thread works from."""

from dataclasses import dataclass
from datetime import datetime

from companion.mount import Mount, Sighting
from companion.sky import Site, Target


@dataclass(frozen=True, slots=True)
class Choices:
    """Replaced, never edited; ``stamp`` rises with every replacement.

    ``preview_utc`` set means that the numbers are for that moment and the sky stands still.
    ``uncovered`` holds the keys of targets near the Sun whose numbers the person has
    deliberately uncovered.
    """

    stamp: int
    site: Site
    target: Target | None = None
    last_target: Target | None = None
    queue: tuple[Target, ...] = ()
    mount: Mount | None = None
    sightings: tuple[Sighting, ...] = ()
    lead_s: float = 0.0
    preview_utc: datetime | None = None
    clock_correction_s: float = 0.0
    compass_deviation_deg: float | None = None
    low_limit_deg: float = 10.0  # "time left" counts to here
    rate_hz: float = 2.0
    uncovered: frozenset[str] = frozenset()
