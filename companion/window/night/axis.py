"""The clock along the night: one scale of times for everything that is drawn above it."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, tzinfo


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
