"""What can be asked of a night, and what comes back: frozen, without numpy until it is answered."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING

from companion.finding import Instrument
from companion.sky import Kind, Site, Target

if TYPE_CHECKING:  # these bring numpy: only the planner's thread loads them
    from companion.night import (
        Blocked,
        Darkness,
        ImportedList,
        NightOrder,
        NightPlan,
        Tonight,
        TonightRow,
    )


class Kinds(StrEnum):
    """Families of targets to choose from; the value is the word shown."""

    ALL = "all kinds"
    BODIES = "planets and Moon"
    GALAXIES = "galaxies"
    CLUSTERS = "star clusters"
    NEBULAE = "nebulae"
    DOUBLES = "double stars"
    STARS = "single stars, groups"

    @property
    def members(self) -> frozenset[Kind]:
        """The kinds that belong to it; empty for all."""
        return _MEMBERS.get(self, frozenset())


_MEMBERS = {
    Kinds.BODIES: frozenset(
        {Kind.PLANET, Kind.DWARF_PLANET, Kind.MOON, Kind.COMET, Kind.MINOR_PLANET}
    ),
    Kinds.GALAXIES: frozenset({Kind.GALAXY}),
    Kinds.CLUSTERS: frozenset({Kind.OPEN_CLUSTER, Kind.GLOBULAR, Kind.CLUSTER_NEBULA}),
    Kinds.NEBULAE: frozenset(
        {Kind.NEBULA, Kind.PLANETARY, Kind.REMNANT, Kind.CLUSTER_NEBULA, Kind.DARK_NEBULA}
    ),
    Kinds.DOUBLES: frozenset({Kind.DOUBLE}),
    Kinds.STARS: frozenset({Kind.STAR, Kind.VARIABLE, Kind.GROUP}),
}


class Side(StrEnum):
    """Where in the sky; the value is the word shown."""

    ALL = "any direction"
    NORTH = "in the north"
    EAST = "in the east"
    SOUTH = "in the south"
    WEST = "in the west"

    @property
    def azimuths_deg(self) -> tuple[float, float] | None:
        """First and last azimuth, clockwise; None for all round."""
        if self is Side.ALL:
            return None
        middle = 90.0 * (list(Side).index(self) - 1)
        return (middle - 45.0) % 360.0, middle + 45.0


class Ease(StrEnum):
    """How easily it has to show; the value is the word shown."""

    ALL = "any difficulty"
    FAIR = "easy and fair"
    EASY = "easy only"


class Seen(StrEnum):
    """Whether it has been found before; the value is the word shown."""

    ALL = "found or not"
    NEVER = "not found yet"
    BEFORE = "found before"


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a person wants to see of tonight's list."""

    kinds: Kinds = Kinds.ALL
    constellation: str = ""  # IAU abbreviation, empty for all
    side: Side = Side.ALL
    lowest_deg: float = 0.0
    ease: Ease = Ease.ALL
    seen: Seen = Seen.ALL


@dataclass(frozen=True, slots=True)
class Around:
    """What every question is about: where, which night, with what.

    ``instrument`` None means the usual binoculars. ``hours`` are the person's own, two clock
    times, or nothing for the whole night.
    """

    site: Site
    utc: datetime
    instrument: Instrument | None
    low_limit_deg: float
    hours: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NightQuestion:
    """The night of the site, and that of some targets."""

    around: Around
    targets: tuple[Target, ...]


@dataclass(frozen=True, slots=True)
class ListQuestion:
    """Tonight's ranked list, or a ready-made round by its key."""

    around: Around
    wanted: Wanted
    seen_keys: frozenset[str]
    round_key: str = ""


@dataclass(frozen=True, slots=True)
class OrderQuestion:
    """The order of a queue from ``around.utc`` on; ``end_utc`` None means dawn at the latest."""

    around: Around
    targets: tuple[Target, ...]
    end_utc: datetime | None
    target_minutes: float
    breaks: tuple[tuple[datetime, datetime], ...] = ()
    blocked: tuple["Blocked", ...] = ()
    tube: Target | None = None  # where the tube points now
    before: "NightOrder | None" = None


@dataclass(frozen=True, slots=True)
class ImportQuestion:
    """A list of targets in a file."""

    path: Path


@dataclass(frozen=True, slots=True)
class ExportQuestion:
    """The plan of a night as files for other programs."""

    order: "NightOrder"
    site: Site
    made_utc: datetime
    folder: Path
    stem: str  # name of the files without what follows the dot


@dataclass(frozen=True, slots=True)
class OfferQuestion:
    """What is best in the hour from ``around.utc`` on, or from dusk, for somebody who begins."""

    around: Around


Question = (
    NightQuestion | OfferQuestion | ListQuestion | OrderQuestion | ImportQuestion | ExportQuestion
)


@dataclass(frozen=True, slots=True)
class BodyCurve:
    """Moon or planet through the night; altitudes as those of ``NightView.times_s``."""

    name: str
    body: str
    altitude_deg: tuple[float, ...]
    lit_fraction: float
    magnitude: float | None


@dataclass(frozen=True, slots=True, eq=False)
class NightView:
    """The night as it is drawn. ``begins_utc`` and ``ends_utc`` bound what is worth showing."""

    question: NightQuestion
    begins_utc: datetime
    ends_utc: datetime
    times_s: tuple[float, ...]  # seconds since 1970, the steps of all curves
    sun_altitude_deg: tuple[float, ...]
    moon: BodyCurve
    planets: tuple[BodyCurve, ...]
    plans: "tuple[NightPlan, ...]"
    darkness: "Darkness"
    instrument: Instrument
    zenith_mag: float
    sky_assumed: bool

    def plan(self, key: str) -> "NightPlan | None":
        """Give the plan of a target."""
        return next((plan for plan in self.plans if plan.target.key == key), None)


@dataclass(frozen=True, slots=True, eq=False)
class ListView:
    """Tonight's list with the question that it answers."""

    question: ListQuestion
    tonight: "Tonight"
    instrument: Instrument
    round_name: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class OrderView:
    """An order with the question that it answers."""

    question: OrderQuestion
    order: "NightOrder"


@dataclass(frozen=True, slots=True)
class ImportView:
    """A list that was read, and from where."""

    question: ImportQuestion
    read: "ImportedList"


@dataclass(frozen=True, slots=True)
class ExportView:
    """The files that were written."""

    paths: tuple[Path, ...]


@dataclass(frozen=True, slots=True)
class OfferView:
    """A few targets, each with what it is best seen with, from ``begins_utc`` on."""

    question: OfferQuestion
    begins_utc: datetime
    rows: tuple[tuple["TonightRow", Instrument], ...]


Answer = NightView | OfferView | ListView | OrderView | ImportView | ExportView
