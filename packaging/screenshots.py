#!/usr/bin/env python3
"""Make the pictures of the README from the demo evening, with the program itself.

``python packaging/screenshots.py`` opens the window without a display, presses keys as a person
would, and writes ``resources/screenshots/*.png``. Every pixel is checked to be pure red.
"""

import os
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from unittest.mock import patch

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from PySide6.QtCore import QEvent, Qt, QTimer  # noqa: E402 - after the platform is chosen
from PySide6.QtGui import QImage, QKeyEvent  # noqa: E402
from PySide6.QtWidgets import QApplication, QWidget  # noqa: E402

import companion.app as program  # noqa: E402
from companion.instant import DEMO_KEYS  # noqa: E402
from companion.live import Evening  # noqa: E402
from companion.window import MainWindow, WindowBrightness  # noqa: E402
from companion.window.night.panel import NightPanel  # noqa: E402
from companion.window.sky.panel import SkyPanel  # noqa: E402

TO = ROOT / "resources" / "screenshots"
_SIGHTED = 3  # stars that are sighted for the picture of the mount
_REST = 8  # looks between two keys, so that the sky has followed
_POLL_MS, _PATIENCE = 50, 2400  # two minutes for whatever a picture waits for


@dataclass(frozen=True, slots=True)
class Picture:
    """One file: the keys that lead to it, and what must be true before it is taken."""

    name: str
    keys: tuple[str, ...] = ()
    ready: Callable[[MainWindow], bool] = lambda _window: True
    size: tuple[int, int] = (1920, 1080)


def _numbers_stand(window: MainWindow) -> bool:
    latest = window.evening.latest
    target = window.evening.choices.target
    return (
        latest is not None
        and latest.aim is not None
        and target is not None
        and latest.aim.target.key == target.key
        and len(latest.rows) >= len(DEMO_KEYS)
    )


def _found(window: MainWindow) -> bool:
    sheet = window.sheets.up
    return sheet is not None and bool(getattr(sheet, "finds", ()))


def _settled(window: MainWindow) -> bool:
    return _numbers_stand(window) and not window.evening.messages.current


def _aligned(window: MainWindow) -> bool:
    latest = window.evening.latest
    alignment = None if latest is None else latest.alignment
    return alignment is not None and len(alignment.sightings) == _SIGHTED and _settled(window)


def _listed(window: MainWindow) -> bool:
    return window.evening.night.list is not None


def _ordered(window: MainWindow) -> bool:
    return window.evening.night.accepted and _settled(window)


def _read(window: MainWindow) -> bool:
    return window.evening.nights.view is not None and window.evening.nights.lists is not None


def _charted(window: MainWindow) -> bool:
    panel = window.stage.shown
    return isinstance(panel, SkyPanel) and panel.view.chart.sky is not None and _settled(window)


def _sighting(star: str, altitude: str, azimuth: str) -> tuple[str, ...]:
    """Give the keys that aim at a star and say what the dials of the demo's mount show then."""
    return ("/", *star, "Enter", "s", *altitude, "Enter", *azimuth, "Enter")


PICTURES = (
    Picture("first-aim", ready=_numbers_stand),
    Picture("aim", ("Space", "n", "Space"), _settled),
    Picture("small", (), _settled, (640, 400)),
    Picture("search", ("/", "a", "n", "d", "r", "o"), _found),
    Picture("keys", ("Esc", "?")),
    Picture("north", ("Esc", "2"), _settled),
    Picture("place", ("7",)),
    Picture("sky", ("3",), _charted),
    Picture("finder", ("F",), _charted),
    Picture("tonight", ("4", "m"), _listed),
    Picture("night", ("Esc", "o", "Enter", "Esc", "Down", "Down", "Home"), _ordered),
    Picture("journal", ("6",), _read),
    Picture(
        "mount",
        (
            *("5", "d", "Enter", "Esc"),
            *_sighting("vega", "69.8", "268.5"),
            *_sighting("altair", "53.5", "200.5"),
            *_sighting("arcturus", "12.8", "292"),
            "5",
        ),
        _aligned,
    ),
)
_NAMED = {
    "Space": (Qt.Key.Key_Space, " "),
    "Down": (Qt.Key.Key_Down, ""),
    "Esc": (Qt.Key.Key_Escape, ""),
    "Enter": (Qt.Key.Key_Return, ""),
    "Home": (Qt.Key.Key_Home, ""),
}


class PhotographedWindow(MainWindow):
    """The window, with somebody who presses keys and takes pictures."""

    def __init__(
        self, evening: Evening, brightness: WindowBrightness, *, full_screen: bool
    ) -> None:
        super().__init__(evening, brightness, full_screen=full_screen)
        self._left: Iterator[Picture] = iter(PICTURES)
        self._next: Picture | None = None
        self._polls = 0
        self._keys: list[str] = []
        self.failed = ""
        self._poll = QTimer(self)
        self._poll.timeout.connect(self._look)
        self.painted_first.connect(lambda: self._poll.start(_POLL_MS))
        self._turn_page()

    def _turn_page(self) -> None:
        self._next, self._polls = next(self._left, None), 0
        self._keys = [] if self._next is None else list(self._next.keys)

    def _look(self) -> None:
        picture = self._next
        if picture is None:
            self.close()
            return
        self._polls += 1
        if self._polls > _PATIENCE:
            self.failed = f"{picture.name}: what it waits for did not come"
            self.close()
        elif self._polls % _REST == 0:
            self._press_or_take(picture)

    def _press_or_take(self, picture: Picture) -> None:
        """Press the next key once the last one has had its effect; then take the picture."""
        self.resize(*picture.size)
        if self._keys:
            if (self._typing or _settled(self)) and not self._still_searching:
                _press(self._keys.pop(0), self.focusWidget() or self)
        elif picture.ready(self) and self._take(picture):
            self._turn_page()

    @property
    def _typing(self) -> bool:
        return self.sheets.up is not None

    @property
    def _still_searching(self) -> bool:
        """Nobody takes a find before it stands there; the first search builds its index."""
        if self._keys[0] != "Enter":
            return False
        if self.sheets.up is None and isinstance(self.stage.shown, NightPanel):
            return self.evening.night.order is None  # nobody takes an order before it stands there
        finds = getattr(self.sheets.up, "finds", None)
        return finds is not None and not finds

    def _take(self, picture: Picture) -> bool:
        self.motion.settle()
        QApplication.processEvents()
        image = self.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
        if _stained(image):
            self.failed = f"{picture.name}: not every pixel is pure red"
            self.close()
            return False
        TO.mkdir(parents=True, exist_ok=True)
        _reds(image).save(str(TO / f"{picture.name}.png"))
        print(TO / f"{picture.name}.png")
        return True


def _press(name: str, receiver: QWidget) -> None:
    code, text = _NAMED.get(name, (Qt.Key.Key_unknown, name))
    for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
        event = QKeyEvent(kind, code, Qt.KeyboardModifier.NoModifier, text)
        QApplication.sendEvent(receiver, event)


def _stained(image: QImage) -> bool:
    bits = bytes(image.constBits())  # blue, green, red, unused
    return any(bits[0::4]) or any(bits[1::4])


def _reds(image: QImage) -> QImage:
    """Keep one byte a pixel: there is nothing but red."""
    width, height = image.width(), image.height()
    reds = bytes(image.constBits())[2::4]
    small = QImage(reds, width, height, width, QImage.Format.Format_Indexed8)
    small.setColorTable([0xFF000000 | code << 16 for code in range(256)])
    return small.copy()


def main() -> int:
    """Take all pictures; 1 if one could not be taken."""
    taken: list[PhotographedWindow] = []

    def window(evening: Evening, brightness: WindowBrightness, *, full_screen: bool) -> MainWindow:
        taken.append(PhotographedWindow(evening, brightness, full_screen=full_screen))
        return taken[-1]

    with patch.object(program, "MainWindow", window):
        code = program.run(program.AppOptions(demo=True))
    failed = taken[0].failed if taken else "no window came up"
    if failed:
        print(f"screenshots: {failed}", file=sys.stderr)
    return code or bool(failed)


if __name__ == "__main__":
    raise SystemExit(main())
