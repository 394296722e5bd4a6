"""What the pages with a long list share: head, chips, progress, a notice or the rows."""

from collections.abc import Iterator, Sequence

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from companion.window.aim.words import NOTHING, Notice
from companion.window.frame.hint_line import Hint, cap_width, paint_cap
from companion.window.kit.attention import Attention
from companion.window.kit.lettering import Size, Words, letter, write
from companion.window.kit.palette import Role, ink
from companion.window.kit.row_list import RowList
from companion.window.kit.symbols import draw_rule
from companion.window.kit.type_scale import Arranged, Scaled


class Chips(Scaled, QWidget):
    """Values, some with the cap of their key; those that are set stand out.

    One may be chosen, as a row is: then it is underlined.
    """

    wanted = Signal(str)  # the action of the key that was hit

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.chips: tuple[Hint, ...] = ()
        self.chosen: int | None = None
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def say(self, chips: Sequence[Hint]) -> None:
        """Show other values."""
        if tuple(chips) != self.chips:
            self.chips = tuple(chips)
            self.setAccessibleName(", ".join(f"{one.cap} {one.word}" for one in chips))
            self.update()

    def step(self, by: int) -> None:
        """Choose the next one, or the one before."""
        if self.chips:
            last = len(self.chips) - 1
            at = (0 if by > 0 else last) if self.chosen is None else self.chosen + by
            self.choose(min(max(at, 0), last))

    def choose(self, at: int | None) -> None:
        """Choose one, or none."""
        if at != self.chosen:
            self.chosen = at
            self.update()

    def take(self) -> bool:
        """Do what the chosen one does; give whether one is chosen."""
        if self.chosen is None or self.chosen >= len(self.chips):
            return False
        self.wanted.emit(self.chips[self.chosen].action)
        return True

    def _cap(self, chip: Hint) -> float:
        return cap_width(self, chip.cap) + self.scale.grid(1) if chip.cap else 0.0

    def _high(self) -> float:
        return QFontMetricsF(Size.BODY.font(self.scale)).height() + self.scale.grid(1)

    def height_for(self, width: int) -> int:
        """Give the height that the chips take at a width."""
        boxes = [box for _chip, box in self._places(width)]
        return round(max((box.bottom() for box in boxes), default=0.0))

    def _places(self, width: int) -> Iterator[tuple[Hint, QRectF]]:
        metrics, high = QFontMetricsF(Size.BODY.font(self.scale)), self._high()
        x, y = 0.0, 0.0
        for chip in self.chips:
            word = metrics.horizontalAdvance(chip.word)
            wide = self._cap(chip) + word + 1
            if x and x + wide > width:
                x, y = 0.0, y + high
            yield chip, QRectF(x, y, min(wide, width), high)
            x += wide + self.scale.grid(3.5)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw caps and values."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), ink(self, Role.GROUND))
        for at, (chip, box) in enumerate(self._places(self.width())):
            chosen = at == self.chosen
            role = Role.EMPHASIS if chip.marked or chosen else Role.TEXT
            if chip.cap:
                right = QPointF(box.left() + cap_width(self, chip.cap), box.bottom())
                paint_cap(painter, self, QRectF(box.topLeft(), right), chip.cap, role)
            letter(painter, self, Size.BODY, role)
            write(painter, box.adjusted(self._cap(chip), 0, 1, 0), chip.word)
            if chosen:
                painter.setPen(QPen(ink(self, Role.EMPHASIS), self.scale.hair * 2))
                low = box.bottom() - self.scale.hair
                painter.drawLine(QPointF(box.left(), low), QPointF(box.right(), low))

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Do what the hit key does."""
        for at, (chip, box) in enumerate(self._places(self.width())):
            if box.contains(event.position()):
                self.choose(at)
                self.wanted.emit(chip.action)
                return


class ListPage(Arranged):
    """Stacks its parts; subclasses say what stands in them."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.head = Words(Size.TITLE, Role.EMPHASIS, parent=self)
        self.about = Words(Size.BODY, parent=self)
        self.chips = Chips(self)
        self.notice = Attention(self)
        self.list = RowList(self)
        self._share: float | None = None
        self._line = 0

    def say(self, head: str, about: str, notice: Notice, share: float | None) -> None:
        """Say what stands over the rows; ``share`` is how far the work is, None for none."""
        self.head.say(head)
        self.about.say(about)
        self.notice.say(notice)
        self._share = share
        self.arrange()
        self.update()

    def step(self, by: int) -> None:
        """Choose another row; what was chosen above the rows is left."""
        self.chips.choose(None)
        self.list.mark(marked=True)
        self.list.step(by)

    def step_chip(self, by: int) -> None:
        """Choose one of the values above the rows."""
        self.chips.step(by)
        self.list.mark(marked=self.chips.chosen is None)

    def show_desk(self) -> None:
        """Draw what the model has; subclasses say what that is."""

    def arrange(self) -> None:
        """Stack the parts."""
        grid, margin = self.scale.grid, self.scale.grid(6)
        width, top = max(1, self.width() - 2 * margin), grid(3)
        for words in (self.head, self.about):
            high = words.height_for(width) if words.text else 0
            words.setGeometry(margin, top, width, high)
            top += high + (grid(0.5) if high else 0)
        chips = self.chips.height_for(width)
        self.chips.setGeometry(margin, top, width, max(1, chips))
        self.chips.setVisible(bool(chips))
        self._line = top + chips + grid(1)
        top = self._line + grid(1)
        notice = 0 if self.notice.notice == NOTHING else self.notice.height_for(width)
        self.notice.setVisible(bool(notice))
        self.notice.setGeometry(margin, top + grid(1), width, notice)
        top += notice + (grid(2) if notice else 0)
        self.list.setGeometry(0, top, self.width(), max(1, self.height() - top))
        self.list.setVisible(bool(self.list.rows))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the line over the rows; while work goes on it fills from the left."""
        painter = QPainter(self)
        left, right = float(self.scale.grid(6)), float(self.width() - self.scale.grid(6))
        ends = (QPointF(left, self._line), QPointF(right, self._line))
        draw_rule(painter, self, *ends, self.scale.rule)
        if self._share is not None:
            painter.setPen(
                QPen(ink(self, Role.EMPHASIS), self.scale.hair * 3, Qt.PenStyle.SolidLine)
            )
            end = left + max(0.02, min(self._share, 1.0)) * (right - left)
            painter.drawLine(QPointF(left, self._line), QPointF(end, self._line))
