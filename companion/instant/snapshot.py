"""Everything that the window shows of one instant. Immutable; panels only draw it."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import NamedTuple

from companion.mount import Doubt, Parameter
from companion.sky import Site, Target, altitude_text, azimuth_text


class Trend(StrEnum):
    """Where a target is going; the value is the word shown."""

    RISING = "rising"
    SETTING = "setting"
    TRANSIT = "near its highest"
    STILL = "hardly moving"
    BELOW = "below the horizon"


class CompassZone(StrEnum):
    """How far a compass can be trusted here (zones of the WMM2025 technical report)."""

    PLAIN = "plain"
    CAUTION = "caution"
    BLACKOUT = "blackout"


@dataclass(frozen=True, slots=True)
class PastSun:
    """A turn that would sweep the tube past the risen Sun, and the way round it in two turns."""

    nearest_deg: float
    corner_text: str  # "azimuth 210, altitude 60" on the mount's own dials; empty: no way round


@dataclass(frozen=True, slots=True)
class Turn:
    """The way from the last target's place to this one's, as the tube goes."""

    from_name: str
    azimuth_deg: float  # right (clockwise seen from above) positive
    altitude_deg: float  # up positive
    fists: float  # of the azimuth turn at arm's length
    past_sun: PastSun | None = None


@dataclass(frozen=True, slots=True)
class Reading:
    """What the mount's own dials must show, rounded to what they can show."""

    azimuth_deg: float
    altitude_deg: float
    azimuth_text: str  # "142½"
    altitude_text: str  # "41.3"
    azimuth_remainder: str  # "a hair over", or empty
    altitude_remainder: str
    radius95_deg: float
    advice: str  # "95% within 0.4°: finder first"


@dataclass(frozen=True, slots=True)
class StayFacts:
    """How long the target stays in one field once centred, and which way it drifts out of it."""

    look: str  # "finder", "25 mm"
    field_deg: float
    seconds: float | None  # None at the pole
    direction: str  # as this view shows it: "down and left"
    viewing: str  # "turned upside down"


@dataclass(frozen=True, slots=True)
class HandlingFacts:
    """What to mind while the target is followed by hand; texts are empty where nothing is."""

    stays: tuple[StayFacts, ...] = ()  # widest field first
    blind: str = ""  # near the zenith: how fast the azimuth runs, when to come back
    reach: str = ""  # why the mount cannot point there
    turn: str = ""  # the long way round, because of a cable or a stop
    eyepiece: str = ""  # of the looks, the one that is in; empty where nobody told
    eyepiece_height_m: float | None = None  # above the ground; None where it is not known


@dataclass(frozen=True, slots=True)
class AimFacts:
    """The current target, at ``utc`` of the snapshot plus the lead."""

    target: Target
    azimuth_deg: float  # true, from north through east
    altitude_deg: float  # refracted
    altitude_airless_deg: float
    compass_deg: float | None  # with the measured deviation
    azimuth_rate_arcsec_per_s: float
    altitude_rate_arcsec_per_s: float
    trend: Trend
    lead_s: float
    sinks_utc: datetime | None  # reaches the low limit
    rises_utc: datetime | None  # set while below the horizon
    sets_utc: datetime | None
    transit_utc: datetime | None
    never: str  # "never sets here", "never rises here", or empty
    moon_distance_deg: float | None
    sun_distance_deg: float | None
    sun_danger: bool  # within 20° of the Sun while it is up
    magnitude: float | None
    size: str  # "18″", "178′ × 63′", or empty
    detail: str  # "rings tilted 7°", "63% lit", or empty
    constellation: str  # full name
    turn: Turn | None
    reading: Reading | None  # None until a mount is chosen
    # True azimuth and refracted altitude without the lead: what a sighting now would be of.
    now_deg: tuple[float, float] = (0.0, 0.0)
    handling: HandlingFacts = HandlingFacts()


class RowFacts(NamedTuple):
    """One queue row; values in the order of ``Choices.queue``.

    A tuple with names, since five hundred of them are made with every snapshot. The readings are
    those of the mount's own dials once a mount is chosen, the true place until then; they are
    turned into text only for the rows that are seen.
    """

    key: str
    azimuth_deg: float
    altitude_deg: float
    time_left_s: float | None  # until the low limit; None if it stays above it
    rises_in_s: float | None
    moon_distance_deg: float | None
    turn_deg: float | None  # angular distance from where the tube is now
    sun_danger: bool
    azimuth_reading_deg: float
    altitude_reading_deg: float
    azimuth_step_deg: float = 0.5
    altitude_step_deg: float = 0.1

    @property
    def azimuth_text(self) -> str:
        """The azimuth as the dial shows it."""
        return azimuth_text(self.azimuth_reading_deg, self.azimuth_step_deg)

    @property
    def altitude_text(self) -> str:
        """The altitude as the dial shows it."""
        return altitude_text(self.altitude_reading_deg, self.altitude_step_deg)


@dataclass(frozen=True, slots=True)
class Light:
    """Sun, Moon or planet, for the drawn instruments."""

    name: str
    body: str
    azimuth_deg: float
    altitude_deg: float
    magnitude: float | None
    lit_fraction: float | None


@dataclass(frozen=True, slots=True)
class NorthFacts:
    """True north at this site and date."""

    declination_deg: float | None  # east positive; None in the blackout zone
    declination_sigma_deg: float
    yearly_change_deg: float
    horizontal_nt: float
    zone: CompassZone
    expired: bool  # after 2030.0 the magnetic model no longer holds
    model: str  # "WMM2025, valid to 2030.0"
    deviation_deg: float | None
    compass_for_true_north_deg: float | None
    compass_for_target_deg: float | None
    polaris_azimuth_deg: float | None  # None while it is below the horizon
    polaris_altitude_deg: float | None
    polaris_gain: float | None  # how many times better than the compass
    shadow_azimuth_deg: float | None  # None while the Sun is down


@dataclass(frozen=True, slots=True)
class DarkFacts:
    """What the Sun and the Moon leave of the night."""

    sun_altitude_deg: float
    phase: str  # "day", "civil twilight", "nautical twilight", "astronomical twilight", "dark"
    next_phase: str
    next_phase_utc: datetime | None  # None in polar day or night
    moon_up: bool
    moon_lit_fraction: float
    moon_next: str  # "rises" or "sets"
    moon_next_utc: datetime | None


@dataclass(frozen=True, slots=True)
class SightingFacts:
    """One sighting with its residual: reading minus what the fit expects."""

    number: int  # identity in the journal
    name: str
    utc: datetime
    azimuth_text: str  # as typed, rounded to the dial; empty where nothing was read
    altitude_text: str
    azimuth_residual_deg: float | None
    altitude_residual_deg: float | None
    residual_deg: float  # as an angle in the sky
    set_aside: bool
    weak: bool  # compass or level set-up
    kept: bool = False  # it counts, whatever is said of it


@dataclass(frozen=True, slots=True)
class NextSightingFacts:
    """The bright star whose sighting would help the queue most, as numbers to set."""

    name: str
    key: str
    azimuth_text: str
    altitude_text: str
    words: str
    azimuth_deg: float  # true, when it was chosen: some seconds ago
    altitude_deg: float


@dataclass(frozen=True, slots=True)
class AlignmentFacts:
    """How far the dials are trusted, and why."""

    sightings_set_aside: int
    typical_radius95_deg: float | None
    words: str  # "aligned on 3 stars, 95% of aims within 18′"
    sightings: tuple[SightingFacts, ...] = ()
    parameters: tuple[Parameter, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    next_sighting: NextSightingFacts | None = None


@dataclass(frozen=True, slots=True)
class PointedFacts:
    """What typed readings point to: the sky seen from the dials."""

    azimuth_deg: float  # true
    altitude_deg: float  # refracted
    ra_deg: float  # ICRS
    dec_deg: float
    constellation: str
    radius95_deg: float
    star: str  # the nearest bright star
    star_distance_deg: float
    objects: tuple[tuple[str, float], ...]  # names in the field, nearest first, with distances


@dataclass(frozen=True, slots=True)
class Snapshot:
    """One instant, whole. ``stamp`` repeats the stamp of the choices it was made from."""

    stamp: int
    utc: datetime  # moment of the numbers, without the lead
    local: datetime  # the same in the site's time zone
    made_monotonic_s: float
    preview: bool
    site: Site
    aim: AimFacts | None
    rows: tuple[RowFacts, ...]
    lights: tuple[Light, ...]
    north: NorthFacts
    dark: DarkFacts
    alignment: AlignmentFacts | None
    pointed: PointedFacts | None
    doubts: tuple[str, ...]  # what the numbers should not be trusted for: clock, Earth rotation
