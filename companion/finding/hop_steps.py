"""Hops as plain records, each said in one plain sentence."""

from dataclasses import dataclass
from typing import Final

from companion.finding.courses import Course
from companion.finding.way_words import go_words
from companion.sky import angle_text, magnitude_text


@dataclass(frozen=True, slots=True)
class Hop:
    """One step; directions in the view are clockwise from up, as the instrument shows it."""

    start_hip: int
    start_name: str
    hip: int  # 0: the target itself
    name: str
    magnitude: float | None  # of the arrival
    leg_deg: float
    fields: float  # the leg as a part of the field
    view_angle_deg: float
    clock: int  # 12 is up in the view
    view: Course  # where the next star stands in the view
    push: Course  # where the tube goes, as one stands behind it
    landmark: str
    azimuth_deg: float  # of the arrival, refracted, for the dials
    altitude_deg: float
    sentence: str


@dataclass(frozen=True, slots=True)
class Hops:
    """The way by hops and a second one; ``advice`` says what there is to know, or why none."""

    steps: tuple[Hop, ...]
    second: tuple[Hop, ...] = ()
    advice: str = ""


_BESIDE: Final = 0.06  # of the field
_PARTS: Final = (
    (0.1, "a tenth of a field"),
    (0.25, "a quarter of a field"),
    (1.0 / 3.0, "a third of a field"),
    (0.5, "half a field"),
    (2.0 / 3.0, "two thirds of a field"),
    (0.75, "three quarters of a field"),
)


def clock_hour(view_angle_deg: float) -> int:
    """Give the hour of a clock face whose 12 is up."""
    return round(view_angle_deg / 30.0) % 12 or 12


def fields_words(fields: float) -> str:
    """Say a part of a field."""
    return min(_PARTS, key=lambda part: abs(part[0] - fields))[1]


def hop_sentence(hop: Hop) -> str:
    """Say one step: where the next star stands in the view, where to push, how to know it."""
    far = angle_text(hop.leg_deg)
    name = f"{hop.name} ({magnitude_text(hop.magnitude)})" if hop.hip else hop.name
    if hop.fields < _BESIDE:
        text = f"{name} is just beside {hop.start_name}, {far} away at {hop.clock} o'clock"
    else:
        text = (
            f"From {hop.start_name} go to {hop.clock} o'clock, {fields_words(hop.fields)} ({far}), "
            f"pushing {go_words(hop.push)}, to {name}"
        )
    return f"{text}: {hop.landmark}." if hop.landmark else f"{text}."
