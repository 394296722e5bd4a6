"""Under the night chart a lane for every target: its window as a bar, its planned turn bold."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from companion.sky import clock_text
from companion.window.kit.lettering import Size, letter, write
from companion.window.kit.palette import Role, ink
from companion.window.kit.scrolling import paint_position
from companion.window.kit.symbols import Heading, draw_index
from companion.window.kit.type_scale import Scaled
from companion.window.night.front import GUTTER_STEPS
from companion.window.night.plot import ChartFacts, TimeAxis
from companion.window.night.words import local, short_name, why_lost

if TYPE_CHECKING:
    from companion.night import NightPlan


class NightLanes(Scaled, QWidget):
    """Lanes in the planned order, on the same clock as the chart above."""

    pointed = Signal(float, str)
    taken = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._facts: ChartFacts | None = None
        self.setMouseTracking(True)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def show_facts(self, facts: ChartFacts) -> None:
        """Draw other facts."""
        self._facts = facts
        names = (facts.view.plan(key) for key in facts.keys)
        self.setAccessibleName(", ".join(plan.target.name for plan in names if plan is not None))
        self.update()

    def height_for(self, count: int, most: int) -> int:
        """Give the height that lanes of that number take, or the most there is."""
        return min(self.pitch() * count + self.scale.grid(1), most)

    def pitch(self) -> int:
        """Give the height of a lane."""
        metrics = QFontMetricsF(Size.SMALL.font(self.scale))
        return max(self.scale.grid(3.4), round(metrics.height()))

    def _room(self) -> int:
        return max(1, self.height() // self.pitch())

    def _first(self) -> int:
        """Give the first lane in sight, so that the chosen one is among them."""
        facts = self._facts
        if facts is None or facts.chosen not in facts.keys:
            return 0
        room, at = self._room(), facts.keys.index(facts.chosen)
        return min(max(0, at - room // 2), max(0, len(facts.keys) - room))

    def _axis(self, facts: ChartFacts) -> TimeAxis:
        view = facts.view
        left, right = float(self.scale.grid(GUTTER_STEPS)), float(self.width() - self.scale.grid(6))
        return TimeAxis(
            view.begins_utc.timestamp(), view.ends_utc.timestamp(), left, max(left + 1, right)
        )

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the lanes that have room, and where they stand among all."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), ink(self, Role.GROUND))
        facts = self._facts
        if facts is None:
            return
        axis, first = self._axis(facts), self._first()
        self._paint_clock(painter, facts, axis)
        for at, key in enumerate(facts.keys[first : first + self._room()]):
            plan = facts.view.plan(key)
            if plan is not None:
                lane = QRectF(0, at * self.pitch(), self.width(), self.pitch())
                self._paint_lane(painter, facts, plan, lane, axis)
        paint_position(painter, self, (first, self._room(), len(facts.keys)))

    def _paint_clock(self, painter: QPainter, facts: ChartFacts, axis: TimeAxis) -> None:
        """Carry now and the cursor down from the chart."""
        for time_s, role in (
            (facts.now_utc.timestamp(), Role.TEXT), (facts.cursor_s, Role.EMPHASIS),
        ):  # fmt: skip
            if axis.holds(time_s):
                painter.setPen(QPen(ink(self, role), self.scale.hair))
                x = axis.x(time_s)
                painter.drawLine(QPointF(x, 0), QPointF(x, self.height()))

    def _paint_lane(
        self,
        painter: QPainter,
        facts: ChartFacts,
        plan: "NightPlan",
        lane: QRectF,
        axis: TimeAxis,
    ) -> None:
        grid, chosen = self.scale.grid, plan.target.key == facts.chosen
        role = Role.EMPHASIS if chosen else Role.TEXT
        middle = lane.center().y()
        if chosen:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(ink(self, Role.EMPHASIS))
            draw_index(painter, QPointF(grid(5), middle), Heading.RIGHT, grid(1.6))
        stop = facts.stop(plan.target.key)
        metrics = letter(painter, self, Size.SMALL, role)
        wide = metrics.horizontalAdvance("88:88") + grid(1.5)
        ordered = facts.order is not None
        name = QRectF(grid(6), lane.top(), axis.left - grid(8), lane.height())
        if ordered:
            at = "" if stop is None else clock_text(local(facts.view, stop.start_utc.timestamp()))
            write(painter, QRectF(name.left(), name.top(), wide, name.height()), at or "–")
            name.setLeft(name.left() + wide)
        write(painter, name, short_name(plan.target))
        self._paint_windows(painter, facts, plan, middle, axis)
        if stop is not None:
            first, last = axis.x(stop.start_utc.timestamp()), axis.x(stop.end_utc.timestamp())
            block = QRectF(first, middle - grid(1.1), max(last - first, 3.0), grid(2.2))
            painter.fillRect(block, ink(self, role))
        elif not plan.windows or ordered:
            self._paint_reason(painter, facts, plan, lane, axis)

    def _paint_windows(
        self,
        painter: QPainter,
        facts: ChartFacts,
        plan: "NightPlan",
        middle: float,
        axis: TimeAxis,
    ) -> None:
        grid = self.scale.grid
        chosen = plan.target.key == facts.chosen
        for begins, ends in plan.windows:
            first = axis.x(axis.clamped(begins.timestamp()))
            last = axis.x(axis.clamped(ends.timestamp()))
            bar = QRectF(first, middle - grid(0.35), max(last - first, 2.0), grid(0.7))
            painter.fillRect(bar, ink(self, Role.TEXT if chosen else Role.LINE))
            painter.setPen(QPen(ink(self, Role.TEXT), self.scale.hair))
            for x in (first, last):
                painter.drawLine(QPointF(x, middle - grid(0.8)), QPointF(x, middle + grid(0.8)))

    def _paint_reason(
        self,
        painter: QPainter,
        facts: ChartFacts,
        plan: "NightPlan",
        lane: QRectF,
        axis: TimeAxis,
    ) -> None:
        """Write into a lane why nothing is planned there."""
        lost = "" if facts.order is None else why_lost(facts.order, plan.target.key)
        text = lost or plan.words
        metrics = letter(painter, self, Size.SMALL, Role.TEXT)
        wide = min(metrics.horizontalAdvance(text) + 2, axis.right - axis.left)
        box = QRectF(axis.left + self.scale.grid(1), lane.top(), wide, lane.height())
        painter.fillRect(
            box.adjusted(-self.scale.grid(0.5), 1, self.scale.grid(0.5), -1), ink(self, Role.GROUND)
        )
        write(painter, box, text)

    # The hand.

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Read out what is under the pointer."""
        self._point(event.position())

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Go to the target whose lane was hit, at that time."""
        if self._point(event.position()):
            self.taken.emit()

    def _point(self, at: QPointF) -> bool:
        """Choose the hit lane; in the plot also the time. Give whether the time was hit."""
        facts = self._facts
        if facts is None:
            return False
        row, axis = self._first() + int(at.y()) // self.pitch(), self._axis(facts)
        if not 0 <= row < len(facts.keys):
            return False
        inside = axis.left <= at.x() <= axis.right
        self.pointed.emit(axis.time_s(at.x()) if inside else facts.cursor_s, facts.keys[row])
        return inside
