"""The tones and sizes that a chart is drawn in: those of a widget, or those of a printed page."""

from dataclasses import dataclass

from PySide6.QtGui import QColor, QFont, QPen
from PySide6.QtWidgets import QWidget

from companion.window.kit.lettering import Size
from companion.window.kit.palette import Role, ink
from companion.window.kit.symbols import stroke
from companion.window.kit.type_scale import TypeScale

_GLOW = 0.75  # of the tone of lines


@dataclass(frozen=True, slots=True)
class ChartInk:
    """Four tones by role, and a scale."""

    ground: QColor
    line: QColor
    quiet: QColor
    text: QColor
    emphasis: QColor
    scale: TypeScale

    @classmethod
    def of(cls, widget: QWidget, scale: TypeScale) -> "ChartInk":
        """Give what a widget draws in at the present brightness."""
        return cls(
            ground=ink(widget, Role.GROUND),
            line=ink(widget, Role.LINE),
            quiet=ink(widget, Role.QUIET),
            text=ink(widget, Role.TEXT),
            emphasis=ink(widget, Role.EMPHASIS),
            scale=scale,
        )

    @property
    def glow(self) -> QColor:
        """The brightest part of the Milky Way: as faint as a rule."""
        return QColor(round(_GLOW * self.line.red()), 0, 0)

    def tone(self, role: Role) -> QColor:
        """Give the tone of a role."""
        match role:
            case Role.GROUND:
                return self.ground
            case Role.LINE:
                return self.line
            case Role.QUIET:
                return self.quiet
            case Role.TEXT:
                return self.text
            case Role.EMPHASIS:
                return self.emphasis

    def font(self, size: Size) -> QFont:
        """Give a step of the type scale."""
        return size.font(self.scale)

    def pen(self, role: Role, hairs: float = 1.0, dashes: tuple[float, ...] = ()) -> QPen:
        """Give a pen so many hairs wide; dashes count in its width."""
        made = stroke(self.tone(role), self.scale.hair * hairs)
        if dashes:
            made.setDashPattern(list(dashes))
        return made
