"""Whole skies for the charts, and the service that gives them: for drawing, no check values."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from functools import cache
from typing import Any

from PySide6.QtCore import Signal

from companion.about import About
from companion.charts import SkyFrame, SkyFrameMaker
from companion.finding import Eyepiece, Finder, Instrument, InstrumentKind, Viewing
from companion.instant import Choices
from companion.live import AboutThread, ChartThread
from companion.sky import LOON_BARRENS, Ephemeris, Target, load_catalogue
from window.standing_in import StandIn

EVENING = datetime(2026, 10, 10, 23, 14, 7, tzinfo=UTC)
NOON = datetime(2026, 10, 10, 16, 30, tzinfo=UTC)
CONJUNCTION = datetime(2026, 10, 22, 16, 30, tzinfo=UTC)  # Venus passes the Sun
TELESCOPE = Instrument(
    "demo telescope",
    InstrumentKind.TELESCOPE,
    150.0,
    focal_mm=1200.0,
    eyepieces=(Eyepiece("25 mm", 25.0, 52.0), Eyepiece("9 mm", 9.0, 52.0)),
    finder=Finder("8×50 finder", 6.0, 8.0, 50.0, Viewing.TURNED),
    viewing=Viewing.TURNED,
)


@cache
def maker() -> SkyFrameMaker:
    return SkyFrameMaker(Ephemeris.load(), load_catalogue())


@cache
def sky_of(
    key: str = "ngc:NGC0224", utc: datetime = EVENING, *, borders: bool = True, **changes: Any
) -> SkyFrame:
    """Give the sky of a moment with that target; an empty key means none."""
    target = load_catalogue().target(key) if key else None
    choices = Choices(1, LOON_BARRENS, target=target, instrument=TELESCOPE)
    return maker().frame(replace(choices, **changes), utc, borders=borders)


class FakeCharts(StandIn):
    """Charts that give the sky that they were given."""

    real = ChartThread
    own = frozenset({"sky", "live", "borders", "tell"})

    snapshot_ready = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.sky: Callable[[], SkyFrame] | None = None
        self.live = self.borders = False

    def show(self, *, live: bool) -> None:
        self.live = live
        if live and self.sky is not None:
            self.snapshot_ready.emit(self.sky())

    def set_borders(self, *, shown: bool) -> None:
        self.borders = shown

    def tell(self, sky: SkyFrame) -> None:
        """Give a new sky, as the thread does."""
        self.snapshot_ready.emit(sky)


class FakePages(StandIn):
    """Pages of targets that give the one that they were given."""

    real = AboutThread
    own = frozenset({"page", "live", "tell", "looked_at"})

    snapshot_ready = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.page: About | None = None
        self.target: Target | None = None
        self.looked_at: Target | None = None
        self.live = False

    def look_at(self, target: Target | None) -> None:
        self.looked_at = target

    def show(self, *, live: bool, others: tuple[Instrument, ...] = ()) -> None:
        self.live = live

    def tell(self, page: About) -> None:
        """Give a new page, as the thread does."""
        self.target = page.target
        self.snapshot_ready.emit(page)
