"""What an order of the queue has to mind: pace, end, breaks and clouds."""

import re
from dataclasses import dataclass, replace
from datetime import datetime, timedelta, tzinfo
from typing import TYPE_CHECKING

from companion.advice import AdviceError
from companion.sky import clock_text, compass_point

if TYPE_CHECKING:
    from companion.night import Blocked

_POINTS = {
    "n": 0.0, "north": 0.0, "ne": 45.0, "northeast": 45.0, "e": 90.0, "east": 90.0,
    "se": 135.0, "southeast": 135.0, "s": 180.0, "south": 180.0, "sw": 225.0, "southwest": 225.0,
    "w": 270.0, "west": 270.0, "nw": 315.0, "northwest": 315.0,
}  # fmt: skip
_HALF_DEG = 45.0
_USUAL_MINUTES, _MOST_MINUTES = 30.0, 720.0
_CLOUD_DO = "Type a direction and minutes: west, 30 min; or two azimuths: 200 to 300, 45."
_CLOUDS_KEPT = "The clouds before are kept."
_SECTOR = re.compile(r"\s*(\d+(?:\.\d+)?)\s*°?\s*(?:to|-|–)\s*(\d+(?:\.\d+)?)\s*°?\s*$")
_MINUTES = re.compile(r"\s*(\d+(?:\.\d+)?)\s*(min|minutes|m|h|hours?)?\s*$")


def cloud_of(text: str, now_utc: datetime) -> "Blocked":
    """Read which part of the sky shows nothing, and for how long from now.

    A direction means the quarter of the sky around it. Without minutes half an hour is meant.

    Raises
    ------
    AdviceError
        If it says no direction, or no such length of time.
    """
    from companion.night import Blocked

    where, _comma, length = text.casefold().partition(",")
    first, last = _sector(where, text)
    return Blocked(first, last, now_utc + timedelta(minutes=_minutes(length, text)))


def _sector(where: str, text: str) -> tuple[float, float]:
    typed = _SECTOR.match(where)
    if typed:
        first, last = float(typed[1]), float(typed[2])
        if max(first, last) > 360.0:
            raise AdviceError(
                f"“{text.strip()[:40]}” has an azimuth over 360°.", _CLOUD_DO, _CLOUDS_KEPT
            )
        return first, last
    middle = _POINTS.get("".join(letter for letter in where if letter.isalpha()))
    if middle is None:
        raise AdviceError(f"“{where.strip()[:40]}” is not a direction.", _CLOUD_DO, _CLOUDS_KEPT)
    return (middle - _HALF_DEG) % 360.0, (middle + _HALF_DEG) % 360.0


def _minutes(length: str, text: str) -> float:
    if not length.strip():
        return _USUAL_MINUTES
    typed = _MINUTES.match(length)
    if typed is None:
        raise AdviceError(f"“{text.strip()[:40]}” says no minutes.", _CLOUD_DO, _CLOUDS_KEPT)
    minutes = float(typed[1]) * (60.0 if (typed[2] or "").startswith("h") else 1.0)
    if not 1.0 <= minutes <= _MOST_MINUTES:
        raise AdviceError(
            f"{minutes:g} minutes are outside 1 to {_MOST_MINUTES:g}.", _CLOUD_DO, _CLOUDS_KEPT
        )
    return minutes


def cloud_text(cloud: "Blocked") -> str:
    """Say where a cloud bank stands: "in the west"."""
    width = (cloud.to_azimuth_deg - cloud.from_azimuth_deg) % 360.0
    if abs(width - 2.0 * _HALF_DEG) > 0.5:
        return f"from {cloud.from_azimuth_deg:.0f}° to {cloud.to_azimuth_deg:.0f}°"
    return f"in the {compass_point(cloud.from_azimuth_deg + width / 2.0, 8)}"


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
