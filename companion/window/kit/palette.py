"""Four tones of red by role on a black ground, and their brightness.

The tones live in the application's ``QPalette``: setting a new one repaints every widget, and
no widget needs to know the brightness. Widgets ask for a tone by role with ``ink``.
"""

import math
from dataclasses import dataclass
from enum import Enum

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QColor, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication, QWidget

STEP_RATIO = 0.825  # of luminance: 25 steps from 100 % to 1 % with 25 distinct codes
STEPS = 25
# Shares of the luminance of emphasis, at 100 % and at 10 %: what is bright is dimmed more than
# what is faint, so that the smallest labels stay readable.
_TEXT_SHARES, _QUIET_SHARES, _LINE_SHARES = (0.52, 0.66), (0.30, 0.42), (0.16, 0.26)
ONLY_RED = QColor(255, 0, 0, 255)  # as a mask: the bits of a pixel that may stay


class Role(Enum):
    """What a tone is for; the value is where the application's palette keeps it."""

    GROUND = QPalette.ColorRole.Window
    LINE = QPalette.ColorRole.Mid
    QUIET = QPalette.ColorRole.Light
    TEXT = QPalette.ColorRole.WindowText
    EMPHASIS = QPalette.ColorRole.BrightText


@dataclass(frozen=True, slots=True)
class Tones:
    """Red codes, 0 to 255, of one brightness step."""

    line: int
    quiet: int
    text: int
    emphasis: int
    ground: int = 0


def code_of(luminance: float) -> int:
    """Give the red code of a luminance from 0 to 1, as a share of full red (sRGB)."""
    if luminance <= 0.0031308:
        encoded = 12.92 * luminance
    else:
        encoded = 1.055 * luminance ** (1 / 2.4) - 0.055
    return round(255 * encoded)


def luminance_at(step: int) -> float:
    """Give the luminance of emphasis at a brightness step, 0 the brightest."""
    return STEP_RATIO**step


def tones_at(step: int) -> Tones:
    """Give the tones of a brightness step, from 0 (100 %) to ``STEPS`` - 1 (1 %)."""
    top = luminance_at(step)
    line, quiet, text = (
        code_of(top * _share(shares, top)) for shares in (_LINE_SHARES, _QUIET_SHARES, _TEXT_SHARES)
    )
    return Tones(line=line, quiet=quiet, text=text, emphasis=code_of(top))


def _share(shares: tuple[float, float], top: float) -> float:
    """Give a share at a luminance: it grows by the same with every step."""
    bright, dim = shares
    return bright + (dim - bright) * -math.log10(top)


def red(code: int) -> QColor:
    """Give a colour with nothing in it but red."""
    return QColor(code, 0, 0)


def ink(widget: QWidget, role: Role) -> QColor:
    """Give the tone of a role at the present brightness."""
    return widget.palette().color(role.value)


def grey(code: int) -> QColor:
    """Give a grey, for paper alone: nothing on the screen is anything but red."""
    return QColor(code, code, code)


def qt_palette(tones: Tones) -> QPalette:
    """Give the palette of the application, every one of Qt's own roles covered."""
    palette = QPalette()
    of = QPalette.ColorRole
    codes = dict.fromkeys(of, tones.ground)
    codes.pop(of.NColorRoles)
    codes |= dict.fromkeys((of.WindowText, of.ButtonText, of.ToolTipText), tones.text)
    codes |= dict.fromkeys((of.Midlight, of.Mid, of.Dark), tones.line)
    codes |= dict.fromkeys((of.Light, of.PlaceholderText), tones.quiet)
    codes |= dict.fromkeys((of.Text, of.BrightText, of.Link, of.LinkVisited), tones.emphasis)
    codes |= {of.Highlight: tones.text, of.Accent: tones.text, of.HighlightedText: tones.ground}
    for group in (
        QPalette.ColorGroup.Active,
        QPalette.ColorGroup.Inactive,
        QPalette.ColorGroup.Disabled,
    ):
        for role, code in codes.items():
            palette.setColor(group, role, red(code))
    for role in (of.WindowText, of.Text, of.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, role, red(tones.line))
    return palette


class WindowBrightness(QObject):
    """The brightness step of the whole window, kept in the application's palette."""

    changed = Signal()

    def __init__(self, step: int = 0, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._step = min(max(step, 0), STEPS - 1)
        self._apply()

    @property
    def step(self) -> int:
        """The present step, 0 the brightest."""
        return self._step

    def move(self, steps: int) -> None:
        """Dim by ``steps``, or brighten by a negative number of them; stop at the ends."""
        wanted = min(max(self._step + steps, 0), STEPS - 1)
        if wanted != self._step:
            self._step = wanted
            self._apply()
            self.changed.emit()

    def _apply(self) -> None:
        if isinstance(QGuiApplication.instance(), QApplication):
            QApplication.setPalette(qt_palette(tones_at(self._step)))
