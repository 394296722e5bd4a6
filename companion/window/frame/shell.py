"""The window: a screen, what lies over it for a while, messages, one quiet line, the keys."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import timedelta
from time import monotonic
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QCloseEvent, QKeyEvent, QMouseEvent, QResizeEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget

from companion.instant import Snapshot
from companion.window.frame.adaptation import Adaptation
from companion.window.frame.hint_line import HintLine
from companion.window.frame.hints import can_begin_anew, hints_of, screen_hints
from companion.window.frame.key_table import find_key
from companion.window.frame.keys import ABOUT, AIM, NIGHT, PLACE, name_of
from companion.window.frame.memory import Memory
from companion.window.frame.message_strip import MessageStrip
from companion.window.frame.notices import Notices
from companion.window.frame.screen import Action, Screen, ScreenPlace
from companion.window.frame.screen_makers import own_screens
from companion.window.frame.second_window import SecondWindow
from companion.window.frame.sheets import Sheets
from companion.window.frame.stage import Stage
from companion.window.frame.status_line import Banner, StatusLine
from companion.window.frame.status_words import banner, soon_words, status
from companion.window.frame.twice import Twice
from companion.window.kit.motion import Motion
from companion.window.kit.palette import WindowBrightness, luminance_at
from companion.window.kit.type_scale import scale_for, spread_scale

if TYPE_CHECKING:
    from companion.live import Evening

_WATCH_MS = 1000
_TURN = timedelta(minutes=10)  # of the sky, a key
_AGAIN_S = 4.0  # within which the second press counts
_LEAST = QSize(480, 300)
_USUAL = QSize(1366, 768)


class MainWindow(QWidget):
    """Draws an evening and hands keys to it.

    Parameters
    ----------
    evening : Evening
        The model; the window reads it, calls it and closes it.
    brightness : WindowBrightness
        The brightness of the application.
    full_screen : bool
        Whether the window hides the desktop from the start.
    """

    painted_first = Signal()  # once, after the first frame: the threads may start

    def __init__(
        self, evening: "Evening", brightness: WindowBrightness, *, full_screen: bool
    ) -> None:
        super().__init__(None, Qt.WindowType.Window | Qt.WindowType.FramelessWindowHint)
        self.evening = evening
        self._brightness = brightness
        self._full_screen = full_screen
        self._painted = False
        self._homeless = evening.needs_site
        self._gives_up = False  # leaving is asked for again though something would be lost
        self._twice = Twice(_AGAIN_S)
        self._memory = Memory(evening)
        self._adaptation = Adaptation(monotonic())
        self.motion = Motion(self)
        self.banner, self.stage = Banner(self), Stage(self)
        self.messages = MessageStrip(self)
        self.status, self.hints = StatusLine(self), HintLine(self)
        self.sheets = Sheets(evening, self.stage)
        self.guests = SecondWindow(evening, self)
        self._notices = Notices(evening, self.messages, self.stage)
        self._stack()
        self._connect()
        self._add_own_screens()
        self._watch = QTimer(self)
        self._watch.timeout.connect(self._look_at_the_clock)
        self._watch.timeout.connect(self._remember)
        self._watch.start(_WATCH_MS)
        self.setWindowTitle("Companion")
        self.setMinimumSize(_LEAST)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.resize(_USUAL)

    def _stack(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.banner)
        column.addWidget(self.stage, 1)
        for line in (self.messages, self.status, self.hints):
            column.addWidget(line)

    def _connect(self) -> None:
        evening = self.evening
        evening.changed.connect(self._show_choices)
        evening.snapshot_ready.connect(self._show_snapshot)
        evening.messages.changed.connect(self._notices.show)
        evening.offers.changed.connect(self._show_hints)
        self._brightness.changed.connect(self._show_hints)
        self.hints.wanted.connect(self.do)
        self.status.wanted.connect(self.do)
        self.messages.put_away.connect(self._notices.put_away)
        self.stage.changed.connect(self._show_hints)
        self.sheets.changed.connect(self._take_sheet_change)
        self.sheets.wanted.connect(self.do)
        self.guests.pressed.connect(self.keyPressEvent)

    def _add_own_screens(self) -> None:
        for digit, word, make in own_screens(self.evening, self.motion, self.sheets):
            self.add_screen(digit, word, make)
        left = self.evening.left_as.screen
        known = left if left in {screen.word for screen in self.stage.screens} else AIM
        self.go_to(PLACE if self.evening.needs_site else known)
        self.painted_first.connect(self._ask_first)  # a frame that it covers whole paints nothing
        self._show_choices()
        self._notices.show()
        self._look_at_the_clock()

    # Screens.

    def add_screen(self, digit: str, word: str, make: Callable[[], Screen]) -> None:
        """Register a screen, made when somebody goes there; its keys are in the table."""
        self.stage.add(ScreenPlace(digit, word, lambda: self._made(make())))

    def _made(self, screen: Screen) -> Screen:
        spread_scale(screen, scale_for(self.width(), self.height()))
        screen.wanted.connect(self.do)
        screen.turned.connect(self._show_hints)
        return screen

    def go_to(self, word: str) -> None:
        """Bring up the screen of that word."""
        self.sheets.dismiss()
        if word == ABOUT and self.stage.shown.word != ABOUT:
            self.evening.pages.look_at(self.stage.shown.pointed_at)
        self.stage.bring_up(word)
        self._feed_screen()
        self._notices.show()

    @property
    def context(self) -> str:
        """Where keys hold now: what lies over the screen, or the screen."""
        sheet = self.sheets.up
        return self.stage.shown.context if sheet is None else sheet.word

    def show_first(self) -> None:
        """Show the window as it was asked for."""
        if self._full_screen:
            self.showFullScreen()
        else:
            self.show()
        self.activateWindow()  # without a window manager nobody else gives it the keys

    # What is new.

    def _show_snapshot(self, snapshot: Snapshot) -> None:
        self.stage.shown.show_snapshot(snapshot)
        if self.sheets.up is not None:
            self.sheets.up.show_snapshot(snapshot)
        self._notices.show()
        self._look_at_the_clock()

    def _show_choices(self) -> None:
        if self._homeless and not self.evening.needs_site:
            self._homeless = False
            self.go_to(AIM)  # the place is known: on to what it is for
        self.stage.shown.show_choices()
        self._show_hints()
        self._look_at_the_clock()

    def _feed_screen(self) -> None:
        """Tell the screen that comes up everything; the others cost nothing."""
        self.stage.shown.show_choices()
        if self.evening.latest is not None:
            self.stage.shown.show_snapshot(self.evening.latest)

    def _look_at_the_clock(self) -> None:
        snapshot, now_s = self.evening.latest, monotonic()
        said = status(snapshot, now_s, homeless=self.evening.needs_site)
        eyes = self._adaptation.words(now_s, luminance_at(self._brightness.step))
        self.status.say(replace(said, eyes=eyes, soon=self._soon_words()))
        self.banner.say(banner(snapshot, self.evening.choices, now_s, demo=self.evening.demo))

    def _remember(self) -> None:
        self._memory.keep(self, self._brightness.step, self.stage.shown.word)

    def _soon_words(self) -> str:
        soon = self.evening.coming.soon
        return "" if soon is None else soon_words(soon, self.evening.clock.now_utc)

    def _show_hints(self) -> None:
        screens = self.stage.screens
        asked = next((one for one in ("quit", "begin_anew") if self._twice.asked(one)), "")
        self.hints.say(
            hints_of(self.context, self.evening, asked),
            screen_hints(screens, self.stage.shown, self.context, homeless=self.evening.needs_site),
        )

    def _take_sheet_change(self) -> None:
        if self.sheets.up is None:
            self.setFocus(Qt.FocusReason.OtherFocusReason)
        self._show_hints()

    # Keys.

    def key_actions(self) -> Mapping[str, Action]:
        """Give what every key of the present context does."""
        sheet = self.sheets.up
        own = self.stage.shown.key_actions() if sheet is None else sheet.key_actions()
        return {**self._everywhere(), **self.sheets.key_actions(self.stage.shown.word), **own}

    def _everywhere(self) -> Mapping[str, Action]:
        evening = self.evening
        return {
            "undo": evening.undo,
            "redo": evening.redo,
            "put_off": evening.coming.put_off,
            "present": evening.clock.come_back,
            "sky_on": lambda: evening.clock.step(_TURN),
            "sky_back": lambda: evening.clock.step(-_TURN),
            "brighter": lambda: self._brightness.move(-1),
            "dimmer": lambda: self._brightness.move(1),
            "full_screen": self._turn_full_screen,
            "guest_page": self.guests.turn,
            "fast": self._turn_fast,
            "tonight": self._open_list,
            "help": lambda: self.sheets.help(self.stage.screens, self.stage.shown.context),
            "close": self._close_something,
            "retry_journal": evening.upkeep.retry,
            "rescue": self._rescue,
            "begin_anew": self._begin_anew,
            "quit": self._leave,
            "minimise": self.showMinimized,
            "leave": self._close_window,
            "white_light": lambda: self._adaptation.begin(monotonic()),
        }

    def do(self, action: str) -> None:
        """Do what a key of that action does here."""
        if action.startswith("screen:"):
            self.go_to(action.removeprefix("screen:"))
            if self.stage.shown.word == PLACE:
                self._ask_first()
            return
        wanted = self.key_actions().get(action)
        if wanted is not None:
            wanted()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Do what the pressed key does here; what is typed belongs to the field."""
        name = name_of(event)
        typing = isinstance(QApplication.focusWidget(), QLineEdit)
        if not name or (typing and len(name) == 1):
            return
        if self.evening.needs_site and self.sheets.up is None and name.isalnum() and len(name) == 1:
            place = next(one for one in self.stage.screens if one.word == PLACE)
            self.go_to(PLACE)
            self._ask_for_place("" if name == place.digit else name)  # the notices say "Press 7"
            return
        for screen in self.stage.screens:
            if name == screen.digit:
                self.go_to(screen.word)
                return
        key = find_key(name, self.context)
        if key is not None:
            self.do(key.action)

    def _ask_first(self) -> None:
        if self.evening.needs_site and self.sheets.up is None:
            self._ask_for_place()

    def _ask_for_place(self, typed: str = "") -> None:
        """Bring up what every number depends on: the question where one is."""
        self.sheets.find_place(self.evening.sites.visit, typed)

    def _open_list(self) -> None:
        """Go to tonight's list, whatever screen is up."""
        self.go_to(NIGHT)
        self.do("tonight")

    def _turn_full_screen(self) -> None:
        if self.isFullScreen():
            self.showNormal()
        else:
            self.showFullScreen()

    def _turn_fast(self) -> None:
        self.evening.set_fast(fast=self.evening.choices.rate_hz < 5.0)

    def _close_something(self) -> None:
        if self.sheets.up is not None:
            self.sheets.dismiss()
        else:
            self._notices.put_away()

    def _close_window(self) -> None:
        self.close()

    def _leave(self) -> None:
        if self._pressed_twice("quit"):
            self.close()
        else:
            self.evening.upkeep.warn_of_leaving()

    def _rescue(self) -> None:
        if self.evening.upkeep.rescuable:
            self.evening.upkeep.rescue()

    def _begin_anew(self) -> None:
        if can_begin_anew(self.evening) and self._pressed_twice("begin_anew"):
            self.evening.upkeep.begin_anew()

    def _pressed_twice(self, action: str) -> bool:
        second = self._twice.press(action)
        self._show_hints()
        QTimer.singleShot(round(self._twice.within_s * 1000) + 50, self, self._show_hints)
        return second

    # Qt.

    def event(self, event: QEvent) -> bool:
        """Tell once that the first frame stands."""
        done = super().event(event)
        if event.type() == QEvent.Type.Paint and not self._painted:
            self._painted = True
            QTimer.singleShot(0, self, self.painted_first.emit)
        return done

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Let everything grow and shrink with the window."""
        super().resizeEvent(event)
        spread_scale(self, scale_for(self.width(), self.height()))

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Move or resize the window where nothing else takes the press."""
        from companion.window.frame.borderless import begin_drag

        begin_drag(self, event.position())

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802 - Qt's name
        """Stop the threads, with all that was typed on disk, or kept beside; else stay."""
        self._remember()
        if self.evening.close(give_up=self._gives_up).lost and not self._gives_up:
            self._gives_up = True  # it is said; whoever leaves now knows
            event.ignore()
            return
        self.guests.close()
        self._watch.stop()
        super().closeEvent(event)
