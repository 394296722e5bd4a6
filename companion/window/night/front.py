"""What is lettered and drawn over the night chart: axes, names, the Moon, now, the cursor."""

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QWidget

from companion.sky import clock_text
from companion.window.kit.labels import Label, placed
from companion.window.kit.lettering import Size, letter, write
from companion.window.kit.palette import Role, ink, red
from companion.window.kit.symbols import Heading, draw_index, draw_moon, stroke
from companion.window.night.names import CurveNames
from companion.window.night.plot import ChartFacts, TimeAxis, top_of, y_of
from companion.window.night.scales import Layer, paint_altitudes, paint_hours
from companion.window.night.words import (
    Shade,
    altitude_at,
    events,
    hint,
    local,
    shades,
    short_name,
    stands,
    usable,
    zone_of_night,
)

GUTTER_STEPS = 44.0  # of the grid: left of the plot, for the readout here and the names below
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_CENTRE = Qt.AlignmentFlag.AlignCenter
_NEAR_STEPS = 3.0  # of the grid: how near the pointer must come to a curve


_SHADE_SHARES = (0.0, 0.16, 0.30, 0.44, 0.60)  # of the line's tone, from full darkness to day


def shade_tone(line: QColor, level: int) -> QColor:
    """Give the tone of a shade of the night: that of the lines mixed with black, opaque."""
    return red(round(line.red() * _SHADE_SHARES[level]))


class NightFront(Layer):
    """A transparent layer; it takes the mouse, too."""

    pointed = Signal(float, str)  # time, seconds since 1970; the target near the pointer or ""
    taken = Signal()  # the pointed place was clicked

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._facts: ChartFacts | None = None
        self._shades: tuple[Shade, ...] = ()
        self._names = CurveNames()
        self.setMouseTracking(True)

    def show_facts(self, facts: ChartFacts) -> None:
        """Draw other facts."""
        if self._facts is None or facts.view is not self._facts.view:
            self._shades = shades(facts.view)
        self._facts = facts
        plan = None if facts.chosen is None else facts.view.plan(facts.chosen)
        when = clock_text(local(facts.view, facts.cursor_s))
        where = (
            "" if plan is None else f"{plan.target.name} {stands(facts.view, plan, facts.cursor_s)}"
        )
        self.setAccessibleName(f"{when} {where}")
        self.update()

    # Geometry.

    def room(self) -> QRectF:
        """Give the box of the plot itself."""
        grid = self.scale.grid
        small = QFontMetricsF(Size.SMALL.font(self.scale)).height()
        left, right = float(grid(GUTTER_STEPS)), float(self.width() - grid(6))
        return QRectF(
            left, small + grid(1.5), max(1.0, right - left),
            max(1.0, self.height() - 2 * small - grid(3.5)),
        )  # fmt: skip

    @property
    def axis(self) -> TimeAxis | None:
        """The clock along the plot."""
        if self._facts is None:
            return None
        room, view = self.room(), self._facts.view
        return TimeAxis(
            view.begins_utc.timestamp(), view.ends_utc.timestamp(), room.left(), room.right()
        )

    def _y(self, altitude_deg: float) -> float:
        return y_of(self.room(), altitude_deg)

    # Painting.

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw everything that pyqtgraph does not."""
        facts, axis = self._facts, self.axis
        if facts is None or axis is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint_altitudes(painter, self, self.room(), facts.low_limit_deg)
        paint_hours(painter, self, self.room(), axis, zone_of_night(facts.view))
        self._paint_events(painter, facts, axis)
        taken = [*self._paint_now(painter, facts, axis), *self._paint_moon(painter, facts, axis)]
        self._paint_names(painter, facts, axis, taken)
        self._paint_cursor(painter, facts, axis)
        self._paint_readout(painter, facts)

    def _paint_events(self, painter: QPainter, facts: ChartFacts, axis: TimeAxis) -> None:
        """Name dusk and dawn above the plot."""
        room = self.room()
        metrics = letter(painter, self, Size.SMALL, Role.TEXT)
        grid, high = self.scale.grid, metrics.height()
        line = QRectF(room.left() - grid(14), 0, room.width() + grid(19), high)
        labels = []
        for time_s, text in events(facts.view):
            wide, x = metrics.horizontalAdvance(text), axis.x(time_s)
            middles = (x, x - wide / 2, x + wide / 2)
            labels.append(
                Label(text, QSizeF(wide, high), tuple(QPointF(m, high / 2) for m in middles))
            )
        for text, box in placed(labels, line, [], grid(1.5)):
            write(painter, box, text, _CENTRE)
        painter.setPen(QPen(ink(self, Role.TEXT), self.scale.hair))
        for time_s, _text in events(facts.view):
            x = axis.x(time_s)
            painter.drawLine(QPointF(x, room.top() - grid(0.9)), QPointF(x, room.top()))

    def _paint_now(self, painter: QPainter, facts: ChartFacts, axis: TimeAxis) -> list[QRectF]:
        now_s = facts.now_utc.timestamp()
        if not axis.holds(now_s):
            return []
        grid, room, x = self.scale.grid, self.room(), axis.x(now_s)
        painter.setPen(QPen(ink(self, Role.TEXT), self.scale.hair * 1.4))
        painter.drawLine(QPointF(x, room.top()), QPointF(x, room.bottom()))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(ink(self, Role.TEXT))
        draw_index(painter, QPointF(x, room.bottom()), Heading.UP, grid(1.6))
        metrics = letter(painter, self, Size.CAPTION, Role.TEXT)
        text = "PREVIEW" if facts.preview else "NOW"
        box = QRectF(0, 0, metrics.horizontalAdvance(text), metrics.height())
        box.moveBottomLeft(QPointF(x + grid(0.8), room.bottom() - grid(0.5)))
        if box.right() > room.right():
            box.moveRight(x - grid(0.8))
        write(painter, box, text)
        return [box, QRectF(x - 1, room.top(), 2, room.height())]

    def _paint_moon(self, painter: QPainter, facts: ChartFacts, axis: TimeAxis) -> list[QRectF]:
        """Draw the Moon's phase where it stands highest; give the room that it takes."""
        spot = top_of(facts, axis, self.room(), facts.view.moon.altitude_deg)
        if spot is None:
            return []
        radius, wide = self.scale.grid(1.6), self.scale.grid(2.4)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(shade_tone(ink(self, Role.LINE), self._level(axis, spot.x())))
        painter.drawEllipse(spot, wide, wide)
        draw_moon(painter, spot, radius, ink(self, Role.TEXT), facts.view.moon.lit_fraction)
        return [QRectF(spot.x() - wide, spot.y() - wide, 2.0 * wide, 2.0 * wide)]

    def _paint_names(
        self, painter: QPainter, facts: ChartFacts, axis: TimeAxis, taken: list[QRectF]
    ) -> None:
        """Write names along the curves, the chosen one's bright."""
        metrics = letter(painter, self, Size.SMALL, Role.TEXT)
        for text, box in self._names.places(facts, axis, self.room(), metrics, taken):
            chosen = text == self._names.chosen
            letter(painter, self, Size.SMALL, Role.EMPHASIS if chosen else Role.TEXT)
            self._paint_halo(painter, box, text, self._level(axis, box.center().x()))
            write(painter, box, text, _CENTRE)

    def _level(self, axis: TimeAxis, x: float) -> int:
        """Give how deep the night is at a place: 0 is full darkness."""
        time_s = axis.time_s(x)
        return next((s.level for s in self._shades if s.begins_s <= time_s <= s.ends_s), 0)

    def _paint_halo(self, painter: QPainter, box: QRectF, text: str, level: int) -> None:
        """Clear the curves away around letters that are to be written into a box."""
        metrics = QFontMetricsF(painter.font())
        path = QPainterPath()
        low = box.center().y() + (metrics.ascent() - metrics.descent()) / 2
        path.addText(QPointF(box.left(), low), painter.font(), text)
        pen = painter.pen()
        painter.strokePath(
            path, stroke(shade_tone(ink(self, Role.LINE), level), self.scale.grid(0.9))
        )
        painter.setPen(pen)

    def _paint_cursor(self, painter: QPainter, facts: ChartFacts, axis: TimeAxis) -> None:
        """Draw the line of the cursor and the spot where the chosen curve crosses it."""
        grid, room, x = self.scale.grid, self.room(), axis.x(facts.cursor_s)
        painter.setPen(QPen(ink(self, Role.EMPHASIS), self.scale.hair))
        painter.drawLine(QPointF(x, room.top()), QPointF(x, room.bottom()))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(ink(self, Role.EMPHASIS))
        draw_index(painter, QPointF(x, room.top()), Heading.DOWN, grid(1.4))
        plan = None if facts.chosen is None else facts.view.plan(facts.chosen)
        if plan is None:
            return
        up = altitude_at(facts.view.times_s, plan.curve.altitude_deg, facts.cursor_s)
        if up >= 0.0:
            painter.setPen(QPen(ink(self, Role.EMPHASIS), self.scale.hair * 2))
            painter.setBrush(
                ink(self, Role.EMPHASIS if usable(plan, facts.cursor_s) else Role.GROUND)
            )
            painter.drawEllipse(QPointF(x, self._y(up)), grid(0.9), grid(0.9))

    def _paint_readout(self, painter: QPainter, facts: ChartFacts) -> None:
        """Write at the left what the cursor stands on."""
        grid, room = self.scale.grid, self.room()
        left = float(grid(6))
        width = room.left() - left - grid(7)
        plan = None if facts.chosen is None else facts.view.plan(facts.chosen)
        lines = [(Size.TITLE, Role.EMPHASIS, clock_text(local(facts.view, facts.cursor_s)))]
        if plan is not None:
            lines += [
                (Size.BODY, Role.EMPHASIS, short_name(plan.target)),
                (Size.SMALL, Role.TEXT, stands(facts.view, plan, facts.cursor_s)),
                (Size.SMALL, Role.TEXT, hint(facts.view, plan, facts.cursor_s)),
            ]
        top = room.top()
        for size, role, text in lines:
            metrics = letter(painter, self, size, role)
            box = QRectF(left, top, width, metrics.height())
            if box.bottom() > room.bottom() + grid(3):
                break
            write(painter, box, text)
            top = box.bottom() + grid(0.5)

    # The hand.

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Read out what is under the pointer."""
        self._point(event.position())

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Go to what is under the pointer, at that time."""
        if self._point(event.position()):
            self.taken.emit()

    def _point(self, at: QPointF) -> bool:
        facts, axis = self._facts, self.axis
        if facts is None or axis is None or not self.room().contains(at):
            return False
        time_s = axis.time_s(at.x())
        near, nearest = "", float(self.scale.grid(_NEAR_STEPS))
        for plan in facts.view.plans:
            up = altitude_at(facts.view.times_s, plan.curve.altitude_deg, time_s)
            off = abs(self._y(up) - at.y())
            if up >= 0.0 and off < nearest:
                near, nearest = plan.target.key, off
        self.pointed.emit(time_s, near)
        return True
