"""A question about a target, and the answer: figures, a list of sentences, and what is special."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from companion.about.jupiter_events import MoonEvent
from companion.about.jupiter_moons import PlanetMoon
from companion.about.moon import MoonLook
from companion.about.moon_ground import Ground
from companion.about.picture import Picture
from companion.about.planet import PlanetLook
from companion.about.rings import RingLook, RingShows
from companion.finding import Instrument
from companion.night import Conditions
from companion.sky import Site, Target

Kept = dict[tuple[object, ...], Any]
"""What was worked out for an hour and need not be for every instant."""


@dataclass(frozen=True, slots=True)
class AboutQuestion:
    """What somebody asks: what is this target, here and now, through this instrument.

    ``others`` are the person's further instruments, asked which of them part a double star.
    ``longitude_deg`` asks when that longitude of Jupiter (System II) or Mars crosses the middle.
    """

    target: Target
    site: Site
    utc: datetime
    instrument: Instrument
    conditions: Conditions
    others: tuple[Instrument, ...] = ()
    longitude_deg: float | None = None

    @property
    def hour(self) -> tuple[object, ...]:
        """What stays the same for an hour of asking."""
        at = self.utc.replace(minute=0, second=0, microsecond=0)
        return self.target.key, self.site, at


@dataclass(frozen=True, slots=True)
class Figures:
    """What is known of size, distance and light; None is what is not known or does not apply.

    Distances are those that the trade gives: kilometres for the Moon, astronomical units for what
    goes around the Sun, light years beyond; one of them is set. ``distance_error_ly`` is one
    standard deviation.
    """

    distance_km: float | None = None
    distance_au: float | None = None
    distance_ly: float | None = None
    distance_error_ly: float | None = None
    light_time_s: float | None = None
    true_size_km: float | None = None
    true_size_ly: float | None = None
    diameter_arcsec: float | None = None
    magnitude: float | None = None
    illuminated_fraction: float | None = None
    elongation_deg: float | None = None
    luminosity_suns: float | None = None


@dataclass(frozen=True, slots=True)
class FieldStar:
    """A star beside a target; ``name`` is empty where the catalogues have none.

    The position angle is its direction from the target, north through east.
    """

    name: str
    magnitude: float
    separation_deg: float
    position_angle_deg: float


@dataclass(frozen=True, slots=True)
class Terminator:
    """The edge of the Moon's night at one moment, and what stands at it, the best known first.

    ``longitude_deg`` is where it crosses the Moon's equator, east positive; with ``rising`` the Sun
    comes up there.
    """

    utc: datetime
    altitude_deg: float  # of the Moon
    colongitude_deg: float
    longitude_deg: float
    rising: bool
    features: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MoonEvening:
    """An evening by the site's own calendar; None where the Moon is not up in it."""

    day: date
    terminator: Terminator | None


@dataclass(frozen=True, slots=True, eq=False)
class MoonPage:
    """The Moon from here and from the Earth's centre, and its ground; the age is in days."""

    here: MoonLook
    geocentric: MoonLook
    age_days: float | None
    ground: Ground
    feature: int | None = None  # the row of the feature that was asked for
    coming: tuple[MoonEvening, ...] = ()  # the next seven


@dataclass(frozen=True, slots=True)
class TwilightWindow:
    """When an inner planet is up with the Sun well down, and how high at most, degrees."""

    begins_utc: datetime
    ends_utc: datetime
    highest_deg: float


@dataclass(frozen=True, slots=True)
class PlanetField:
    """A planet that looks like a star, among the stars of one view: the brightest first.

    ``moves_deg`` and ``moves_position_angle_deg`` say how far and which way it goes in a day.
    """

    magnitude: float  # of the planet
    field_deg: float
    limit_magnitude: float
    stars: tuple[FieldStar, ...]
    moves_deg: float
    moves_position_angle_deg: float


@dataclass(frozen=True, slots=True, eq=False)
class PlanetPage:
    """A planet's disk, its moons, its ring, and what its moons do in the night."""

    look: PlanetLook
    ring: RingLook | None = None
    ring_shows: RingShows | None = None
    moons: tuple[PlanetMoon, ...] = ()
    events: tuple[MoonEvent, ...] = ()
    season_deg: float | None = None  # of Mars
    crossings_utc: tuple[datetime, ...] = ()
    best_utc: datetime | None = None  # the day on which it next stands farthest from the Sun
    twilight: TwilightWindow | None = None  # of Venus and Mercury, tonight
    field: PlanetField | None = None  # of Uranus and Neptune


@dataclass(frozen=True, slots=True)
class DoublePage:
    """A double star; ``splits_with`` names the instruments that part it, ``power`` the least."""

    separation_arcsec: float
    position_angle_deg: float
    magnitudes: tuple[float, float]
    colours: str
    splits_with: tuple[str, ...]
    magnification: float | None  # the lowest of the instrument in use that parts it
    spare: float  # separation over what the instrument in use needs
    year: float | None = None  # of the place, where it comes from an orbit


@dataclass(frozen=True, slots=True)
class VariablePage:
    """A variable star with a period; what cannot be foretold is None."""

    magnitude_now: float | None
    next_minimum_utc: datetime | None
    next_maximum_utc: datetime | None
    uncertain_days: float


@dataclass(frozen=True, slots=True, eq=False)
class About:
    """Everything that the page of a target shows at one moment.

    ``says`` are sentences to read aloud, ``look_for`` what shows in this instrument, in the order
    in which it becomes visible.
    """

    target: Target
    utc: datetime
    instrument: Instrument
    figures: Figures
    says: tuple[str, ...]
    look_for: tuple[str, ...] = ()
    caution: str = ""
    moon: MoonPage | None = None
    planet: PlanetPage | None = None
    picture: Picture | None = None
    spectral_class: str | None = None  # of a star: letter and digit
    double: DoublePage | None = None
    variable: VariablePage | None = None
    comparison_stars: tuple[FieldStar, ...] = ()  # of a variable star, the brightest first
    sources: Mapping[str, str] = field(default_factory=dict)
