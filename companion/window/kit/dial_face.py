"""Graduation of drawn dials: fine ticks at the dial's own steps, longer each five and ten."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, floor

_FINE_STEPS_DEG = (0.1, 0.2, 0.25, 0.5, 1.0, 2.0, 5.0, 10.0)
_LEAST_GAP = 3.4  # pixels between ticks that the eye still parts


@dataclass(frozen=True, slots=True)
class DialScale:
    """How the readings run along a drawn dial: reading = offset + direction x angle.

    ``period_deg`` is 360 for a ring, 0 for a scale that does not close.
    """

    direction: int = 1
    offset_deg: float = 0.0
    step_deg: float = 1.0
    period_deg: float = 0.0

    def angle_of(self, reading_deg: float) -> float:
        """Give the drawn angle of a reading."""
        return (reading_deg - self.offset_deg) * self.direction

    def reading_of(self, angle_deg: float) -> float:
        """Give the reading at a drawn angle."""
        reading = self.offset_deg + self.direction * angle_deg
        return reading % self.period_deg if self.period_deg else reading


PLAIN_SCALE = DialScale()
PLAIN_RING = DialScale(period_deg=360.0)


@dataclass(frozen=True, slots=True)
class Graduation:
    """One mark; ``rank`` 0 is the finest, 1 each fifth, 2 each tenth; with a label or without."""

    angle_deg: float
    rank: int
    label: str


def fine_step(scale: DialScale, pixels_per_deg: float) -> float:
    """Give the finest step, at or above the dial's own, whose ticks can be told apart."""
    for step in _FINE_STEPS_DEG:
        if step >= scale.step_deg - 1e-9 and step * pixels_per_deg >= _LEAST_GAP:
            return step
    return _FINE_STEPS_DEG[-1]


def label_step(pixels_per_deg: float, gap: float) -> int:
    """Give how many degrees lie between figures that are at least ``gap`` pixels apart."""
    return next((step for step in (10, 30, 45) if step * pixels_per_deg >= gap), 90)


def graduations(
    scale: DialScale, low_deg: float, high_deg: float, pixels_per_deg: float, gap: float
) -> Iterator[Graduation]:
    """Give the marks between two drawn angles, figures at least ``gap`` pixels apart."""
    step, figures = fine_step(scale, pixels_per_deg), label_step(pixels_per_deg, gap)
    ends = sorted(scale.offset_deg + scale.direction * end for end in (low_deg, high_deg))
    for count in range(ceil(ends[0] / step - 1e-6), floor(ends[1] / step + 1e-6) + 1):
        reading = count * step
        rank = 2 if _whole(reading / 10) else 1 if _whole(reading / 5) else 0
        shown = reading % scale.period_deg if scale.period_deg else reading
        label = f"{shown:.0f}" if _whole(reading / figures) else ""
        yield Graduation(scale.angle_of(reading), rank, label)


def _whole(value: float) -> bool:
    return abs(value - round(value)) < 1e-6
