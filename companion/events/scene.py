"""The sky over one site through a span, as those who seek events look at it."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property

import numpy as np

from companion.arrays import FloatArray, RowArray
from companion.events.event import EventKind
from companion.events.search import moments
from companion.finding import Instrument
from companion.night import Conditions, naked_eye_limit
from companion.sky import (
    Catalogue,
    SkySpan,
    Target,
    TargetTable,
    air_of,
    refracted_deg,
)

NIGHT_STEP_S = 1200.0  # between the moments at which the Sun's and the Moon's altitude is kept
PLANETS = ("mercury", "venus", "mars", "jupiter", "saturn", "uranus", "neptune")
_ZODIAC_LATITUDE_DEG = 7.5  # how far from the ecliptic the Moon comes, with parallax and its size
_STAR_LIMIT_MAG = 3.6  # of stars whose occultation is worth a look


@dataclass(frozen=True, slots=True)
class Draft:
    """Something that happens, before anybody asked whether it can be seen.

    ``toward`` names what has to be up, the first of them where one looks; ``looks`` are the moments
    at which it may be looked at, seconds of the span.
    """

    kind: EventKind
    code: str
    title: str
    seconds: float
    toward: tuple[str, ...] = ()
    looks: tuple[float, ...] = ()
    sun_below_deg: float | None = None  # None where the Sun does not matter
    start_s: float | None = None
    end_s: float | None = None
    bodies: tuple[str, ...] = ()
    keys: tuple[str, ...] = ()
    separation_deg: float | None = None
    magnitude: float | None = None
    obscuration: float | None = None
    caution: str = ""
    remark: str = ""
    never: str = ""  # why it cannot be seen from here at all
    instrument: str = ""
    contacts: dict[str, float] = field(default_factory=dict)
    numbers: dict[str, float] = field(default_factory=dict)


@dataclass(frozen=True, eq=False)
class Scene:
    """A span of sky, who looks at it and with what."""

    span: SkySpan
    catalogue: Catalogue
    instrument: Instrument
    conditions: Conditions

    @cached_property
    def stars(self) -> TargetTable:
        """Bright stars that the Moon can cover, with proper motion to the middle of the span."""
        middle = self.span.utc(self.span.length_s / 2.0)
        bright = TargetTable.of(self.catalogue.bright_stars(_STAR_LIMIT_MAG), middle)
        now = np.zeros(len(bright.targets))
        _longitude, latitude = self.span.ecliptic_deg(bright.vectors, now)
        kept = [bright.targets[row] for row in np.flatnonzero(abs(latitude) < _ZODIAC_LATITUDE_DEG)]
        return TargetTable.of(kept, middle)

    def vector_of(self, target: Target) -> FloatArray:
        """Give the direction (1, 3) of something fixed, at the middle of the span."""
        return TargetTable.of([target], self.span.utc(self.span.length_s / 2.0)).vectors

    def _vector(self, key: str) -> FloatArray:
        if key not in self._vectors:
            self._vectors[key] = self.vector_of(self.star(key))
        return self._vectors[key]

    @cached_property
    def _vectors(self) -> dict[str, FloatArray]:
        return {}

    @cached_property
    def _kept(self) -> dict[str, Target]:
        return {}

    def star(self, key: str) -> Target:
        """Give a star by its key, looked up once."""
        if key not in self._kept:
            self._kept[key] = self.catalogue.target(key)
        return self._kept[key]

    @cached_property
    def _star_rows(self) -> dict[str, int]:
        return {target.key: row for row, target in enumerate(self.stars.targets)}

    def directions(self, name: str, seconds: FloatArray) -> FloatArray:
        """Give where a body, or a star by its key, stands (k, 3), seen from the site."""
        if ":" not in name:
            return self.span.place(name, seconds)
        row = self._star_rows.get(name)
        vectors = self._vector(name) if row is None else self.stars.vectors[row : row + 1]
        return self.span.stars(vectors, seconds, np.zeros(len(seconds), dtype=np.intp))

    def of_rows(self, names: Sequence[str], seconds: FloatArray, rows: RowArray) -> FloatArray:
        """Give where the thing of each row stands at each moment (k, 3)."""
        found = np.empty((len(seconds), 3))
        for row in np.unique(rows):
            here = rows == row
            found[here] = self.directions(names[row], seconds[here])
        return found

    def name(self, what: str) -> str:
        """Give the name of a body or star."""
        return what.capitalize() if ":" not in what else self.star(what).name

    @staticmethod
    def key(what: str) -> str:
        """Give the key under which the catalogue has a body or star."""
        return what if ":" in what else f"body:{what}"

    def horizontal(self, places: FloatArray, seconds: FloatArray) -> tuple[FloatArray, ...]:
        """Give azimuths and refracted altitudes in degrees."""
        north, east, up = self.span.local(places, seconds).T
        airless = np.degrees(np.arctan2(up, np.hypot(north, east)))
        azimuth = np.degrees(np.arctan2(east, north)) % 360.0
        return azimuth, refracted_deg(airless, *air_of(self.span.site))

    def airless_deg(self, name: str, seconds: FloatArray) -> FloatArray:
        """Give altitudes without air, degrees."""
        north, east, up = self.span.local(self.directions(name, seconds), seconds).T
        return np.asarray(np.degrees(np.arctan2(up, np.hypot(north, east))))

    @cached_property
    def steps(self) -> FloatArray:
        """Moments ``NIGHT_STEP_S`` apart through the whole span."""
        return moments(self.span.length_s, NIGHT_STEP_S)

    @cached_property
    def sun_deg(self) -> FloatArray:
        """Airless altitude of the Sun at each of the steps."""
        return self.airless_deg("sun", self.steps)

    @cached_property
    def moon_deg(self) -> FloatArray:
        """Airless altitude of the Moon at each of the steps."""
        return self.airless_deg("moon", self.steps)

    @cached_property
    def limits_mag(self) -> dict[str, float]:
        """The faintest star that eye, binoculars and a telescope show here on a dark night."""
        eye = float(naked_eye_limit(self.conditions.zenith_mag)) - 0.5
        pupil_mm = self.conditions.observer.dark_pupil_mm
        gain = {
            "eye": 0.0,
            "binoculars": _gain(50.0, pupil_mm),
            "telescope": _gain(150.0, pupil_mm),
        }
        gain[str(self.instrument.kind)] = _gain(self.instrument.aperture_mm, pupil_mm)
        return {kind: eye + mag for kind, mag in gain.items()}

    def least_instrument(self, magnitude: float | None) -> str:
        """Name the least that shows a point of that magnitude; empty where nothing does."""
        if magnitude is None:
            return "eye"
        return next((kind for kind, mag in self.limits_mag.items() if magnitude <= mag), "")

    def local_time(self, seconds: float) -> datetime:
        """Give a moment by the clocks of the site."""
        from companion.sky import zone_of

        return self.span.utc(seconds).astimezone(zone_of(self.span.site.time_zone))


def _gain(aperture_mm: float, pupil_mm: float) -> float:
    """Give the magnitudes that an aperture adds to the eye's, a fifth of the light lost in it."""
    return float(max(5.0 * np.log10(aperture_mm / pupil_mm) - 0.25, 0.0))


def around(seconds: float, hold_s: float, step_s: float = 1200.0) -> tuple[float, ...]:
    """Give moments about one moment at which it may still be looked at."""
    count = max(round(hold_s / step_s), 1)
    return tuple((seconds + np.linspace(-hold_s, hold_s, 2 * count + 1)).tolist())


def sun_limit_deg(magnitude: float | None) -> float:
    """Give how far down the Sun must be for a magnitude to be seen (common practice, no source)."""
    steps = ((-3.0, -1.0), (-1.0, -4.0), (1.5, -7.0), (4.0, -10.0))
    if magnitude is None:
        return -4.0
    return next((limit for mag, limit in steps if magnitude <= mag), -14.0)
