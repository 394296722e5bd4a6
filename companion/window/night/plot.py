"""The plot of the night: what it shows, and where a time and an altitude stand in it."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, tzinfo
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF

from companion.window.night.words import Column

if TYPE_CHECKING:
    from companion.live import NightView, OrderView
    from companion.night import PlannedStop

HIGHEST_DEG = 90.0


@dataclass(frozen=True, slots=True, eq=False)
class ChartFacts:
    """What the chart and the lanes under it show; ``keys`` are the targets in their order."""

    view: "NightView"
    order: "OrderView | None"
    keys: tuple[str, ...]
    chosen: str | None
    cursor_s: float
    now_utc: datetime
    low_limit_deg: float
    preview: bool = False  # the shown moment stands still and is not that of the clock

    def stop(self, key: str) -> "PlannedStop | None":
        """Give the planned turn of a target."""
        stops = () if self.order is None else self.order.order.stops
        return next((stop for stop in stops if stop.target.key == key), None)


@dataclass(frozen=True, slots=True)
class TimeAxis:
    """From ``begins_s`` at ``left`` to ``ends_s`` at ``right``; seconds since 1970, pixels."""

    begins_s: float
    ends_s: float
    left: float
    right: float

    def x(self, time_s: float) -> float:
        """Give where a time stands."""
        share = (time_s - self.begins_s) / max(self.ends_s - self.begins_s, 1.0)
        return self.left + share * (self.right - self.left)

    def time_s(self, x: float) -> float:
        """Give the time at a place, within the axis."""
        share = (x - self.left) / max(self.right - self.left, 1.0)
        return self.begins_s + min(max(share, 0.0), 1.0) * (self.ends_s - self.begins_s)

    def clamped(self, time_s: float) -> float:
        """Bring a time into the axis."""
        return min(max(time_s, self.begins_s), self.ends_s)

    def holds(self, time_s: float) -> bool:
        """Say whether a time is on the axis."""
        return self.begins_s <= time_s <= self.ends_s

    @property
    def hour_width(self) -> float:
        """Pixels that an hour takes."""
        return (self.right - self.left) / max((self.ends_s - self.begins_s) / 3600.0, 1e-6)

    def ticks(self, zone: tzinfo, minutes: int) -> Iterator[datetime]:
        """Give the full tens of minutes, hours, … of the site's own clock on the axis."""
        step = timedelta(minutes=minutes)
        first = datetime.fromtimestamp(self.begins_s, UTC).astimezone(zone)
        midnight = first.replace(hour=0, minute=0, second=0, microsecond=0)
        # Stepped in universal time, so that nothing is missing when the clocks are changed.
        at = midnight.astimezone(UTC)
        at += step * max(0, int((first.astimezone(UTC) - at) / step))
        end = datetime.fromtimestamp(self.ends_s, UTC)
        while at <= end:
            if at.timestamp() >= self.begins_s:
                yield at.astimezone(zone)
            at += step


def y_of(room: QRectF, altitude_deg: float) -> float:
    """Give where an altitude stands in the plot."""
    return room.bottom() - altitude_deg / HIGHEST_DEG * room.height()


def top_of(facts: ChartFacts, axis: TimeAxis, room: QRectF, altitude_deg: Column) -> QPointF | None:
    """Give where a curve stands highest within the plot; None if it stays below."""
    inside = [
        (float(up), time_s)
        for up, time_s in zip(altitude_deg, facts.view.times_s, strict=True)
        if axis.holds(time_s)
    ]
    up, time_s = max(inside, default=(-1.0, 0.0))
    return QPointF(axis.x(time_s), y_of(room, up)) if up > 0.0 else None
