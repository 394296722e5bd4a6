"""All keys, drawn from the one table; a click on one does what the key does."""

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QMouseEvent, QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import QWidget

from companion.window.frame.before import BEFORE_YOU_GO_OUT
from companion.window.frame.help_flow import TITLE_ROWS, GroupPart, HelpRow, KeyGroup, pages_of
from companion.window.frame.hint_line import cap_width, paint_cap
from companion.window.frame.key_table import KEYS
from companion.window.frame.keys import EVERYWHERE, HELP
from companion.window.frame.screen import Action, ScreenPlace
from companion.window.frame.sheet import Sheet
from companion.window.kit.lettering import Size, letter, write
from companion.window.kit.palette import Role, ink

_PITCH = 1.25  # of rows, as a share of the height of their type
_MOST_COLUMNS = 3
_PAGE_STEPS = 24  # of the grid, for which page this is
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


class HelpSheet(Sheet):
    """The screens in a row, and below it groups of keys in columns, on as many pages as needed."""

    word = HELP
    wide = True

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.field.hide()
        self.setMouseTracking(True)
        self._before = False  # whether the page before you go out is up
        self._screens: tuple[ScreenPlace, ...] = ()
        self._shown = ""
        self._page = 0
        self._boxes: list[tuple[QRectF, HelpRow]] = []  # what was drawn, and can be hit
        self._hovered = ""

    def set_screens(self, screens: Sequence[ScreenPlace], shown: str) -> None:
        """Know the screens there are, and which one is up."""
        self._screens, self._shown = tuple(screens), shown
        self._page = 0
        self._turn(before=False)
        self.setAccessibleName(
            "; ".join(f"{row.cap}: {row.says}" for group in self.groups() for row in group.rows)
        )

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys do."""
        return {
            "before": lambda: self._turn(before=True),
            "before_left": lambda: self._turn(before=False),
            "page_down": lambda: self._leaf(1),
            "page_up": lambda: self._leaf(-1),
        }

    def _turn(self, *, before: bool) -> None:
        """Show the keys, or the page before you go out."""
        self._before = before
        self.head.say("Before you go out" if before else "Keys")
        self.explanation.say(BEFORE_YOU_GO_OUT if before else "")
        self.arrange()
        self.update()

    def _leaf(self, by: int) -> None:
        self._page = min(max(0, self._page + by), len(self.pages()) - 1)
        self.update()

    def screens(self) -> tuple[HelpRow, ...]:
        """Give the keys of the screens."""
        return tuple(
            HelpRow(one.digit.lower(), one.word, f"screen:{one.word}") for one in self._screens
        )

    def groups(self) -> list[KeyGroup]:
        """Give what holds on this screen, what holds everywhere, then the other screens."""
        others = [one.word for one in self._screens if one.word != self._shown]
        return [
            KeyGroup(f"ON {self._shown.upper()}", _rows(self._shown, clicks=True)),
            KeyGroup("EVERYWHERE", _rows(EVERYWHERE, clicks=True)),
            *(
                KeyGroup(f"ON {name.upper()}", _rows(name, clicks=False), needed=False)
                for name in others
            ),
        ]

    def pages(self) -> tuple[tuple[GroupPart, ...], ...]:
        """Give what stands on each page at the present size."""
        return pages_of(self.groups(), self._columns(), self._room())

    # Where things are.

    def arrange_rest(self, top: int) -> None:
        """Leave room beside the head for which page this is."""
        del top
        self.head.resize(self.head.width() - self.scale.grid(_PAGE_STEPS), self.head.height())

    def _pitch(self) -> float:
        return QFontMetricsF(Size.SMALL.font(self.scale)).height() * _PITCH

    def _across(self) -> float:
        return self.width() - 2.0 * self.margin()

    def _columns(self) -> int:
        """Give as many columns as have room for the longest row of all."""
        gap = self.scale.grid(4)
        says = QFontMetricsF(Size.SMALL.font(self.scale)).horizontalAdvance
        widest = max(
            self._cap_column(group.rows) + max(says(row.says) for row in group.rows)
            for group in self.groups()
            if group.rows
        )
        return max(1, min(_MOST_COLUMNS, int((self._across() + gap) // (widest + gap))))

    def _cap_column(self, rows: Sequence[HelpRow]) -> float:
        return max(cap_width(self, row.cap) for row in rows) + self.scale.grid(2)

    def _screen_boxes(self) -> list[tuple[QRectF, HelpRow]]:
        """Give each screen its place in the row, or in more rows where one is too short."""
        metrics = QFontMetricsF(Size.SMALL.font(self.scale))
        left, top = float(self.margin()), float(self.head.geometry().bottom() + self.scale.grid(1))
        boxes, x, high = [], left, self._pitch()
        for row in self.screens():
            word = metrics.horizontalAdvance(row.says)
            wide = cap_width(self, row.cap) + self.scale.grid(1) + word
            if x > left and x + wide > left + self._across():
                x, top = left, top + high * 1.1
            boxes.append((QRectF(x, top, wide, high), row))
            x += wide + self.scale.grid(3)
        return boxes

    def _top(self) -> float:
        boxes = self._screen_boxes()
        start = boxes[-1][0].bottom() if boxes else float(self.head.geometry().bottom())
        return start + self.scale.grid(2)

    def _room(self) -> float:
        return (self.height() - self.scale.grid(1) - self._top()) / self._pitch()

    # What is drawn.

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Write the screens in a row and the groups of the page that is up."""
        super().paintEvent(event)
        self._boxes = []
        if self._before:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for box, row in self._screen_boxes():
            self._paint_row(painter, box, row, cap_width(self, row.cap) + self.scale.grid(1))
        pages = self.pages()
        self._page = min(self._page, len(pages) - 1)
        for part in pages[self._page]:
            self._paint_part(painter, part)
        if len(pages) > 1:
            letter(painter, self, Size.CAPTION, Role.TEXT)
            beside = QRectF(self.head.geometry())
            beside.setLeft(beside.right())
            beside.setRight(self.width() - self.margin())
            write(painter, beside, f"page {self._page + 1} of {len(pages)}", _RIGHT)

    def _paint_part(self, painter: QPainter, part: GroupPart) -> None:
        gap, columns, pitch = self.scale.grid(4), self._columns(), self._pitch()
        wide = (self._across() + gap) / columns
        left = self.margin() + part.column % columns * wide
        line = QRectF(left, self._top() + part.top * pitch, wide - gap, pitch)
        letter(painter, self, Size.CAPTION, Role.EMPHASIS)
        write(painter, line, part.title)
        painter.setPen(QPen(ink(self, Role.LINE), self.scale.hair))
        low = round(line.bottom()) + 0.5
        painter.drawLine(QPointF(line.left(), low), QPointF(line.right(), low))
        caps = self._cap_column(part.rows)
        row_box = line.translated(0, pitch * TITLE_ROWS)
        for row in part.rows:
            self._paint_row(painter, row_box, row, caps)
            row_box.translate(0, pitch)

    def _paint_row(self, painter: QPainter, box: QRectF, row: HelpRow, indent: float) -> None:
        here = row.action == f"screen:{self._shown}"
        bright = here or (bool(row.action) and row.action == self._hovered)
        role = Role.EMPHASIS if bright else Role.TEXT
        cap = QRectF(box.left(), box.top(), cap_width(self, row.cap), box.height())
        air = box.height() * 0.06
        paint_cap(painter, self, cap.adjusted(0, air, 0, -air), row.cap, role)
        letter(painter, self, Size.SMALL, role)
        write(painter, box.adjusted(indent, 0, 1, 0), row.says)
        if row.action:
            self._boxes.append((QRectF(box), row))

    # The mouse.

    def _hit(self, at: QPointF) -> str:
        return next((row.action for box, row in self._boxes if box.contains(at)), "")

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Show which key a click would press."""
        hovered = self._hit(event.position())
        if hovered != self._hovered:
            self._hovered = hovered
            self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Go away, and do what the key does that was hit."""
        action = self._hit(event.position())
        if not action:
            event.ignore()
            return
        self._hovered = ""
        self.dismiss()
        self.wanted.emit(action)

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802 - Qt's name
        """Turn to another page."""
        if event.angleDelta().y():
            self._leaf(-1 if event.angleDelta().y() > 0 else 1)
        event.accept()


def _rows(context: str, *, clicks: bool) -> tuple[HelpRow, ...]:
    said = (key for key in KEYS if key.context == context and key.says)
    return tuple(HelpRow(key.cap, key.says, key.action if clicks else "") for key in said)
