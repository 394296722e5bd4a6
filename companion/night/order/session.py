"""The evening that a queue has to fit into: its hours, its breaks, its clouds, its pace."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from companion.advice import AdviceError
from companion.sky import Target

_LONGEST = timedelta(hours=24)


@dataclass(frozen=True, slots=True)
class Blocked:
    """A part of the sky that shows nothing for a while, such as a cloud bank.

    Azimuths run clockwise from the first to the second; the sector reaches up to ``below_deg``.
    """

    from_azimuth_deg: float
    to_azimuth_deg: float
    until_utc: datetime
    below_deg: float = 90.0

    def __post_init__(self) -> None:
        if self.from_azimuth_deg % 360.0 == self.to_azimuth_deg % 360.0:
            raise AdviceError(
                "The blocked part of the sky begins and ends in the same direction.",
                "Give two directions, clockwise, such as 225° and 315° for the west.",
            )


@dataclass(frozen=True, slots=True)
class Wish:
    """A target in the queue: what it is worth (any scale), and minutes of its own if it needs."""

    target: Target
    value: float = 1.0
    minutes: float | None = None

    def __post_init__(self) -> None:
        if not 0.0 < self.value < 1e6:
            raise AdviceError(
                f"{self.target.name} is worth {self.value:g}, outside 0 to 1000000.",
                "Give a number above zero; twice the number is worth twice as much.",
            )
        if self.minutes is not None:
            _minutes(f"{self.target.name}", self.minutes)


@dataclass(frozen=True, slots=True)
class Session:
    """When and how fast a person observes.

    A turn takes ``setup_minutes`` for dials and finding, and a minute more for every
    ``degrees_per_minute`` of its longer way, azimuth or altitude. ``tube_deg`` is the azimuth and
    altitude where the tube points at the start, None where nobody knows.
    """

    start_utc: datetime
    end_utc: datetime
    breaks: tuple[tuple[datetime, datetime], ...] = ()
    blocked: tuple[Blocked, ...] = ()
    target_minutes: float = 8.0
    setup_minutes: float = 1.5
    degrees_per_minute: float = 60.0
    tube_deg: tuple[float, float] | None = None

    def __post_init__(self) -> None:
        if not timedelta(0) < self.end_utc - self.start_utc <= _LONGEST:
            raise AdviceError(
                f"From {self.start_utc:%H:%M} to {self.end_utc:%H:%M} UTC is not an evening.",
                "Give an end after the start, at most 24 hours later.",
            )
        for begins, ends in self.breaks:
            if ends <= begins:
                raise AdviceError(
                    f"The break from {begins:%H:%M} to {ends:%H:%M} UTC ends before it begins.",
                    "Give its begin first.",
                )
        _minutes("a target", self.target_minutes)
        if not 0.0 <= self.setup_minutes <= 60.0 or not 1.0 <= self.degrees_per_minute <= 10_000.0:
            raise AdviceError(
                f"{self.setup_minutes:g} minutes a turn at {self.degrees_per_minute:g}° a minute "
                "is not a pace.",
                "Give 0 to 60 minutes, and 1° to 10000° a minute.",
            )


def _minutes(what: str, minutes: float) -> None:
    if not 0.5 <= minutes <= 600.0:
        raise AdviceError(
            f"{minutes:g} minutes for {what} is outside 0.5 to 600.", "Give minutes in that range."
        )
