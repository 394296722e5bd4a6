"""An evening over fixed facts, and its parts, in place of the real one."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any, ClassVar

from PySide6.QtCore import Signal

from companion.finding import Instrument
from companion.instant import AimFacts, AlignmentFacts, Choices, HandlingFacts, Snapshot
from companion.journal import Fault, Left, Settings
from companion.live import (
    Evening,
    EveningClock,
    GuideRound,
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
from companion.mount import Fitting, Mount
from companion.sky import DRY_PAN, LOON_BARRENS, Kind, Match, Site, Target
from window.coming_fakes import FakeComing
from window.facts import QUEUE, READING, SATURN, UTC_NOW, VEGA, aim, deep, item, snapshot
from window.gear_facts import BINOCULARS, FITTED, MOUNT, SCOPE, STAYS
from window.host_fakes import FakeHost
from window.night_fakes import FakeNight, FakeNights, journal
from window.road_fakes import FakeRoad
from window.sky_fakes import FakeCharts, FakePages
from window.standing_in import StandIn


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


class FakeGuideRound(StandIn):
    """A round that only writes down from where."""

    real = GuideRound
    said: ClassVar[dict[str, str]] = {"start": "start a round"}


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
        self.guide_round = FakeGuideRound(self.told)
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
        self.host = FakeHost(self.told)

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

    def sight(self, aim: AimFacts, utc: datetime, *, altitude: str, azimuth: str) -> None:
        self.told.append(("sight", aim.target.key, utc, altitude, azimuth))

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


def mounted(alignment: AlignmentFacts = FITTED, **changes: Any) -> "FakeEvening":
    """Give an evening with a mount and a telescope."""
    shown = aim(reading=READING, handling=HandlingFacts(STAYS))
    evening = FakeEvening(snapshot(alignment=alignment, aim=shown, **changes))
    evening.choices = replace(evening.choices, mount=MOUNT, instrument=SCOPE)
    return evening
