"""Which part of the sky a chart shows, through what, and where directions come to lie on it."""

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import Final

import numpy as np

from companion.arrays import BoolArray, FloatArray
from companion.charts.frame import Float32Array, SkyFrame
from companion.finding import Optics, ViewFrame, Viewing, finder_limit
from companion.sky import ALL_STARS_COMPLETE_TO_MAG, STARS_COMPLETE_TO_MAG

ZENITH: Final = np.array([0.0, 0.0, 1.0])
_WHOLE_DEEP_LIMIT: Final = 6.0
_FAINTEST: Final = 12.5
CIRCLE_SHARE: Final = 0.96  # of the chart's smaller side that the field circle takes


class ChartKind(StrEnum):
    """The charts; the value is the word shown."""

    WHOLE = "whole sky"
    WIDE = "wide field"
    FINDER = "finder"
    EYEPIECE = "eyepiece"


@dataclass(frozen=True, slots=True)
class Lens:
    """What a chart looks through.

    ``span_deg`` is the sky that its smaller side shows at first; ``field_deg`` the instrument's
    field, 0 for the bare eye.
    """

    kind: ChartKind
    name: str
    span_deg: float
    field_deg: float
    viewing: Viewing
    star_limit: float
    deep_limit: float
    optics: Optics | None = None

    @property
    def by_eye(self) -> bool:
        """Whether it shows the sky as the bare eye has it."""
        return self.kind in {ChartKind.WHOLE, ChartKind.WIDE}

    @property
    def complete_to(self) -> float:
        """The magnitude to which all stars are there: fainter ones are known in part only."""
        known = STARS_COMPLETE_TO_MAG if self.by_eye else ALL_STARS_COMPLETE_TO_MAG
        return min(self.star_limit, known)

    @property
    def spans_deg(self) -> tuple[float, float]:
        """The narrowest and the widest that can be zoomed to."""
        widest = {ChartKind.WHOLE: 180.0, ChartKind.WIDE: 110.0}.get(self.kind, 6 * self.span_deg)
        return self.span_deg / 8.0, min(widest, 180.0)


def eyepieces(sky: SkyFrame) -> tuple[Optics, ...]:
    """Give the optics that are narrower than the finder's."""
    return sky.optics[1:]


def lens_of(sky: SkyFrame, kind: ChartKind, eyepiece: int = 0) -> Lens:
    """Give what a kind of chart looks through, with the chosen instrument.

    Parameters
    ----------
    sky : SkyFrame
        The sky, which tells the instrument and what the eye finds.
    kind : ChartKind
        The chart; without an eyepiece to look through, that of the finder takes its place.
    eyepiece : int, optional
        Which of ``eyepieces``, counted round.
    """
    eye = sky.drawn_limit
    if kind is ChartKind.WHOLE:
        deep_limit = min(eye, _WHOLE_DEEP_LIMIT)
        return Lens(kind, "the whole sky", 96.0, 0.0, Viewing.UPRIGHT, eye, deep_limit)
    if kind is ChartKind.WIDE:
        return Lens(kind, "wide field", 42.0, 0.0, Viewing.UPRIGHT, eye, 8.5)
    narrow = eyepieces(sky)
    if kind is ChartKind.EYEPIECE and narrow:
        optics = narrow[eyepiece % len(narrow)]
        limit = min(finder_limit(eye, optics), _FAINTEST)
        return _through(kind, optics, limit, limit + 1.0)
    limit = min(finder_limit(eye, sky.finder), 10.5)
    return _through(ChartKind.FINDER, sky.finder, limit, 10.0)


def _through(kind: ChartKind, optics: Optics, star_limit: float, deep_limit: float) -> Lens:
    span = min(optics.field_deg / CIRCLE_SHARE, 150.0)
    return Lens(
        kind, optics.name, span, optics.field_deg, optics.viewing, star_limit, deep_limit, optics
    )


@dataclass(frozen=True, eq=False)
class ChartView:
    """A view laid onto an area: pixels from its upper left corner.

    Parameters
    ----------
    frame : ViewFrame
        Where it looks and how it is turned.
    width, height : float
        The area.
    scale : float
        Pixels to a degree in the middle.
    """

    frame: ViewFrame
    width: float
    height: float
    scale: float

    @cached_property
    def middle(self) -> FloatArray:
        """The middle of the area (2,)."""
        return np.array([self.width / 2.0, self.height / 2.0])

    @cached_property
    def reach_deg(self) -> float:
        """How far from the middle, in the sky, the corners are."""
        corner = np.array([np.hypot(self.width, self.height) / 2.0 / self.scale, 0.0])
        seen = self.frame.unproject(corner)
        return float(np.degrees(np.arccos(np.clip(seen @ self.frame.centre, -1.0, 1.0))))

    def places(self, vectors: FloatArray | Float32Array) -> FloatArray:
        """Give places (..., 2); NaN opposite to the middle."""
        flat = self.frame.project(np.asarray(vectors, float))
        return np.asarray(self.middle + flat * np.array([self.scale, -self.scale]))

    def direction(self, place: FloatArray) -> FloatArray:
        """Give the direction (..., 3) at a place."""
        return self.frame.unproject((place - self.middle) / np.array([self.scale, -self.scale]))

    def near(self, vectors: FloatArray | Float32Array, more_deg: float = 0.0) -> BoolArray:
        """Say which directions (n, 3) can lie in the area."""
        reach = min(self.reach_deg + more_deg, 180.0)
        # In single precision, where the vectors are: the whole catalogue is asked in every frame.
        centre: FloatArray | Float32Array = self.frame.centre
        if vectors.dtype == np.float32:
            centre = centre.astype(np.float32)
        return np.asarray(np.dot(vectors, centre) > np.cos(np.radians(reach)))

    def holds(self, place: FloatArray, inset: float = 0.0) -> bool:
        """Say whether a place lies in the area."""
        x, y = float(place[0]), float(place[1])
        inside = inset <= x <= self.width - inset and inset <= y <= self.height - inset
        return bool(inside)

    def crossed(self, starts: FloatArray, ends: FloatArray) -> BoolArray:
        """Say which straight lines between places (n, 2) may cross the area; NaN never does."""
        low, high = np.minimum(starts, ends), np.maximum(starts, ends)
        edge = 4.0  # pixels: half a line's width
        within = (high >= -edge) & (low <= 2.0 * self.middle + edge)
        return np.asarray(within.all(axis=1))

    def angles(
        self, vectors: FloatArray, position_angles_deg: FloatArray, north: FloatArray
    ) -> FloatArray:
        """Give how position angles (n,) at directions (n, 3) stand, clockwise from up."""
        east = np.cross(north, vectors)
        east /= np.maximum(np.linalg.norm(east, axis=-1, keepdims=True), 1e-12)
        angle = np.radians(position_angles_deg)[:, None]
        ahead = vectors + 1e-4 * (np.cos(angle) * np.cross(vectors, east) + np.sin(angle) * east)
        ahead /= np.linalg.norm(ahead, axis=-1, keepdims=True)
        step = self.places(ahead) - self.places(vectors)
        return np.asarray(np.degrees(np.arctan2(step[:, 0], -step[:, 1])) % 360.0)

    def edge(self, vector: FloatArray, inset: float) -> tuple[FloatArray, float]:
        """Give where a direction off the area leaves it, and its angle clockwise from up."""
        angle = self.frame.angle_towards(vector)
        way = np.array([np.sin(np.radians(angle)), -np.cos(np.radians(angle))])
        room = self.middle - inset
        with np.errstate(divide="ignore"):
            length = float(np.min(room / np.maximum(np.abs(way), 1e-12)))
        return self.middle + way * length, angle
