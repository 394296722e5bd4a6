"""One thing that the sky brings, as a plain record, and the codes of its kinds."""

from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum


class EventKind(StrEnum):
    """What happens, as a stable code."""

    MOON_PHASE = "moon_phase"
    MOON_DISTANCE = "moon_distance"
    MOON_STANDSTILL = "moon_standstill"
    YOUNG_MOON = "young_moon"
    OLD_MOON = "old_moon"
    LUNAR_ECLIPSE = "lunar_eclipse"
    SOLAR_ECLIPSE = "solar_eclipse"
    CONJUNCTION = "conjunction"
    GROUPING = "grouping"
    OCCULTATION = "occultation"
    OPPOSITION = "opposition"
    SOLAR_CONJUNCTION = "solar_conjunction"
    ELONGATION = "elongation"
    STATION = "station"
    BRIGHTEST = "brightest"
    SATURN_RING = "saturn_ring"
    JUPITER_MOON = "jupiter_moon"
    TITAN = "titan"
    VARIABLE_MINIMUM = "variable_minimum"
    VARIABLE_MAXIMUM = "variable_maximum"
    METEOR_SHOWER = "meteor_shower"
    ZODIACAL_LIGHT = "zodiacal_light"
    DARK_WINDOW = "dark_window"
    SATELLITE = "satellite_pass"


@dataclass(frozen=True, slots=True)
class Event:
    """What happens, when, and how good it is from here.

    ``utc`` is the greatest, closest or middle moment as seen from the site; ``altitude_deg``
    (refracted) and ``azimuth_deg`` are those of that moment. ``best_utc`` is when it is best looked
    at, None where it is not seen. ``code`` tells apart what happens within one kind: "full_moon".
    """

    kind: EventKind
    code: str
    title: str
    utc: datetime
    seen_here: bool
    why: str
    start_utc: datetime | None = None
    end_utc: datetime | None = None
    altitude_deg: float | None = None
    azimuth_deg: float | None = None
    bodies: tuple[str, ...] = ()
    keys: tuple[str, ...] = ()  # of what can be aimed at
    separation_deg: float | None = None
    magnitude: float | None = None
    obscuration: float | None = None  # share of the Sun's area that is covered
    caution: str = ""
    best_utc: datetime | None = None
    best_altitude_deg: float | None = None
    best_azimuth_deg: float | None = None
    instrument: str = "eye"  # the least that shows it: eye, binoculars, telescope
    contacts: dict[str, datetime] = field(default_factory=dict)
    numbers: dict[str, float] = field(default_factory=dict)  # what only some kinds have

    @property
    def uid(self) -> str:
        """What stays the same whenever it is computed anew: kind, what, who, and the day."""
        who = "+".join(self.keys or self.bodies)
        return f"{self.kind}/{self.code}/{who}/{self.utc:%Y%m%d}"
