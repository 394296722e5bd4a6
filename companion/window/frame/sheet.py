"""What lies over a screen for a while: a sheet at its side, so that the numbers stay in sight."""

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QLineEdit, QWidget

from companion.window.frame.screen import Screen
from companion.window.kit.lettering import Size, Words
from companion.window.kit.palette import Role, ink
from companion.window.kit.symbols import draw_rule
from companion.window.kit.type_scale import Scaled, TypeScale

LONGEST = 200  # letters in a field: whatever is pasted beyond is left out


class Field(Scaled, QLineEdit):
    """A line to type into, without a frame; the sheet draws the line beneath."""

    def __init__(self, parent: QWidget | None = None, longest: int = LONGEST) -> None:
        super().__init__(parent)
        self.setFrame(False)
        self.setMaxLength(longest)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.NoContextMenu)
        self.setTextMargins(0, 0, 0, 0)

    def set_scale(self, scale: TypeScale) -> None:
        """Take a new scale."""
        super().set_scale(scale)
        self.setFont(Size.TITLE.font(scale))


class Sheet(Screen):
    """Head line, explanation, a field, and below it what the subclass puts there."""

    dismissed = Signal()
    wide = False  # whether it covers the whole screen

    def __init__(self, parent: QWidget | None = None, longest: int = LONGEST) -> None:
        super().__init__(parent)
        self.head = Words(Size.TITLE, Role.EMPHASIS, wrap=True, parent=self)
        self.explanation = Words(Size.BODY, wrap=True, parent=self)
        self.field = Field(self, longest)
        self.error = Words(Size.BODY, Role.EMPHASIS, wrap=True, parent=self)
        self.setAutoFillBackground(True)
        self.hide()

    def open(self) -> None:
        """Come up with the field ready to be typed into."""
        self.error.say("")
        self.arrange()
        self.show()
        self.raise_()
        self.field.setFocus(Qt.FocusReason.OtherFocusReason)
        self.field.selectAll()

    def dismiss(self) -> None:
        """Go away."""
        self.field.clearFocus()
        self.hide()
        self.dismissed.emit()

    def show_error(self, text: str) -> None:
        """Say below the field what was wrong with it."""
        self.error.say(text)
        self.arrange()

    def arrange(self) -> None:
        """Stack the parts; ``arrange_rest`` places what a subclass adds."""
        grid = self.scale.grid
        left = self.margin()
        width, top = max(1, self.width() - left - self.scale.margin - self.room_at_side()), grid(3)
        for words, gap in ((self.head, 1.0), (self.explanation, 2.0)):
            high = words.height_for(width) if words.text else 0
            words.setGeometry(left, top, width, high)
            top += high + (grid(gap) if high else 0)
        top = self.arrange_fields(left, top, width)
        high = self.error.height_for(width) if self.error.text else 0
        self.error.setGeometry(left, top, width, high)
        self.arrange_rest(top + high + (grid(1) if high else 0))

    def arrange_fields(self, left: int, top: int, width: int) -> int:
        """Place what is typed into; give where it ends."""
        high = self.field.fontMetrics().height() + self.scale.grid(1)
        self.field.setGeometry(left, top, width, high if self.field.isVisibleTo(self) else 0)
        return top + self.field.height() + self.scale.grid(1.5)

    def fields(self) -> tuple[Field, ...]:
        """Give the lines to type into."""
        return (self.field,)

    def margin(self) -> int:
        """Give the margin at both sides; a wide sheet keeps that of the screens."""
        return self.scale.grid(6 if self.wide else 4)

    def room_at_side(self) -> int:
        """Give what a subclass takes at the right of the words."""
        return 0

    def arrange_rest(self, top: int) -> None:
        """Place what comes below the field."""

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the edge of the sheet and the line under each field."""
        painter = QPainter(self)
        if not self.wide:
            ends = (QPointF(0, 0), QPointF(0, self.height()))
            draw_rule(painter, self, *ends, self.scale.rule)
        painter.setPen(QPen(ink(self, Role.TEXT), self.scale.hair * 1.6))
        for field in self.fields():
            if field.isVisible():
                low = field.geometry().bottom() + self.scale.grid(0.5)
                right = field.geometry().right()
                painter.drawLine(QPointF(field.x(), low), QPointF(right, low))
