"""What the charts are drawn from: the sky of one instant as directions. Immutable.

All vectors are unit vectors as ``companion.finding.seen_vectors`` has them: x north, y west, z up,
refracted. Rows of stars and of deep-sky objects are those of the ``SkyIndex``.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from companion.arrays import BoolArray, FloatArray, IntArray
from companion.charts.faint import FaintSky
from companion.finding import Optics
from companion.sky import DoubleStar, Kind, Site

Float32Array = NDArray[np.float32]


@dataclass(frozen=True, slots=True, eq=False)
class SkyIndex:
    """What does not move: made once, shared by all frames.

    Stars are sorted by brightness, deep-sky objects by how well they are known and then by
    brightness.
    """

    hip: IntArray  # (n,)
    star_magnitude: Float32Array  # (n,), ascending
    star_row: Mapping[int, int]  # row of a HIP number, of stars that have a name
    star_names: Mapping[int, str]  # by row, those that have one, the brightest first
    doubles: Mapping[int, DoubleStar]  # by row
    variables: frozenset[int]  # rows
    group_lines: IntArray  # (k, 2) rows
    group_names: tuple[tuple[str, IntArray], ...]  # with the rows of its stars
    deep_keys: tuple[str, ...]
    deep_names: tuple[str, ...]
    deep_kinds: tuple[Kind, ...]
    deep_magnitude: Float32Array  # (m,), NaN where unknown
    deep_known: BoolArray  # Messier and Caldwell
    deep_axes_deg: Float32Array  # (m, 2) major, minor, NaN where unknown
    deep_angle_deg: Float32Array  # (m,) position angle of the major axis, NaN where unknown


@dataclass(frozen=True, slots=True, eq=False)
class SkyBody:
    """Sun, Moon or planet."""

    key: str
    name: str
    body: str
    vector: FloatArray
    magnitude: float | None
    diameter_deg: float
    lit_fraction: float


@dataclass(frozen=True, slots=True, eq=False)
class SkyTarget:
    """The current target, or one of the queue."""

    key: str
    name: str
    kind: Kind
    vector: FloatArray
    magnitude: float | None = None
    size: str = ""
    note: str = ""
    constellation: str = ""  # full name


@dataclass(frozen=True, slots=True, eq=False)
class SkyWay:
    """One way by eye: what it says, and its lines, the first step of two before the second."""

    sentence: str
    names: tuple[str, ...]
    stars: tuple[FloatArray, ...]  # what the eye starts from, in order
    traces: tuple[FloatArray, ...]  # (k, 3) each


@dataclass(frozen=True, slots=True, eq=False)
class SkyHop:
    """One step through the finder."""

    sentence: str
    names: tuple[str, str]  # of its start and its end
    start: FloatArray
    end: FloatArray
    fields: float  # its length as a part of the field
    readings: str  # what the dials show at its end, empty without a mount


@dataclass(frozen=True, slots=True, eq=False)
class SkyPaths:
    """How to get to the target; the advices say why there is nothing, or what to mind."""

    ways: tuple[SkyWay, ...] = ()
    ways_advice: str = ""
    hops: tuple[SkyHop, ...] = ()
    second: tuple[SkyHop, ...] = ()
    hops_advice: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class SkyTrack:
    """Where a target that moves is going: its path, and the times that stand beside it."""

    points: FloatArray  # (k, 3)
    marks: tuple[tuple[str, FloatArray], ...]  # a date or a time, and where it is then


@dataclass(frozen=True, slots=True, eq=False)
class GridLine:
    """A line of one reading of the mount's own dials."""

    text: str
    points: FloatArray  # (k, 3)


class DialTexts(NamedTuple):
    """What both dials show, each in its own steps."""

    altitude: str
    azimuth: str

    @property
    def said(self) -> str:
        """Both, in one line."""
        return f"altitude {self.altitude}, azimuth {self.azimuth}"


def no_readings(_azimuth_deg: float, _altitude_deg: float) -> DialTexts | None:
    """Say nothing: no mount is aligned."""
    return None


@dataclass(frozen=True, slots=True, eq=False)
class SkyFrame:
    """The whole sky of one instant. ``stamp`` repeats that of the choices."""

    stamp: int
    utc: datetime
    site: Site
    index: SkyIndex
    stars: Float32Array  # (n, 3)
    deep: Float32Array  # (m, 3)
    bodies: tuple[SkyBody, ...]
    pole: FloatArray  # north celestial pole of date, about which the sky turns
    north: FloatArray  # pole of the catalogues, from which position angles count
    turn: FloatArray  # (3, 3) from the catalogues' axes to this frame
    groups: FloatArray  # (g, 3) middles of the groups that are up whole, NaN for the others
    horizon: FloatArray  # (k, 3) around, the site's own
    sun_altitude_deg: float
    eye_limit: float  # the faintest star that the eye finds anywhere in this sky
    drawn_limit: float  # the same, or that of the dark while it is too bright for any star
    by_eye: BoolArray  # (k,) of the brightest stars: what the eye finds where they stand
    optics: tuple[Optics, ...]  # with the chosen instrument, widest field first
    finder: Optics  # what hops go through: the widest of them, or a usual finder
    target: SkyTarget | None = None
    queue: tuple[SkyTarget, ...] = ()
    track: SkyTrack | None = None  # of the target, where that moves by itself
    caution: str = ""  # why the target must not be looked for, near the Sun
    radius95_deg: float | None = None  # of the mount's aim at the target
    pointed: FloatArray | None = None  # where the typed readings point
    pointed_radius_deg: float = 0.0
    grid: tuple[GridLine, ...] = ()
    borders: FloatArray | None = None  # (k, 3), lines parted by NaN
    faint: FaintSky | None = None  # the stars that only a telescope shows
    ecliptic: FloatArray | None = None  # (k, 3), the path of Sun and planets, a closed line
    paths: SkyPaths = field(default_factory=SkyPaths)
    # Of azimuth and altitude, on the dials.
    readings: Callable[[float, float], DialTexts | None] = no_readings

    def carry(self, vector: FloatArray, earlier: "SkyFrame") -> FloatArray:
        """Give where a direction of an earlier frame is now, as the sky has carried it."""
        moved = self.turn @ (earlier.turn.T @ vector)
        return np.asarray(moved / np.linalg.norm(moved))
