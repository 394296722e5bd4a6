"""Plausible fixed facts for the window: nothing here is computed, nothing is a check value."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from time import monotonic
from typing import Any

from PySide6.QtCore import Signal

from companion.finding import Eyepiece, Finder, Instrument, InstrumentKind, Viewing
from companion.instant import (
    AimFacts,
    AlignmentFacts,
    Choices,
    CompassZone,
    DarkFacts,
    HandlingFacts,
    Light,
    NextSightingFacts,
    NorthFacts,
    Reading,
    RowFacts,
    SightingFacts,
    Snapshot,
    StayFacts,
    Trend,
    Turn,
)
from companion.journal import Fault, Left, Outcome, Settings
from companion.live import (
    Evening,
    EveningClock,
    Instruments,
    JournalUpkeep,
    Messages,
    Mounts,
    Offers,
    OfferView,
    Place,
    Queue,
    QueueItem,
    Sites,
)
from companion.mount import Dial, Doubt, DoubtKind, Fitting, Mount, Parameter, Sighting
from companion.sky import DRY_PAN, LOON_BARRENS, Kind, Match, Site, Target
from window.coming_fakes import FakeComing
from window.night_fakes import FakeNight, FakeNights, journal
from window.road_fakes import FakeRoad
from window.sky_fakes import FakeCharts, FakePages
from window.standing_in import StandIn

ADT = timezone(timedelta(hours=-3), "ADT")
UTC_NOW = datetime(2026, 10, 10, 23, 14, 7, tzinfo=UTC)

SATURN = Target("body:saturn", "Saturn", Kind.PLANET, body="saturn", constellation="Psc")
VEGA = Target("hip:91262", "Vega", Kind.STAR, 279.23, 38.78, magnitude=0.03, constellation="Lyr")
MERCURY = Target("body:mercury", "Mercury", Kind.PLANET, body="mercury", constellation="Vir")


def deep(name: str, kind: Kind = Kind.GALAXY, magnitude: float = 8.0) -> Target:
    return Target(f"ngc:{name}", name, kind, 10.7, 41.3, magnitude=magnitude, constellation="And")


QUEUE = (
    SATURN,
    VEGA,
    deep("M 31, Andromeda Galaxy", magnitude=3.4),
    deep("Albireo", Kind.DOUBLE, 3.1),
    deep("M 57, Ring Nebula", Kind.PLANETARY, 8.8),
    deep("M 13", Kind.GLOBULAR, 5.8),
    deep("Double Cluster", Kind.OPEN_CLUSTER, 4.3),
    deep("Mizar and Alcor", Kind.DOUBLE, 2.2),
    deep("M 27, Dumbbell Nebula", Kind.PLANETARY, 7.4),
    deep("Pleiades", Kind.OPEN_CLUSTER, 1.2),
    deep("NGC 7000, North America Nebula", Kind.NEBULA, 4.0),
    deep("Almach", Kind.DOUBLE, 2.1),
)


def aim(**changes: Any) -> AimFacts:
    base = AimFacts(
        target=SATURN,
        azimuth_deg=171.23,
        altitude_deg=41.28,
        altitude_airless_deg=41.26,
        compass_deg=187.5,
        azimuth_rate_arcsec_per_s=14.2,
        altitude_rate_arcsec_per_s=1.6,
        trend=Trend.RISING,
        lead_s=0.0,
        sinks_utc=UTC_NOW + timedelta(hours=3, minutes=10),
        rises_utc=None,
        sets_utc=UTC_NOW + timedelta(hours=5),
        transit_utc=UTC_NOW + timedelta(minutes=40),
        never="",
        moon_distance_deg=64.2,
        sun_distance_deg=160.0,
        sun_danger=False,
        magnitude=0.9,
        size="18″",
        detail="rings tilted 7°",
        constellation="Pisces",
        turn=Turn("Vega", -96.2, -12.4, 9.6),
        reading=None,
    )
    return replace(base, **changes)


READING = Reading(
    azimuth_deg=187.5,
    altitude_deg=41.3,
    azimuth_text="187½",
    altitude_text="41.3",
    azimuth_remainder="a hair under",
    altitude_remainder="",
    radius95_deg=0.4,
    advice="95% within 0.4°: finder first",
)


def row(index: int, target: Target) -> RowFacts:
    altitude = 78.0 - (index * 7) % 96
    return RowFacts(
        key=target.key,
        azimuth_deg=(index * 53 + 171) % 360,
        altitude_deg=altitude,
        time_left_s=None if index % 5 == 2 else 11400.0 - index * 600 if altitude > 10 else 0.0,
        rises_in_s=None if altitude > 0 else 5400.0,
        moon_distance_deg=(index * 17 + 24) % 180,
        turn_deg=(index * 23) % 180,
        azimuth_reading_deg=(index * 53 + 171) % 360 + 0.5,
        altitude_reading_deg=altitude,
        sun_danger=False,
    )


NORTH = NorthFacts(
    declination_deg=-16.2,
    declination_sigma_deg=0.42,
    yearly_change_deg=0.12,
    horizontal_nt=17800.0,
    zone=CompassZone.PLAIN,
    expired=False,
    model="WMM2025, valid to 2030.0",
    deviation_deg=None,
    compass_for_true_north_deg=16.2,
    compass_for_target_deg=187.5,
    polaris_azimuth_deg=0.4,
    polaris_altitude_deg=45.5,
    polaris_gain=12.0,
    shadow_azimuth_deg=None,
)
DARK = DarkFacts(
    sun_altitude_deg=-14.0,
    phase="nautical twilight",
    next_phase="dark",
    next_phase_utc=UTC_NOW + timedelta(minutes=22),
    moon_up=False,
    moon_lit_fraction=0.31,
    moon_next="rises",
    moon_next_utc=UTC_NOW + timedelta(hours=2, minutes=56),
)
LIGHTS = (
    Light("Sun", "sun", 268.0, -14.0, -26.7, 1.0),
    Light("Moon", "moon", 62.0, -12.0, -11.0, 0.31),
)
ALIGNED = AlignmentFacts(0, 0.3, "aligned on 3, within 0.3°")


def snapshot(**changes: Any) -> Snapshot:
    base = Snapshot(
        stamp=1,
        utc=UTC_NOW,
        local=UTC_NOW.astimezone(ADT),
        made_monotonic_s=monotonic(),
        preview=False,
        site=LOON_BARRENS,
        aim=aim(),
        rows=tuple(row(i, target) for i, target in enumerate(QUEUE)),
        lights=LIGHTS,
        north=NORTH,
        dark=DARK,
        alignment=ALIGNED,
        pointed=None,
        doubts=(),
    )
    return replace(base, **changes)


@dataclass(frozen=True)
class FakeHit:
    target: Target
    score: float
    match: Match
    shown: str
    at_once: bool = True


PLACES = (
    Place(Site("Truro", 45.37, -63.27, 0.0, "America/Halifax"), "Nova Scotia, Canada"),
    Place(Site("Truro", 50.26, -5.05, 0.0, "Europe/London"), "England, United Kingdom"),
)


class FakeQueue(StandIn):
    """A queue of fixed rows."""

    real = Queue
    own = frozenset({"ticked"})

    changed = Signal()

    def __init__(self, evening: "FakeEvening", items: tuple[QueueItem, ...]) -> None:
        super().__init__(evening.told)
        self._evening = evening
        self.items = items
        self.ticked: QueueItem | None = None

    def item(self, key: str) -> QueueItem | None:
        return next((one for one in self.items if one.target.key == key), None)

    def just_ticked(self, within_s: float) -> QueueItem | None:
        return self.ticked if within_s > 0.0 else None

    def choose(self, key: str) -> None:
        self.told.append(("choose", key))
        one = self.item(key)
        target = None if one is None else one.target
        self._evening.change(replace(self._evening.choices, target=target))


class FakeOffers(StandIn):
    """What is offered while nothing is aimed at, if a test says so."""

    real = Offers

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.view: OfferView | None = None


class FakeClock(StandIn):
    """A clock that stands."""

    real = EveningClock
    now_utc = UTC_NOW
    stands_still = False

    def __init__(self, evening: "FakeEvening") -> None:
        super().__init__(evening.told)
        self._evening = evening

    def come_back(self) -> None:
        self.told.append(("come_back",))

    def step(self, by: timedelta) -> None:
        self.told.append(("step", by))

    def set_preview(self, utc: datetime | None) -> None:
        self.told.append(("set_preview", utc))
        self._evening.change(replace(self._evening.choices, preview_utc=utc))


class FakeSites(StandIn):
    """The places of the demo."""

    real = Sites

    def __init__(self, evening: "FakeEvening") -> None:
        super().__init__(evening.told)
        self._evening = evening
        self.known: tuple[Site, ...] = (LOON_BARRENS, DRY_PAN)

    def visit(self, site: Site) -> None:
        self.choose(site)

    def choose(self, site: Site) -> None:
        self.told.append(("choose_site", site))
        self._evening.needs_site = False
        self._evening.change(replace(self._evening.choices, site=site))


class FakeUpkeep(StandIn):
    """A journal in good order, until a test says otherwise."""

    real = JournalUpkeep

    def __init__(self, told: list[tuple[object, ...]]) -> None:
        super().__init__(told)
        self.fault: Fault | None = None
        self.unwritten: tuple[str, ...] = ()
        self.rescuable: tuple[Path, ...] = ()


class FakeEvening(StandIn):
    """An evening over fixed facts; it keeps what it was told."""

    real = Evening
    own = frozenset({"tell", "change", "closed", "left", "kept"})

    changed = Signal()
    snapshot_ready = Signal(object)

    def __init__(self, latest: Snapshot | None = None, *, rows: int = len(QUEUE)) -> None:
        super().__init__()
        self.messages = Messages(self)
        self.charts = FakeCharts()
        self.pages = FakePages()
        self.latest: Snapshot | None = snapshot() if latest is None else latest
        targets = [*QUEUE, *(deep(f"NGC {4000 + at}") for at in range(max(0, rows - len(QUEUE))))]
        self.queue = FakeQueue(self, tuple(map(item, range(rows), targets[:rows])))
        self.offers = FakeOffers()
        self.clock, self.sites = FakeClock(self), FakeSites(self)
        self.choices = Choices(1, LOON_BARRENS, target=SATURN if rows else None)
        self.needs_site = self.demo = False
        self.home = Path("home")
        self.left_as = Settings()
        self.kept: dict[str, object] = {}
        self.undo_text = "found: Vega"
        self.upkeep = FakeUpkeep(self.told)
        self.closed = 0
        self.left = Left()
        self.mounts = FakeMounts(self)
        self.night = FakeNight([one.target for one in self.queue.items if one.waiting])
        self.nights = FakeNights(*journal([one.target for one in self.queue.items[: len(QUEUE)]]))
        self.instruments = FakeInstruments(self)
        self.coming = FakeComing(self.told, UTC_NOW)
        self.road = FakeRoad(self.told)

    def tell(self, latest: Snapshot) -> None:
        """Give a new snapshot, as the service does."""
        self.latest = latest
        self.snapshot_ready.emit(latest)

    def change(self, choices: Choices) -> None:
        self.choices = choices
        self.changed.emit()

    def remember(self, name: str, value: object) -> None:
        self.kept[name] = value

    def find(self, text: str, answer: Callable[[Sequence[FakeHit]], None]) -> None:
        wanted = text.lower()
        answer([FakeHit(t, 90.0, Match.BEGINS, t.name) for t in QUEUE if wanted in t.name.lower()])

    def find_places(self, text: str, answer: Callable[[Sequence[Place]], None]) -> None:
        answer([place for place in PLACES if place.site.name.lower().startswith(text.lower())])

    def set_hours(self, text: str) -> None:
        self.told.append(("set_hours", text))
        self.change(replace(self.choices, hours=tuple(text.split("-")) if text else ()))

    def uncover(self) -> None:
        self.told.append(("uncover",))
        target = self.choices.target
        if target is not None:
            self.change(replace(self.choices, uncovered=frozenset({target.key})))

    def ask(self, kind: str, question: Callable[..., object], answer: Callable[..., None]) -> None:
        self.told.append(("ask", kind))
        answer(question(FakeLibrary()))

    def close(self, *, give_up: bool = False) -> Left:
        self.closed += 1
        return self.left if self.left.lost and not give_up else Left()


class FakeCatalogue:
    def target(self, key: str) -> Target:
        return {VEGA.key: VEGA, SATURN.key: SATURN}.get(key) or Target(key, key, Kind.STAR)


class FakeLibrary:
    catalogue = FakeCatalogue()


class FakeMounts(StandIn):
    """Mounts without a journal."""

    real = Mounts

    def __init__(self, evening: FakeEvening) -> None:
        super().__init__(evening.told)
        self._evening = evening
        self.known: tuple[Mount, ...] = ()
        self.centred: tuple[AimFacts, datetime] | None = None

    def choose(self, mount: Mount | None) -> None:
        self.told.append(("choose_mount", mount))
        if mount is not None:
            self.known = (mount, *(one for one in self.known if one.name != mount.name))
        self._evening.change(replace(self._evening.choices, mount=mount))

    def sight(self, aim: AimFacts, utc: datetime, azimuth: str, altitude: str) -> None:
        self.told.append(("sight", aim.target.key, utc, azimuth, altitude))

    def set_aside(self, numbers: Sequence[int]) -> None:
        self.told.append(("set_aside", tuple(numbers)))

    def bring_back(self, numbers: Sequence[int]) -> None:
        self.told.append(("bring_back", tuple(numbers)))

    def keep(self, numbers: Sequence[int]) -> None:
        self.told.append(("keep", tuple(numbers)))

    def rename(self, number: int, star: Fitting) -> None:
        self.told.append(("rename", number, star.key))


class FakeInstruments(StandIn):
    """A telescope and binoculars."""

    real = Instruments

    def __init__(self, evening: FakeEvening) -> None:
        super().__init__(evening.told)
        self._evening = evening
        self.known: tuple[Instrument, ...] = (SCOPE, BINOCULARS)

    def choose(self, instrument: Instrument | None) -> None:
        self.told.append(("choose_instrument", instrument))
        self._evening.change(replace(self._evening.choices, instrument=instrument))


MOUNT = Mount("wooden mount", Dial(step_deg=1.0), reach_high_deg=85.0)
SCOPE = Instrument(
    "150 mm f/8",
    InstrumentKind.TELESCOPE,
    150.0,
    focal_mm=1200.0,
    eyepieces=(Eyepiece("25 mm", 25.0, 52.0), Eyepiece("9 mm", 9.0, 52.0)),
    finder=Finder("8×50 finder", 6.0, 8.0, 50.0, Viewing.TURNED),
    viewing=Viewing.TURNED,
)
BINOCULARS = Instrument("10×50", InstrumentKind.BINOCULARS, 50.0, 10.0, 6.5)
STAYS = (
    StayFacts("8×50 finder", 6.0, 760.0, "down and left", "turned upside down"),
    StayFacts("25 mm", 1.08, 137.0, "down and left", "turned upside down"),
    StayFacts("9 mm", 0.39, 49.0, "down and left", "turned upside down"),
)


def sighted(number: int, name: str, off_deg: float, **changes: Any) -> SightingFacts:
    base = SightingFacts(
        number=number,
        name=name,
        utc=UTC_NOW - timedelta(minutes=30 - number),
        azimuth_text=f"{40 * number}½",
        altitude_text=f"{20.3 + 7 * number:.1f}",
        azimuth_residual_deg=off_deg * 0.8,
        altitude_residual_deg=-off_deg * 0.6,
        residual_deg=off_deg,
        set_aside=False,
        weak=False,
    )
    return replace(base, **changes)


PARAMETERS = (
    Parameter("azimuth_zero", 7.2, 0.21, 103.9),
    Parameter("altitude_zero", -0.42, 0.11, 2.0),
    Parameter("tilt_north", 0.31, 0.2, 1.0),
    Parameter("tilt_east", -0.6, 0.4, 1.0),
    Parameter("cone", 0.02, 0.29, 0.3),
    Parameter("skew", 0.0, 0.29, 0.3),
    Parameter("sag", 0.0, 0.1, 0.1),
)
NEXT = NextSightingFacts(
    "Capella",
    "hip:24608",
    "64½",
    "23.1",
    "Capella would bring the worst of the queue from 1.2° to 0.4°.",
    57.2,
    22.8,
)


def _questioned(*numbers: int) -> tuple[Sighting, ...]:
    return tuple(Sighting(UTC_NOW, "", "", 0.0, 0.0, 0.0, 0.0, number=one) for one in numbers)


STAR_DOUBT = Doubt(
    DoubtKind.STAR,
    _questioned(3),
    "Vega does not fit the other sightings: 24° off.",
    "The readings fit Deneb, 0.2°. Was it that?",
    (Fitting("Deneb", "hip:102098", 40.0, 70.0, 0.2),),
)
BUMP_DOUBT = Doubt(
    DoubtKind.BUMP,
    _questioned(1, 2),
    "Between Vega and Altair the dials jumped, by +4.0° in azimuth and 0.0° in altitude.",
    "If something was bumped, set the 2 earlier sightings aside: nothing is deleted.",
)
ONE_SIDE_DOUBT = Doubt(
    DoubtKind.ONE_SIDE,
    _questioned(1, 2),
    "All sightings lie within 12° of each other: aims elsewhere in the sky are less sure.",
    "Sight a star at least 40° away, best in another direction and at another height.",
)
FITTED = AlignmentFacts(
    1,
    0.3,
    "aligned on 3, within 0.3°",
    (
        sighted(1, "compass", 2.1, weak=True, altitude_residual_deg=None, altitude_text=""),
        sighted(2, "Arcturus", 0.12),
        sighted(3, "Vega", 0.21, azimuth_residual_deg=-0.2),
        sighted(4, "Altair", 0.08, altitude_residual_deg=0.05),
        sighted(5, "Deneb", 4.3, set_aside=True),
    ),
    PARAMETERS,
    (),
    NEXT,
)


def mounted(alignment: AlignmentFacts = FITTED, **changes: Any) -> "FakeEvening":
    """Give an evening with a mount and a telescope."""
    shown = aim(reading=READING, handling=HandlingFacts(STAYS))
    evening = FakeEvening(snapshot(alignment=alignment, aim=shown, **changes))
    evening.choices = replace(evening.choices, mount=MOUNT, instrument=SCOPE)
    return evening


def item(at: int, target: Target) -> QueueItem:
    outcome = {1: Outcome.FOUND, 4: Outcome.NOT_SEEN, 5: Outcome.SKIPPED}.get(at, Outcome.WAITING)
    done = None if outcome is Outcome.WAITING else UTC_NOW - timedelta(minutes=32 - 3 * at)
    return QueueItem(target, outcome, done, "a smoke ring" if at == 4 else "")
