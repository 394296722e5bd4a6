"""All keys, drawn from the one table."""

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from companion.window.frame.before import BEFORE_YOU_GO_OUT
from companion.window.frame.hint_line import cap_width, paint_cap
from companion.window.frame.key_table import KEYS
from companion.window.frame.keys import EVERYWHERE, HELP
from companion.window.frame.screen import Action, ScreenPlace
from companion.window.frame.sheet import Sheet
from companion.window.kit.lettering import Size, letter, write
from companion.window.kit.palette import Role, ink

_ROOMY = (1.42, 1.2)  # pitches of rows, as shares of the height of their type
_PITCHES = (*_ROOMY, 1.0, 0.84, 0.74, 0.66)
_WIDE, _NARROW = 68, 50  # columns, in steps of the grid
_LEAST_ROWS = 3  # of a group at the foot of a column
_NEEDED = 2  # groups that must be there, however tight: those of this screen and of everywhere


class HelpSheet(Sheet):
    """Groups of keys in columns: where they hold, and what they do."""

    word = HELP
    wide = True

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.field.hide()
        self._before = False  # whether the page before you go out is up
        self._screens: tuple[ScreenPlace, ...] = ()
        self._shown = ""

    def set_screens(self, screens: Sequence[ScreenPlace], shown: str) -> None:
        """Know the screens there are, and which one is up."""
        self._screens, self._shown = tuple(screens), shown
        self._turn(before=False)
        self.setAccessibleName(
            "; ".join(f"{cap}: {says}" for _t, rows in self.groups() for cap, says in rows)
        )
        self.update()

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys do."""
        return {
            "before": lambda: self._turn(before=True),
            "before_left": lambda: self._turn(before=False),
        }

    def _turn(self, *, before: bool) -> None:
        """Show the keys, or the page before you go out."""
        self._before = before
        self.head.say("Before you go out" if before else "Keys")
        self.explanation.say(BEFORE_YOU_GO_OUT if before else "")
        self.arrange()
        self.update()

    def groups(self) -> list[tuple[str, list[tuple[str, str]]]]:
        """Give title and rows (cap, what it does) of every group, the present screen first."""
        names = [screen.word for screen in self._screens]
        if self._shown not in names:
            names = [self._shown, *names]
        names.sort(key=lambda name: name != self._shown)
        screens = [(screen.digit, f"the screen {screen.word}") for screen in self._screens]
        made = [(f"ON {name.upper()}", _rows(name)) for name in names]
        made.insert(1, ("EVERYWHERE", [*screens, *_rows(EVERYWHERE)]))
        return made

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Write the groups into as many columns as fit."""
        super().paintEvent(event)
        if self._before:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for title, rows, line in self._places():
            self._paint_group(painter, line, title, rows)

    def _places(self) -> list[tuple[str, list[tuple[str, str]], QRectF]]:
        """Give every group its place: closer rows in a low window, and no group that is cut."""
        groups, usual = self.groups(), QFontMetricsF(Size.SMALL.font(self.scale)).height()
        while True:
            for share in _PITCHES if len(groups) <= _NEEDED else _ROOMY:
                placed = self._placed(groups, usual * share)
                if placed is not None:
                    return placed
            groups.pop()  # the keys of another screen: they are shown there

    def _placed(
        self, groups: list[tuple[str, list[tuple[str, str]]]], pitch: float
    ) -> list[tuple[str, list[tuple[str, str]], QRectF]] | None:
        """Fill the columns from the left; None if they are too short."""
        grid = self.scale.grid
        first = float(self.head.geometry().bottom() + grid(2))
        low = self.height() - grid(1)
        needed = len(groups) <= _NEEDED
        columns = max(1, min(3, self.width() // grid(_NARROW if needed else _WIDE)))
        width = (self.width() - 2 * self.margin() + grid(4)) / columns
        placed, top, column = [], first, 0
        for title, rows in groups:
            left_over = rows
            while left_over:
                room = int((low - top) / pitch - 1.15)
                # Only where nothing else helps does a group go on in the next column.
                if room < (min(_LEAST_ROWS, len(left_over)) if needed else len(left_over)):
                    top, column = first, column + 1
                    room = int((low - top) / pitch - 1.15)
                if column == columns or room < (1 if needed else len(left_over)):
                    return None
                left = self.margin() + column * width
                placed.append((title, left_over[:room], QRectF(left, top, width - grid(4), pitch)))
                top += pitch * (len(left_over[:room]) + 1.75)
                left_over = left_over[room:]
        return placed

    def _paint_group(
        self, painter: QPainter, line: QRectF, title: str, rows: list[tuple[str, str]]
    ) -> None:
        letter(painter, self, Size.CAPTION, Role.EMPHASIS)
        write(painter, line, title)
        painter.setPen(QPen(ink(self, Role.LINE), self.scale.hair))
        painter.drawLine(QPointF(line.left(), line.bottom()), QPointF(line.right(), line.bottom()))
        wide = max(cap_width(self, cap) for cap, _says in rows) + self.scale.grid(2)
        row = line.translated(0, line.height() * 1.15)
        for cap, says in rows:
            box = QRectF(row.left(), row.top(), cap_width(self, cap), row.height())
            paint_cap(painter, self, box, cap, Role.TEXT)
            letter(painter, self, Size.SMALL, Role.TEXT)
            write(painter, row.adjusted(wide, 0, 0, 0), says)
            row.translate(0, line.height())


def _rows(context: str) -> list[tuple[str, str]]:
    return [(key.cap, key.says) for key in KEYS if key.context == context and key.says]
