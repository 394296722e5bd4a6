"""One typeface, one scale of type and one grid; the last two grow with the window.

Sizes are points on a 14-inch screen of 1920 by 1080 pixels that the window fills; a window of
another size keeps the proportions. At two metres capitals need 60 points to be read easily.
"""

import logging
from dataclasses import dataclass
from math import sqrt

from PySide6.QtGui import QFont, QFontDatabase, QResizeEvent
from PySide6.QtWidgets import QWidget

from companion.sky import resource

_FULL_WIDTH = 1920.0
_FULL_HEIGHT = 1080.0
_PIXELS_PER_POINT = 157.35 / 72  # a 14-inch screen of 1920 by 1080
_LEAST, _MOST = 0.5, 3.0
_COLUMNS = 12
_LABEL = 13  # points: 14 pixels of capitals at 1366 by 768
_GLOVE = 44  # pixels: the least side of what a glove must hit
FAMILY = "Companion Sans"
_FILES = ("CompanionSans-Regular.ttf", "CompanionSans-Medium.ttf")
_log = logging.getLogger(__name__)


def load_fonts() -> None:
    """Register the font files; a missing one is logged and Qt's own font stands in."""
    for name in _FILES:
        try:
            readable = QFontDatabase.addApplicationFont(str(resource(f"fonts/{name}"))) >= 0
        except FileNotFoundError:
            readable = False
        if not readable:
            _log.error("The font %s could not be read.", name)


def font(pixels: float) -> QFont:
    """Give the font of everything: of one weight, as a thin letter is a dim one.

    Smoothing by subpixels would tint the edges, so it is off.
    """
    made = QFont(FAMILY)
    made.setWeight(QFont.Weight.Medium)
    made.setPixelSize(max(1, round(pixels)))
    made.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    made.setStyleStrategy(QFont.StyleStrategy.NoSubpixelAntialias)
    return made


@dataclass(frozen=True, slots=True)
class TypeScale:
    """All sizes in pixels, from one factor: 1.0 is the full 14-inch screen."""

    factor: float = 1.0

    def pixels(self, points: float) -> int:
        """Give the size of type in pixels."""
        return round(points * _PIXELS_PER_POINT * self.factor)

    @property
    def caption(self) -> QFont:
        """Captions, units, keys."""
        return font(self.pixels(_LABEL))

    @property
    def small(self) -> QFont:
        """Figures in tables and on dials."""
        return font(self.pixels(_LABEL))

    @property
    def body(self) -> QFont:
        """Sentences and names."""
        return font(self.pixels(16))

    @property
    def value(self) -> QFont:
        """Single facts."""
        return font(self.pixels(22))

    @property
    def title(self) -> QFont:
        """What heads a screen."""
        return font(self.pixels(30))

    @property
    def turn(self) -> QFont:
        """The target's name and the way to turn: 18 minutes of arc at two metres."""
        return font(self.pixels(42))

    def grid(self, steps: float = 1.0) -> int:
        """Give a length on the eight-pixel grid."""
        return max(1, round(8 * self.factor * steps))

    @property
    def margin(self) -> int:
        """How far words stand from the sides of the window."""
        return self.grid(6)

    @property
    def gutter(self) -> int:
        """What parts two columns."""
        return self.grid(4)

    def column(self, width: int, number: int) -> int:
        """Give where one of the twelve columns of a width begins, counted from 0."""
        step = (width - 2 * self.margin + self.gutter) / _COLUMNS
        return round(self.margin + number * step)

    def target(self, steps: float = 6.0) -> int:
        """Give a length on the grid that a glove still hits."""
        return max(_GLOVE, self.grid(steps))

    @property
    def rule(self) -> int:
        """How thick a rule is, in whole pixels: half of one would only be dimmer."""
        return max(1, round(self.hair))

    @property
    def hair(self) -> float:
        """The finest line, in pixels."""
        return max(1.0, 1.25 * self.factor)


def scale_for(width: int, height: int) -> TypeScale:
    """Give the scale for a window of this size in logical pixels."""
    by_area = sqrt(width * height / (_FULL_WIDTH * _FULL_HEIGHT))
    factor = min(by_area, width / 1080.0, height / 600.0)
    return TypeScale(round(min(max(factor, _LEAST), _MOST), 3))


class Scaled:
    """Mixed into widgets that follow the scale; the shell calls ``set_scale`` when it changes."""

    scale: TypeScale = TypeScale()

    def set_scale(self, scale: TypeScale) -> None:
        """Take a new scale; override to lay out again, and call this first."""
        self.scale = scale
        if isinstance(self, QWidget):
            self.updateGeometry()
            self.update()


class Arranged(Scaled, QWidget):
    """A widget with parts inside: ``arrange`` lays them out with every new scale and size."""

    def arrange(self) -> None:
        """Lay the parts out."""

    def set_scale(self, scale: TypeScale) -> None:
        """Take a new scale."""
        super().set_scale(scale)
        self.arrange()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Lay out again."""
        super().resizeEvent(event)
        self.arrange()


def spread_scale(root: QWidget, scale: TypeScale) -> None:
    """Give the scale to ``root`` and to every widget below it."""
    for widget in (root, *root.findChildren(QWidget)):
        if isinstance(widget, Scaled):
            widget.set_scale(scale)
