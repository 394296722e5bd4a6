"""A long list of painted rows, one of them chosen: a name, what stands beside and below it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import overload

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QMouseEvent, QPainter, QPaintEvent, QWheelEvent
from PySide6.QtWidgets import QWidget

from companion.journal import Outcome
from companion.window.frame.hint_line import cap_width, paint_cap
from companion.window.kit.lettering import Size, letter, write
from companion.window.kit.palette import Role, ink
from companion.window.kit.scrolling import Scrolling, paint_position
from companion.window.kit.symbols import OUTCOME_SIGNS, Heading, draw_index, draw_rule
from companion.window.kit.type_scale import Scaled

_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_PAGE = 10
_WIDEST = 1.3
_SPAN_STEPS = 32.0  # of the grid
_COLUMNS_FROM = 150.0  # of the grid: under it a sentence below the name says it all
_SPAN_FROM = 100.0  # of the width: under it names and words need all of it


@dataclass(frozen=True, slots=True)
class RowBar:
    """A window within the night, and the best or planned time in it; shares of the night."""

    opens: float
    closes: float
    at: float
    until: float | None = None  # where a turn ends that begins at the time


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a list is gone through, with its words: ``share`` is from 0 to 1."""

    words: str
    share: float


@dataclass(frozen=True, slots=True)
class Column:
    """A column of cells; ``widest`` is the longest that it has to hold."""

    head: str
    widest: str


@dataclass(frozen=True, slots=True)
class Row:
    """One row. ``lead`` is a time or a sign before the name, ``cap`` the key that takes it.

    ``cells`` stand in the list's columns where it is wide enough for them, with ``briefly`` below
    the name; else ``right`` and ``below`` say all of it.
    """

    name: str
    beside: str = ""
    right: str = ""
    below: str = ""
    lead: str = ""
    cap: str = ""
    outcome: Outcome | None = None  # its sign stands at the right
    span: RowBar | None = None  # drawn at the right end
    cells: tuple[str, ...] = ()
    briefly: str = ""
    progress: tuple[Progress, ...] = ()  # bars below the name, in place of words


class RowsOnDemand(Sequence[Row]):
    """Rows of a list of any length, each made when somebody looks at it.

    Parameters
    ----------
    length : int
        How many there are.
    make : callable
        Gives the row at a place.
    two_lines : bool
        Whether any of them may have something below its name.
    """

    def __init__(self, length: int, make: Callable[[int], Row], *, two_lines: bool) -> None:
        self._length, self._make, self.two_lines = length, make, two_lines

    def __len__(self) -> int:
        return self._length

    @overload
    def __getitem__(self, at: int) -> Row: ...
    @overload
    def __getitem__(self, at: slice) -> tuple[Row, ...]: ...
    def __getitem__(self, at: int | slice) -> Row | tuple[Row, ...]:
        """Make one row, or several."""
        places = range(self._length)[at]
        return self._make(places) if isinstance(places, int) else tuple(map(self._make, places))


class RowList(Scaled, QWidget):
    """Paints the rows that are in sight; a list of any length costs the same."""

    hit = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._scroll = Scrolling()
        self.rows: Sequence[Row] = ()
        self._two_lines = False
        self.chosen = 0
        self.columns: tuple[Column, ...] = ()
        self._least_pitch, self._aligned = 0, False
        self.marked = True  # whether the chosen row stands out
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def say(self, rows: Sequence[Row], chosen: int) -> None:
        """Show other rows, or choose another one."""
        if rows is not self.rows:
            if isinstance(rows, RowsOnDemand):
                self.rows, self._two_lines = rows, rows.two_lines
            else:
                self.rows, self._two_lines = tuple(rows), any(row.below for row in rows)
        before, self.chosen = self.chosen, min(max(chosen, 0), max(0, len(rows) - 1))
        if before != self.chosen:
            self._scroll.follow()
        near = self.rows[self.chosen : self.chosen + 1]
        self.setAccessibleName("".join(f"{row.lead} {row.name}: {row.below}" for row in near))
        self.update()

    def align(self, pitch: int, *, two_lines: bool) -> None:
        """Stand on the lines of a list beside it: at least so far apart, names at one height."""
        if (pitch, two_lines) != (self._least_pitch, self._aligned):
            self._least_pitch, self._aligned = pitch, two_lines
            self.update()

    @property
    def two_lines(self) -> bool:
        """Whether something stands below its names."""
        return self._two_lines

    def mark(self, *, marked: bool) -> None:
        """Let the chosen row stand out, or not: where the keys go to another list."""
        if marked != self.marked:
            self.marked = marked
            self.update()

    def step(self, by: int) -> None:
        """Choose the row that many rows below."""
        self.say(self.rows, self.chosen + by)

    def page(self, by: int) -> None:
        """Choose ten rows further."""
        self.step(by * _PAGE)

    # Geometry.

    def pitch(self) -> int:
        """Give the height of a row."""
        return max(self.own_pitch(), self._least_pitch)

    def own_pitch(self) -> int:
        """Give the height that its rows take by themselves."""
        name = QFontMetricsF(Size.BODY.font(self.scale)).height()
        below = QFontMetricsF(Size.SMALL.font(self.scale)).height()
        two = self._two_lines
        least = self.scale.target((name + (below if two else 0.0)) / self.scale.grid() + 1.2)
        # Where there is room for more than there is, the rows stand wider apart.
        return max(least, min(round(least * _WIDEST), self.height() // max(1, len(self.rows))))

    def _room(self) -> int:
        return max(1, (self.height() - self._head()) // self.pitch())

    def _shown_columns(self) -> tuple[tuple[Column, float, float], ...]:
        """Give the columns with where each begins, from the right end, and its width."""
        grid = self.scale.grid
        if not self.columns or self.width() <= grid(_COLUMNS_FROM):
            return ()
        caption = QFontMetricsF(Size.CAPTION.font(self.scale))
        cell = QFontMetricsF(Size.SMALL.font(self.scale))
        right = float(self.width() - grid(6) - grid(_SPAN_STEPS) - grid(3))
        found = []
        for column in reversed(self.columns):
            wide = max(
                caption.horizontalAdvance(column.head), cell.horizontalAdvance(column.widest)
            )
            right -= wide + grid(3)
            found.append((column, right, wide + 1))
        return tuple(reversed(found))

    def _head(self) -> int:
        """Give the height of the columns' heads."""
        if not self._shown_columns():
            return 0
        return round(QFontMetricsF(Size.CAPTION.font(self.scale)).height()) + self.scale.grid(1)

    def _first(self) -> int:
        return self._scroll.first(len(self.rows), self._room(), self.chosen)

    def _lead_width(self) -> float:
        """Give the room before the names: for times or for key caps."""
        metrics = QFontMetricsF(Size.BODY.font(self.scale))
        times = max((metrics.horizontalAdvance(row.lead) for row in self._seen()), default=0.0)
        caps = max((cap_width(self, row.cap) for row in self._seen() if row.cap), default=0.0)
        wide = max(times, caps)
        return wide + self.scale.grid(2) if wide else 0.0

    def in_sight(self) -> tuple[int, int]:
        """Give the place of the first row in sight, and the one after the last."""
        first = self._first()
        return first, min(first + self._room(), len(self.rows))

    def _seen(self) -> Sequence[Row]:
        first, last = self.in_sight()
        return self.rows[first:last]

    # Painting.

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Write the rows that have room, the chosen one among them."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), ink(self, Role.GROUND))
        first, lead, head = self._first(), self._lead_width(), self._head()
        self._paint_heads(painter, head)
        for at, row in enumerate(self._seen()):
            box = QRectF(0, head + at * self.pitch(), self.width(), self.pitch())
            self._paint_row(
                painter, row, box, lead, chosen=self.marked and first + at == self.chosen
            )
        paint_position(painter, self, (first, self._room(), len(self.rows)))

    def _paint_heads(self, painter: QPainter, high: int) -> None:
        letter(painter, self, Size.CAPTION, Role.TEXT)
        for column, left, wide in self._shown_columns():
            write(painter, QRectF(left, 0, wide, high), column.head)

    def _paint_row(
        self, painter: QPainter, row: Row, box: QRectF, lead: float, *, chosen: bool
    ) -> None:
        grid = self.scale.grid
        left, right = float(grid(6)), float(self.width() - grid(6))
        low = box.bottom() - self.scale.rule
        draw_rule(painter, self, QPointF(left, low), QPointF(right, low), self.scale.rule)
        role = Role.EMPHASIS if chosen else Role.TEXT
        small = QFontMetricsF(Size.SMALL.font(self.scale)).height()
        below = small if row.below or self._aligned else 0.0
        metrics = letter(painter, self, Size.BODY, role)
        high = metrics.height()
        line = QRectF(left, box.center().y() - (high + below) / 2 - grid(0.4), right - left, high)
        if chosen:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(ink(self, Role.EMPHASIS))
            draw_index(painter, QPointF(grid(5), line.center().y()), Heading.RIGHT, grid(1.8))
            painter.setPen(ink(self, role))
        if row.cap:
            face = QRectF(line.left(), line.top(), cap_width(self, row.cap), high)
            paint_cap(painter, self, face, row.cap, role)
            letter(painter, self, Size.BODY, role)
        elif row.lead:
            write(painter, QRectF(line.left(), line.top(), lead, high), row.lead)
        line.setLeft(line.left() + lead)
        columns = self._shown_columns() if row.cells else ()
        used = self._paint_right(painter, row, line)
        if columns:
            used = line.right() - columns[0][1] + grid(2)
        for (_column, start, wide), cell in zip(columns, row.cells, strict=False):
            letter(painter, self, Size.SMALL, role)
            write(painter, QRectF(start, line.top(), wide, high), cell)
        letter(painter, self, Size.BODY, role)
        name = line.adjusted(0, 0, -used, 0)
        wide = write(painter, name, row.name)
        letter(painter, self, Size.SMALL, Role.TEXT)
        write(painter, name.adjusted(wide + grid(2), 0, 0, 0), row.beside) if row.beside else None
        if row.progress:
            self._paint_progress(painter, row.progress, line.translated(0, high))
        elif row.below:
            said = row.briefly if columns else row.below
            write(painter, QRectF(line.left(), line.bottom(), line.width(), below), said)

    def _paint_progress(self, painter: QPainter, lists: tuple[Progress, ...], line: QRectF) -> None:
        """Write how far each list is gone through, a bar behind it; without room for them none."""
        grid = self.scale.grid
        metrics = letter(painter, self, Size.SMALL, Role.TEXT)
        wide = sum(metrics.horizontalAdvance(one.words) + grid(4) for one in lists)
        bar = min((line.width() - wide) / len(lists), float(grid(14)))
        left = line.left()
        for one in lists:
            box = QRectF(left, line.top(), line.right() - left, metrics.height())
            left += write(painter, box, one.words) + grid(1)
            if bar >= grid(4):
                frame = QRectF(left, box.center().y() - grid(0.5), bar, grid(1))
                painter.fillRect(frame, ink(self, Role.LINE))
                frame.setWidth(bar * one.share)
                painter.fillRect(frame, ink(self, Role.TEXT))
                left += bar
            left += grid(3)

    def _paint_right(self, painter: QPainter, row: Row, line: QRectF) -> float:
        """Write what stands at the right end; give the width that it takes."""
        grid = self.scale.grid
        used = 0.0
        if row.span is not None and line.width() > grid(_SPAN_FROM):
            used = grid(_SPAN_STEPS) + grid(3)
            self._paint_span(painter, row.span, line)
        if row.outcome is not None:
            spot = QPointF(line.right() - used - grid(1), line.center().y())
            OUTCOME_SIGNS[row.outcome](painter, spot, grid(1.1), ink(self, Role.TEXT))
            used += float(grid(4))
        if row.right and not (row.cells and self._shown_columns()):
            letter(painter, self, Size.SMALL, Role.TEXT)
            box = line.adjusted(line.width() * 0.4, 0, -used, 0)
            used += write(painter, box, row.right, _RIGHT) + grid(2)
        return used

    def _paint_span(self, painter: QPainter, span: RowBar, line: QRectF) -> None:
        """Draw the night from dusk to dawn, the window in it, and a mark at the best time."""
        grid, middle = self.scale.grid, line.center().y()
        left, wide = line.right() - grid(_SPAN_STEPS), float(grid(_SPAN_STEPS))
        night = (QPointF(left, middle), QPointF(left + wide, middle))
        draw_rule(painter, self, *night, self.scale.rule)
        first, last = (left + min(max(one, 0.0), 1.0) * wide for one in (span.opens, span.closes))
        bar = QRectF(first, middle - grid(0.4), max(last - first, 2.0), grid(0.8))
        painter.fillRect(bar, ink(self, Role.LINE))
        at = left + min(max(span.at, 0.0), 1.0) * wide
        ends = at if span.until is None else left + min(max(span.until, 0.0), 1.0) * wide
        mark = QRectF(at - grid(0.25), middle - grid(1.0), max(ends - at, grid(0.5)), grid(2.0))
        painter.fillRect(mark, ink(self, Role.TEXT))

    # The hand.

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802 - Qt's name
        """Look at other rows without choosing one."""
        self._scroll.wheel(event, len(self.rows), self._room())
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Take the row that was hit."""
        at = self._first() + int(event.position().y() - self._head()) // self.pitch()
        if 0 <= at < len(self.rows):
            self.hit.emit(at)
