"""The numbered dot of a sighting, the same in the plot and in the list."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QPainter, QPen
from PySide6.QtWidgets import QWidget

from companion.window.kit.lettering import Size
from companion.window.kit.palette import Role, ink
from companion.window.kit.symbols import stroke
from companion.window.kit.type_scale import Scaled


def draw_dot(
    painter: QPainter,
    widget: Scaled,
    centre: QPointF,
    radius: float,
    at: int,
    *,
    aside: bool,
    weak: bool,
) -> None:
    """Draw a disc with a number: full in use, open if weak, dim and struck if set aside."""
    if not isinstance(widget, QWidget):
        return
    tone = ink(widget, Role.TEXT if aside or weak else Role.EMPHASIS)
    ground = ink(widget, Role.GROUND)
    hollow = aside or weak
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(ground))
    painter.drawEllipse(centre, radius + widget.scale.hair * 2, radius + widget.scale.hair * 2)
    painter.setPen(QPen(tone, widget.scale.hair * 1.4))
    painter.setBrush(QBrush(ground if hollow else tone))
    painter.drawEllipse(centre, radius, radius)
    box = QRectF(0, 0, 4 * radius, 4 * radius)
    box.moveCenter(centre)
    painter.setFont(Size.CAPTION.font(widget.scale))
    painter.setPen(tone if hollow else ground)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(at))
    if aside:
        painter.setPen(stroke(tone, widget.scale.hair * 1.6))
        reach = radius * 1.3
        painter.drawLine(centre + QPointF(-reach, reach), centre + QPointF(reach, -reach))
