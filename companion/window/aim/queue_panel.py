"""The queue at the side: painted rows, of which only the visible ones cost anything."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QFontMetricsF,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from companion.instant import RowFacts, Snapshot
from companion.live import QueueItem, SortBy
from companion.window.aim.words import RowWords, progress, row_words
from companion.window.kit.lettering import Size, letter, write
from companion.window.kit.palette import Role, ink
from companion.window.kit.scrolling import paint_position
from companion.window.kit.symbols import OUTCOME_SIGNS, Heading, draw_index, draw_rule
from companion.window.kit.type_scale import Scaled

if TYPE_CHECKING:
    from companion.live import Evening

_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_HEADS = ("ALT", "AZ", "LEFT", "MOON")
_ENDS = (0.0, 0.33, 0.70, 1.0)  # right edges of the columns, as shares of what the first leaves
_FEWER_ENDS = (0.0, 0.47, 1.0)  # beside a sheet, where the Moon's column has no room
_WIDEST = ("320½°", "stays up", "167°")
_PAGE = 10


class QueuePanel(Scaled, QWidget):
    """Rows with symbol, name, altitude, azimuth, time left and Moon distance."""

    def __init__(self, evening: "Evening", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening = evening
        self._facts: dict[str, RowFacts] = {}
        self._words: tuple[RowWords, ...] = ()
        self._top = 0  # first visible row
        self._sorted: SortBy | None = None
        self._drawn: tuple[object, ...] = ()
        self.setAccessibleName("Queue")
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    @property
    def rows(self) -> tuple[RowWords, ...]:
        """What the visible rows say."""
        return self._words

    # What is new.

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Take new figures."""
        self._facts = {row.key: row for row in snapshot.rows}
        self._refresh()

    def show_choices(self) -> None:
        """Take new rows, and keep the current one in sight."""
        at = self._current()
        if at is not None:
            self._top = min(self._top, max(0, at - 1))
            self._top = max(self._top, at - self._room() + 2)
        self._refresh()

    def _refresh(self) -> None:
        items = self._evening.queue.items
        self._top = max(0, min(self._top, len(items) - self._room()))
        latest, choices = self._evening.latest, self._evening.choices
        zone = None if latest is None else latest.local.tzinfo
        current = None if choices.target is None else choices.target.key
        self._words = tuple(
            row_words(item, self._facts.get(item.target.key), zone, choices.uncovered, current)
            for item in items[self._top : self._top + self._room()]
        )
        drawn = (self._words, self._top, len(items), progress(items), self._sorted)
        if drawn != self._drawn:
            self._drawn = drawn
            self.update()

    def _current(self) -> int | None:
        target = self._evening.choices.target
        keys = [item.target.key for item in self._evening.queue.items]
        return keys.index(target.key) if target is not None and target.key in keys else None

    # What the keys do.

    def step(self, by: int) -> None:
        """Aim at the row that many rows below (above, if negative)."""
        items, at = self._evening.queue.items, self._current()
        if items:
            goal = 0 if at is None else min(max(at + by, 0), len(items) - 1)
            self._evening.queue.choose(items[goal].target.key)

    def page(self, by: int) -> None:
        """Aim ten rows further."""
        self.step(by * _PAGE)

    def end(self, *, last: bool) -> None:
        """Aim at the last row, or the first."""
        items = self._evening.queue.items
        if items:
            self._evening.queue.choose(items[-1 if last else 0].target.key)

    def carry(self, by: int) -> None:
        """Move the current row."""
        item = self._current_item()
        if item is not None:
            self._sorted = None
            self._evening.queue.move(item.target.key, by)

    def remove(self) -> None:
        """Take the current row out."""
        item = self._current_item()
        if item is not None:
            self._evening.queue.remove(item.target.key)

    def sort(self) -> None:
        """Go to the next order."""
        orders = list(SortBy)
        at = -1 if self._sorted is None else orders.index(self._sorted)
        self._sorted = orders[(at + 1) % len(orders)]
        self._evening.queue.sort(self._sorted)
        self._refresh()

    def _current_item(self) -> QueueItem | None:
        at = self._current()
        return None if at is None else self._evening.queue.items[at]

    # Geometry.

    def _row_height(self) -> int:
        return self.scale.target(9.0)

    def _head_height(self) -> int:
        return self.scale.grid(14)

    def _room(self) -> int:
        return max(1, (self.height() - self._head_height()) // self._row_height())

    def _columns(self) -> list[QRectF]:
        """Give the boxes of the figures under the name, as high as a line of them."""
        left, right = float(self.scale.grid(8.5)), float(self.width() - self.scale.margin)
        metrics = QFontMetricsF(Size.SMALL.font(self.scale))
        high, rest = metrics.capHeight() * 1.7, left + metrics.horizontalAdvance("88.8°")
        needed = sum(metrics.horizontalAdvance(text) + self.scale.grid(1.5) for text in _WIDEST)
        shares = _ENDS if right - rest >= needed else _FEWER_ENDS
        ends = [rest + (right - rest) * share for share in shares]
        starts = [left - metrics.horizontalAdvance("−"), *ends[:-1]]  # a minus hangs out
        return [
            QRectF(start, 0, end - start, high) for start, end in zip(starts, ends, strict=True)
        ]

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Fill the new height with rows."""
        super().resizeEvent(event)
        self.show_choices()

    # Painting.

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Paint head, visible rows and where they stand in the whole."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), ink(self, Role.GROUND))
        columns = self._columns()
        self._paint_head(painter, columns)
        for at, words in enumerate(self._words):
            self._paint_row(painter, words, self._head_height() + at * self._row_height(), columns)
        seen = (self._top, self._room(), len(self._evening.queue.items))
        paint_position(painter, self, seen, top=self._head_height(), steps=1.5)

    def _paint_head(self, painter: QPainter, columns: list[QRectF]) -> None:
        grid = self.scale.grid
        width = float(self.width() - grid(4) - self.scale.margin)
        metrics = letter(painter, self, Size.BODY, Role.TEXT)
        line = QRectF(grid(4), grid(3), width, metrics.height())
        used = write(painter, line, progress(self._evening.queue.items))
        metrics = letter(painter, self, Size.CAPTION, Role.TEXT)
        if self._sorted is not None:
            write(painter, line.adjusted(used + grid(2), 0, 0, 0), f"by {self._sorted}", _RIGHT)
        low = self._head_height() - metrics.height() - grid(1)
        for box, head in zip(columns, _HEADS, strict=False):
            write(painter, box.translated(0, low), head, _RIGHT)
        foot = self._head_height() - self.scale.rule
        ends = (QPointF(grid(4), foot), QPointF(self.width() - self.scale.margin, foot))
        draw_rule(painter, self, *ends, self.scale.rule)

    def _paint_row(
        self, painter: QPainter, words: RowWords, top: float, columns: list[QRectF]
    ) -> None:
        grid = self.scale.grid
        role = Role.EMPHASIS if words.current else Role.TEXT
        metrics = letter(painter, self, Size.BODY, role)
        high = metrics.capHeight() * 1.5
        first = top + (self._row_height() - high - columns[0].height()) / 2
        name = QRectF(grid(8.5), first, columns[-1].right(), high)
        name.setRight(columns[-1].right())
        centre = QPointF(grid(6), name.center().y())
        if words.current:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(ink(self, Role.EMPHASIS))
            draw_index(painter, QPointF(grid(4), centre.y()), Heading.RIGHT, grid(1.8))
        OUTCOME_SIGNS[words.outcome](painter, centre, grid(1.1), ink(self, role))
        painter.setPen(ink(self, role))
        write(painter, name, words.name)
        letter(painter, self, Size.SMALL, Role.TEXT)
        below = columns[0].translated(0, name.bottom())
        if words.instead:
            below.setLeft(name.left())
            below.setRight(columns[-1].right())
            write(painter, below, words.instead + (", with a note" if words.noted else ""))
            return
        for box, text in zip(columns, words.figures, strict=False):
            write(painter, box.translated(0, name.bottom()), text, _RIGHT)

    # The hand.

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Aim at the row that was hit."""
        at = int(event.position().y() - self._head_height()) // self._row_height()
        if event.position().y() >= self._head_height() and 0 <= at < len(self._words):
            self._evening.queue.choose(self._words[at].key)

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802 - Qt's name
        """Look at other rows without aiming at one."""
        rows = -round(event.angleDelta().y() / 40)
        self._top = max(0, min(self._top + rows, len(self._evening.queue.items) - self._room()))
        self._refresh()


def following_words(items: Sequence[QueueItem], snapshot: Snapshot) -> str:
    """Say in one line what waits behind the current target."""
    current = None if snapshot.aim is None else snapshot.aim.target.key
    facts = {row.key: row for row in snapshot.rows}
    waiting = [item for item in items if item.waiting and item.target.key != current]
    if not waiting:
        return progress(items)
    row = facts.get(waiting[0].target.key)
    where = "" if row is None else f" {row.altitude_text}° {row.azimuth_text}°"
    return f"then {waiting[0].target.name}{where} · {progress(items)}"
