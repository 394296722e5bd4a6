"""A year as a picture: a row a month, a night a cell, with darkness, Moon and events."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from companion.events import Day, Event, EventKind
from companion.sky import zone_of
from companion.window.kit.lettering import Size, letter, write
from companion.window.kit.palette import Role, ink
from companion.window.kit.type_scale import Arranged

if TYPE_CHECKING:
    from companion.live import Evening

_DAYS, _LONGEST_NIGHT_H = 31, 14.0
_CENTRE = Qt.AlignmentFlag.AlignCenter
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
# What is worth a mark of its own in a cell, the most important first.
_RINGED = frozenset({EventKind.LUNAR_ECLIPSE, EventKind.SOLAR_ECLIPSE})
_MARKED = frozenset(
    {
        EventKind.GROUPING, EventKind.OCCULTATION, EventKind.METEOR_SHOWER, EventKind.OPPOSITION,
        EventKind.ELONGATION, EventKind.BRIGHTEST, EventKind.SATURN_RING,
    }
)  # fmt: skip


class YearPage(Arranged):
    """A frame a night, as high as it is long; the share with the Moon up is filled from above."""

    def __init__(self, evening: "Evening", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening = evening
        self._days: tuple[Day, ...] = ()
        self._marks: dict[tuple[int, int, int], Event] = {}
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def show_desk(self) -> None:
        """Take the days and the events of the model."""
        view = self._evening.coming.view
        self._days = () if view is None else view.days
        zone = zone_of(self._evening.choices.site.time_zone)
        self._marks = {}
        for event in () if view is None else view.events:
            if not event.seen_here or event.kind not in _RINGED | _MARKED:
                continue
            at = (event.best_utc or event.utc).astimezone(zone)
            key = (at.year, at.month, at.day)
            known = self._marks.get(key)
            if known is None or known.kind not in _RINGED:
                self._marks[key] = event
        self.setAccessibleName(f"{len(self._days)} nights, {len(self._marks)} of them marked")
        self.update()

    def arrange(self) -> None:
        """Nothing stands in it: it is painted."""

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the months from the top."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), ink(self, Role.GROUND))
        grid, margin = self.scale.grid, float(self.scale.grid(6))
        letter(painter, self, Size.TITLE, Role.EMPHASIS)
        head = QRectF(margin, grid(3), self.width() - 2 * margin, grid(6))
        write(
            painter, head, "The nights of a year" if self._days else "The year is being worked out"
        )
        legend = head.translated(0.0, head.height())
        letter(painter, self, Size.SMALL, Role.TEXT)
        write(
            painter,
            legend,
            "As high as the night is long; filled: Moon up · dot: worth a look · ring: eclipse",
        )
        if self._days:
            top = legend.bottom() + grid(2)
            self._paint_months(
                painter, QRectF(margin, top, head.width(), self.height() - top - grid(2))
            )

    def _paint_months(self, painter: QPainter, box: QRectF) -> None:
        months = sorted({(one.day.year, one.day.month) for one in self._days})
        left = float(self.scale.grid(11))
        wide, high = (box.width() - left) / _DAYS, box.height() / (len(months) + 1)
        letter(painter, self, Size.SMALL, Role.TEXT)
        for number in range(1, _DAYS + 1, 5):
            cell = QRectF(box.left() + left + (number - 1) * wide, box.top(), wide, high)
            write(painter, cell, str(number), _CENTRE)
        for place, (year, month) in enumerate(months, start=1):
            row = QRectF(box.left(), box.top() + place * high, box.width(), high)
            letter(painter, self, Size.SMALL, Role.TEXT)
            first = next(d.day for d in self._days if (d.day.year, d.day.month) == (year, month))
            name = QRectF(row.left(), row.top(), left - self.scale.grid(2), high)
            write(painter, name, f"{first:%b}", _RIGHT)
            for day in self._days:
                if (day.day.year, day.day.month) == (year, month):
                    x = row.left() + left + (day.day.day - 1) * wide
                    self._paint_day(painter, QRectF(x, row.top(), wide, high), day)

    def _paint_day(self, painter: QPainter, cell: QRectF, day: Day) -> None:
        inside = cell.adjusted(1.5, 2.0, -1.5, -2.0)
        high = min(day.dark_hours / _LONGEST_NIGHT_H, 1.0) * inside.height()
        night = QRectF(inside.left(), inside.bottom() - high, inside.width(), high)
        lit = QRectF(night)
        lit.setHeight(high * (1.0 - day.moonless_hours / day.dark_hours) if high else 0.0)
        painter.fillRect(lit, ink(self, Role.LINE))
        painter.setPen(QPen(ink(self, Role.LINE), self.scale.hair))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if high:
            painter.drawRect(night)
        event = self._marks.get((day.day.year, day.day.month, day.day.day))
        if event is None:
            return
        radius = min(cell.width(), cell.height()) * (0.34 if event.kind in _RINGED else 0.16)
        bright = ink(self, Role.EMPHASIS)
        painter.setPen(QPen(bright, self.scale.hair * 2.0))
        painter.setBrush(QBrush() if event.kind in _RINGED else QBrush(bright))
        painter.drawEllipse(QPointF(cell.center()), radius, radius)
