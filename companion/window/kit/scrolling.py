"""Which rows of a long list are in sight: it moves only as far as it must, or as the wheel says."""

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainter, QPen, QWheelEvent
from PySide6.QtWidgets import QWidget

from companion.window.kit.palette import Role, ink
from companion.window.kit.symbols import draw_rule
from companion.window.kit.type_scale import Scaled

_NOTCH = 40  # of the wheel's eighths of a degree: three rows for a click of most mice


class Scrolling:
    """The first row in sight. A click never moves what is under the pointer."""

    def __init__(self) -> None:
        self._top = 0
        self._follows = True  # the chosen row is kept in sight, until the wheel goes elsewhere

    def follow(self) -> None:
        """Bring the chosen row back into sight."""
        self._follows = True

    def first(self, count: int, room: int, chosen: int) -> int:
        """Give the first row in sight, of so many with room for some."""
        top = min(self._top, max(0, count - room))
        if self._follows and 0 <= chosen < count:
            top = min(max(top, chosen - room + 1), chosen)
        self._top = max(0, top)
        return self._top

    def wheel(self, event: QWheelEvent, count: int, room: int) -> None:
        """Look at other rows without choosing one."""
        self._follows = False
        rows = -round(event.angleDelta().y() / _NOTCH)
        self._top = max(0, min(self._top + rows, count - room))
        event.accept()


def paint_position(
    painter: QPainter,
    widget: Scaled,
    seen: tuple[int, int, int],
    *,
    top: float = 0.0,
    steps: float = 2.5,
) -> None:
    """Mark at the right edge which part of a list is in sight; nothing where all of it is.

    ``seen`` is the first row in sight, how many have room, and how many there are; the mark begins
    at ``top`` and stands so many steps of the grid from the edge.
    """
    first, room, count = seen
    if count <= room or not isinstance(widget, QWidget):
        return
    x, high = widget.width() - widget.scale.grid(steps), widget.height() - top
    ends = [top + high * part / count for part in (first, min(first + room, count))]
    draw_rule(painter, widget, QPointF(x, top), QPointF(x, top + high), widget.scale.rule)
    painter.setPen(QPen(ink(widget, Role.TEXT), widget.scale.hair * 3))
    painter.drawLine(QPointF(x, ends[0]), QPointF(x, ends[1]))
