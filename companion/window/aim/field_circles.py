"""Where the target will be: the circle that holds it 95 times in a hundred, in every field."""

from dataclasses import dataclass
from math import sqrt

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QWidget

from companion.sky import angle_text
from companion.window.kit.gauge import Gauge
from companion.window.kit.lettering import Size
from companion.window.kit.palette import Role
from companion.window.kit.symbols import stroke

_BESIDE = 1.04


@dataclass(frozen=True, slots=True)
class CircleFacts:
    """The 95% radius in degrees, and fields as (name, diameter), widest first."""

    radius95_deg: float | None = None
    fields: tuple[tuple[str, float], ...] = ()


class FieldCircles(Gauge):
    """Fields around one centre, the uncertain place filled within them.

    Areas, not radii, are to scale: a finder shows a hundred times the sky of an eyepiece, and
    both must be seen.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._facts = CircleFacts()

    @property
    def facts(self) -> CircleFacts:
        """What it shows."""
        return self._facts

    def show_facts(self, facts: CircleFacts) -> None:
        """Take new facts; a change that nobody could see repaints nothing."""
        if _seen(facts) != _seen(self._facts):
            self._facts = facts
            radius = facts.radius95_deg
            within = "" if radius is None else f"95% within {angle_text(radius)}"
            self.setAccessibleName(" ".join([within, *(name for name, _w in facts.fields)]))
            self.renew()

    def _reach_deg(self) -> float:
        fields = [width / 2.0 for _name, width in self._facts.fields]
        return _BESIDE * max([self._facts.radius95_deg or 0.0, *fields, 1e-3])

    def _label_height(self) -> float:
        return QFontMetricsF(Size.CAPTION.font(self.scale)).height()

    def _radius(self) -> float:
        return max(10.0, min(self.width(), self.height()) / 2 - self._label_height() * 0.7)

    def paint_still(self, painter: QPainter) -> None:
        """Paint all of it: it changes with the target, not with time."""
        if self._facts.radius95_deg is None:
            return
        centre = QPointF(self.width() / 2, self.height() / 2)
        self._paint_place(painter, centre, self._drawn(self._facts.radius95_deg))
        self._paint_fields(painter, centre)

    def _drawn(self, radius_deg: float) -> float:
        """Give how large a circle is drawn."""
        return self._radius() * sqrt(radius_deg / self._reach_deg())

    def _paint_place(self, painter: QPainter, centre: QPointF, radius: float) -> None:
        painter.setBrush(QBrush(self.tone(Role.LINE)))
        painter.setPen(stroke(self.tone(Role.EMPHASIS), self.scale.hair * 1.8))
        painter.drawEllipse(centre, max(radius, 2.0), max(radius, 2.0))

    def _paint_fields(self, painter: QPainter, centre: QPointF) -> None:
        """Draw the circles; names stand where they find room, those of wide fields first."""
        painter.setFont(Size.CAPTION.font(self.scale))
        metrics = QFontMetricsF(painter.font())
        free = -1e9
        for name, width in self._facts.fields:
            radius = self._drawn(width / 2.0)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(self.tone(Role.TEXT), self.scale.hair * 1.4))
            painter.drawEllipse(centre, radius, radius)
            box = QRectF(0, 0, metrics.horizontalAdvance(name) + 6, metrics.height())
            box.moveCenter(centre - QPointF(0.0, radius))
            if box.top() < free or radius < metrics.height():
                continue
            free = box.bottom() - metrics.descent()
            painter.fillRect(box.adjusted(0, 2, 0, -2), self.tone(Role.GROUND))
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, name)


def _seen(facts: CircleFacts) -> tuple[object, ...]:
    radius = facts.radius95_deg
    return (None if radius is None else round(radius, 2), facts.fields)
