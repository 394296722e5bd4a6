"""Puts the window together: application, evening, window, and the order in which they start."""

import gc
import logging
import os
import sys
import tempfile
import traceback
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QEvent, QSize, QTimer

from companion.advice import AdviceError
from companion.commands import write_error
from companion.events import KeptElements
from companion.finding import Instrument
from companion.instant import DEMO_INSTRUMENT, DEMO_KEYS, DEMO_UTC
from companion.journal import Settings, home_of, settings_to_start_with
from companion.live import Evening, Library, Severity
from companion.sky import CARRIED, DEMO_SITES, LOON_BARRENS, Site, Target
from companion.window import Collector, EndOnSignal, MainWindow, RedApplication, say_why_no_window

_log = logging.getLogger(__name__)
_LOADED_MS = 5000
_BUG = "Something went wrong in the program; what was written is safe. The details are on stderr."


@dataclass(frozen=True, slots=True)
class AppOptions:
    """How the window is to be opened."""

    demo: bool = False
    site_name: str | None = None
    full_screen: bool = False
    home: str | None = None


def run(options: AppOptions) -> int:
    """Open the window and stay until it is closed; give the exit code."""
    logging.basicConfig(level=logging.WARNING, format="companion: %(message)s")
    gc.disable()  # what is loaded at the start stays: looking through it only holds up the start
    with ExitStack() as stack:
        try:
            home = _home(options, stack)
            settings, trouble = settings_to_start_with(home)
            site = _site(options, settings)
        except AdviceError as error:
            write_error(str(error))
            return 1
        say_why_no_window()
        app = RedApplication(sys.argv[:1])
        CARRIED.use(KeptElements(home))
        evening = Evening(home, settings, site=site, demo_utc=DEMO_UTC if options.demo else None)
        if trouble:
            evening.messages.say(Severity.ERROR, trouble, "journal")
        sys.excepthook = _Hook(evening)
        app.brightness.move(round(settings.brightness_step))
        window = MainWindow(evening, app.brightness, full_screen=options.full_screen)
        window.painted_first.connect(lambda: _begin(evening, demo=options.demo))
        _place(window, app, settings, full_screen=options.full_screen)
        window.show_first()
        signals = EndOnSignal(app.quit)
        code = app.exec()
        signals.close()
        left = evening.close(give_up=True)
        if str(left):
            write_error(str(left))
        # By Qt, in its order: Python's collector would take parts after what they belong to.
        for one in (window, evening):
            one.deleteLater()
        app.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        return code or (1 if left.words or left.lost else 0)


def _place(
    window: MainWindow, app: RedApplication, settings: Settings, *, full_screen: bool
) -> None:
    """Put the window where it is to stand: as large as it was left, or as the desktop allows."""
    screen = app.primaryScreen()
    room = screen.geometry() if full_screen else screen.availableGeometry()
    if settings.window_size and not full_screen:
        wide, high = (round(one) for one in settings.window_size)
        middle = room.center()
        room.setSize(QSize(min(wide, room.width()), min(high, room.height())))
        room.moveCenter(middle)
    window.setGeometry(room)


def _home(options: AppOptions, stack: ExitStack) -> Path:
    """Give the folder of the person's state, or one for the demo that goes with it."""
    if options.demo:
        return Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="companion-demo-")))
    return home_of(options.home, os.environ)


def _site(options: AppOptions, settings: Settings) -> Site | None:
    if options.demo:
        return LOON_BARRENS
    if options.site_name is None:
        return None
    from companion.journal import from_plain
    from companion.sky import find_site

    known = [from_plain(Site, plain) for plain in settings.sites]
    return find_site(options.site_name, (*known, *DEMO_SITES))


def _begin(evening: Evening, *, demo: bool) -> None:
    """Start the threads behind the first frame; fill the queue of a demo evening."""
    evening.start()
    QTimer.singleShot(_LOADED_MS, evening, lambda: Collector(evening))
    if demo:
        evening.ask("demo", _demo_targets, evening.queue.add_all)
        evening.ask("demo instrument", _demo_instrument, evening.instruments.choose)


def _demo_targets(library: Library) -> tuple[Target, ...]:
    return tuple(library.catalogue.target(key) for key in DEMO_KEYS)


def _demo_instrument(_library: Library) -> Instrument | None:
    from companion.night import ready_instruments

    return next((one for one in ready_instruments() if one.name == DEMO_INSTRUMENT), None)


class _Hook:
    """The last resort for a bug in a slot: it is logged and said, and the window lives on."""

    def __init__(self, evening: Evening) -> None:
        self._evening = evening

    def __call__(
        self,
        kind: type[BaseException],
        error: BaseException,
        trace: TracebackType | None,
    ) -> None:
        _log.error("%s", "".join(traceback.format_exception(kind, error, trace)))
        self._evening.messages.say(Severity.ERROR, _BUG, "bug")
