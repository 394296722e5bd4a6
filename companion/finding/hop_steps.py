"""Hops as plain records."""

from dataclasses import dataclass

from companion.finding.courses import Course


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
