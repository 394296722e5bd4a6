"""What to draw of a target, to scale and as an instrument turns it: plain shapes, in arcseconds.

x grows to the right and y upwards in the view, the zenith on top where the view is upright.
"""

from dataclasses import dataclass
from enum import StrEnum


class Tone(StrEnum):
    """How bright a shape is, as a stable code."""

    DARK = "dark"  # the sky's own black, over something bright
    QUIET = "quiet"
    LIGHT = "light"
    BRIGHT = "bright"


@dataclass(frozen=True, slots=True)
class Shape:
    """A closed line, filled with a tone or only drawn as a line."""

    points: tuple[tuple[float, float], ...]
    tone: Tone
    filled: bool = True


@dataclass(frozen=True, slots=True)
class Dot:
    """A point of light; ``size`` is 1 for the faintest that show and grows with the light."""

    x: float
    y: float
    size: float
    name: str = ""


@dataclass(frozen=True, slots=True)
class Label:
    """A name beside a place."""

    x: float
    y: float
    text: str


@dataclass(frozen=True, slots=True)
class Picture:
    """Everything to draw, within ``radius_arcsec`` around the middle.

    ``field_arcsec`` is the radius of the view's own edge, None where it lies outside the picture.
    ``caption`` says through what it is seen.
    """

    radius_arcsec: float
    caption: str
    shapes: tuple[Shape, ...] = ()
    dots: tuple[Dot, ...] = ()
    labels: tuple[Label, ...] = ()
    field_arcsec: float | None = None
    north_deg: float | None = None  # of north in the view, from its top to the right
