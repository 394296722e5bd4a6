"""Where one screen stands at a time, with a sheet beside it or over it."""

from PySide6.QtCore import QRect, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from companion.window.frame.screen import Screen, ScreenPlace
from companion.window.frame.sheet import Sheet

_SHEET_COLUMN = 7
_WHOLE_UNDER = 900  # pixels: in a narrower window a sheet covers the screen


class Stage(QWidget):
    """Holds all screens and shows one."""

    changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.screens: tuple[ScreenPlace, ...] = ()
        self._made: dict[str, Screen] = {}
        self.shown = Screen(self)
        self._sheet: Sheet | None = None

    def add(self, place: ScreenPlace) -> None:
        """Know of a screen; the order of the digits is the order on the hint line."""
        self.screens = tuple(sorted((*self.screens, place), key=lambda one: one.digit))

    def bring_up(self, word: str) -> None:
        """Show the screen of that word; another one stays if there is none."""
        screen = self._screen(word)
        if screen is None or screen is self.shown:
            return
        self.shown.hide()
        self.shown = screen
        self.arrange()
        screen.show()
        screen.lower()
        self.changed.emit()

    def _screen(self, word: str) -> Screen | None:
        """Give a screen, made now if nobody went there before: the window opens the sooner."""
        if word not in self._made:
            place = next((place for place in self.screens if place.word == word), None)
            if place is None:
                return None
            screen = self._made[word] = place.make()
            screen.setParent(self)
            screen.hide()
        return self._made[word]

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Fit the screens and what lies over them."""
        super().resizeEvent(event)
        self.arrange()

    def lay_over(self, sheet: Sheet | None) -> None:
        """Make room for a sheet at the side of the screen, or give it back to the screen."""
        self._sheet = sheet
        self.arrange()

    def arrange(self) -> None:
        """Fit the screen and what lies over it."""
        room = self.rect()
        if self._sheet is not None:
            box = self.sheet_box(self._sheet)
            self._sheet.setGeometry(box)
            if box.left() > 0:
                room.setRight(box.left() - 1)
        self.shown.setGeometry(room)

    def sheet_box(self, sheet: Sheet) -> QRect:
        """Give where a sheet lies."""
        box = self.rect()
        if not sheet.wide and self.width() >= _WHOLE_UNDER:
            box.setLeft(sheet.scale.column(self.width(), _SHEET_COLUMN) - sheet.scale.gutter)
        return box
