"""The typeface that the window carries, so that it looks the same everywhere."""

import logging

from PySide6.QtGui import QFont, QFontDatabase

from companion.sky import resource

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


def font(pixels: float, *, caption: bool = False) -> QFont:
    """Give the font of values, or the lighter one of captions.

    Smoothing by subpixels would tint the edges, so it is off.
    """
    made = QFont(FAMILY)
    made.setWeight(QFont.Weight.Normal if caption else QFont.Weight.Medium)
    made.setPixelSize(max(1, round(pixels)))
    made.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    made.setStyleStrategy(QFont.StyleStrategy.NoSubpixelAntialias)
    return made
