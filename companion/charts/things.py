"""What stands on a chart, as places and sizes in pixels: plain records."""

from dataclasses import dataclass

from companion.arrays import FloatArray, IntArray
from companion.charts.frame import SkyBody
from companion.sky import DoubleStar, Kind


@dataclass(frozen=True, slots=True, eq=False)
class Dots:
    """Stars on the view, brightest first."""

    rows: IntArray  # of the frame
    places: FloatArray  # (n, 2)
    radii: FloatArray  # (n,)


@dataclass(frozen=True, slots=True, eq=False)
class Sign:
    """A deep-sky object; half axes in pixels, the major one clockwise from up."""

    name: str
    key: str
    kind: Kind
    place: FloatArray
    major: float
    minor: float
    angle_deg: float
    magnitude: float | None


@dataclass(frozen=True, slots=True, eq=False)
class DrawnBody:
    """Sun, Moon or planet; the lit side points to ``lit_angle_deg``, clockwise from up."""

    body: SkyBody
    place: FloatArray
    radius: float
    lit_angle_deg: float


@dataclass(frozen=True, slots=True, eq=False)
class DrawnDouble:
    """A double star: where its companion stands, to scale."""

    place: FloatArray
    radius: float
    apart: float  # pixels
    angle_deg: float
    double: DoubleStar


@dataclass(frozen=True, slots=True, eq=False)
class DrawnName:
    """A name to be written beside a symbol."""

    text: str
    place: FloatArray
    radius: float
    rank: str  # "target", "way", "body", "queue", "star", "deep", "group"
