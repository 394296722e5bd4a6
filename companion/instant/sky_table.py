"""The targets of one instant as one table: queue, aim, where the tube was, bodies, Polaris."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from companion.instant.choices import Choices
from companion.sky import (
    LIGHTS,
    POLARIS,
    Horizontal,
    MagneticField,
    MagneticZone,
    Moment,
    Target,
    TargetTable,
)

_STAYS_GOOD = timedelta(hours=12)  # proper motion: the fastest star moves 0.01″ meanwhile


@dataclass(frozen=True, slots=True)
class SkyTable:
    """The table with the rows at which things stand; ``queue`` rows come first."""

    table: TargetTable
    queue_length: int
    target_row: int | None
    last_row: int | None
    made_utc: datetime

    @property
    def sun_row(self) -> int:
        """Row of the Sun; the other bodies follow in the order of ``LIGHTS``."""
        return len(self.table.targets) - 1 - len(LIGHTS)

    @property
    def moon_row(self) -> int:
        """Row of the Moon."""
        return self.sun_row + 1


@dataclass(frozen=True, slots=True)
class Instant:
    """What one instant starts from: the choices, and where everything stands at that moment."""

    choices: Choices
    sky: SkyTable
    moment: Moment
    ahead: Moment  # the moment that the aim is for: the lead later
    places: Horizontal  # rows of the table
    field: MagneticField

    @property
    def blackout(self) -> bool:
        """Whether no compass can be trusted here."""
        return self.field.zone is MagneticZone.BLACKOUT

    @property
    def compass_offset_deg(self) -> float:
        """What is added to a compass reading to get a true azimuth."""
        return self.field.declination_deg + (self.choices.compass_deviation_deg or 0.0)


class SkyTables:
    """Keeps the table until the targets change or half a day has gone."""

    def __init__(self) -> None:
        self._table: SkyTable | None = None
        self._of: tuple[Target | None, Target | None, tuple[Target, ...]] | None = None

    def table(self, choices: Choices, utc: datetime) -> SkyTable:
        """Give the table of these choices."""
        of = (choices.target, choices.last_target, choices.queue)
        known = self._table
        if known is None or self._of != of or abs(utc - known.made_utc) > _STAYS_GOOD:
            self._table = known = _made(choices, utc)
            self._of = of
        return known


def _made(choices: Choices, utc: datetime) -> SkyTable:
    targets = list(choices.queue)
    rows: list[int | None] = []
    for extra in (choices.target, choices.last_target):
        rows.append(None if extra is None else len(targets))
        targets += [] if extra is None else [extra]
    table = TargetTable.of([*targets, *LIGHTS, POLARIS], utc)
    return SkyTable(table, len(choices.queue), rows[0], rows[1], utc)
