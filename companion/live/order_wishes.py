"""What an order of the queue has to mind: pace, end, breaks and clouds."""

from dataclasses import dataclass, replace
from datetime import datetime, tzinfo
from typing import TYPE_CHECKING

from companion.advice import AdviceError
from companion.live.clouds import cloud_text
from companion.sky import clock_text

if TYPE_CHECKING:
    from companion.night import Blocked


@dataclass(frozen=True, slots=True)
class OrderWishes:
    """Replaced, never edited. ``end_utc`` None means dawn at the latest."""

    target_minutes: float = 8.0
    end_utc: datetime | None = None
    breaks: tuple[tuple[datetime, datetime], ...] = ()
    clouds: "tuple[Blocked, ...]" = ()

    def at(self, utc: datetime) -> "OrderWishes":
        """Leave out what is over."""
        return replace(
            self,
            end_utc=None if self.end_utc is not None and self.end_utc <= utc else self.end_utc,
            breaks=tuple(one for one in self.breaks if one[1] > utc),
            clouds=tuple(one for one in self.clouds if one.until_utc > utc),
        )

    def with_break(self, begins_utc: datetime, ends_utc: datetime) -> "OrderWishes":
        """Add a break.

        Raises
        ------
        AdviceError
            If it ends before it begins.
        """
        if ends_utc <= begins_utc:
            raise AdviceError(
                "The break ends before it begins.", "Give its begin first: 23:00-23:20."
            )
        return replace(self, breaks=(*self.breaks, (begins_utc, ends_utc)))

    def words(self, zone: tzinfo) -> tuple[str, ...]:
        """Say it, one part each, by a site's clocks."""

        def clock(utc: datetime) -> str:
            return clock_text(utc.astimezone(zone))

        parts = [f"{self.target_minutes:g} minutes each"]
        parts += [f"until {clock(self.end_utc)}"] if self.end_utc else []
        parts += [f"break {clock(one)} to {clock(other)}" for one, other in self.breaks]
        parts += [f"clouds {cloud_text(one)} until {clock(one.until_utc)}" for one in self.clouds]
        return tuple(parts)
