"""Runs the real program and plays a person: presses keys when what they wait for is there.

``python driver.py HOME SCENE`` prints what the window said at the end as JSON.
"""

import json
import sys
from collections.abc import Callable, Iterator
from typing import Any

from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication

import companion.app as program
from companion.journal import Outcome
from companion.sky import load_catalogue

Step = Callable[[Any], bool]


def press(window: Any, key: Qt.Key, text: str) -> None:
    for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
        event = QKeyEvent(kind, key, Qt.KeyboardModifier.NoModifier, text)
        QApplication.sendEvent(window, event)


def aimed(window: Any) -> bool:
    latest = window.evening.latest
    return latest is not None and latest.aim is not None


def tick_off(window: Any) -> Iterator[bool]:
    """Add Vega, wait for its numbers, press found, wait until it is shown."""
    vega = load_catalogue().star(91262)
    window.evening.queue.add(vega)
    while not aimed(window) or window.evening.queue.item(vega.key) is None:
        yield False
    press(window, Qt.Key.Key_Space, " ")
    while window.evening.queue.item(vega.key).outcome is not Outcome.FOUND:
        yield False
    yield True


def only_aim(window: Any) -> Iterator[bool]:
    """Aim at Vega though the journal may be out of order."""
    window.evening.queue.add(load_catalogue().star(91262))
    while not aimed(window) or not window.evening.messages.current:
        yield False
    yield True


def demo(window: Any) -> Iterator[bool]:
    """Wait for the demo's queue and numbers."""
    while not aimed(window) or len(window.evening.queue.items) < 14:
        yield False
    yield True


def host(window: Any) -> Iterator[bool]:
    """Work a host's evening out, open the guests' page, show the first target, find it."""
    model = window.evening.host
    while not aimed(window) or len(window.evening.queue.items) < 14:
        yield False
    press(window, Qt.Key.Key_F8, "")
    press(window, Qt.Key.Key_Return, "\r")
    while model.program is None:
        yield False
    press(window, Qt.Key.Key_F9, "")
    press(window, Qt.Key.Key_N, "N")
    while model.showing is None or model.showing.told is None:
        yield False
    shown = model.showing.target
    page = window.guests.page
    window.said = {
        "shown": shown.name,
        "guests": page.lines.name,
        "screen": page.screen().name(),
        "whole": page.isFullScreen(),
    }
    press(window.guests.page, Qt.Key.Key_Space, " ")
    while not model.found(shown.key) or model.at != 1:
        yield False
    yield True


SCENES = {"tick": tick_off, "aim": only_aim, "demo": demo, "host": host}
_IN_THE_DEMO = {"demo", "host"}


def main(home: str, scene: str) -> int:
    said: dict[str, Any] = {}

    class Played(program.MainWindow):  # type: ignore[misc,name-defined]
        def __init__(self, *words: Any, **options: Any) -> None:
            super().__init__(*words, **options)
            self.said: dict[str, Any] = {}
            self._scene = SCENES[scene](self)
            self._clock = QTimer(self)
            self._clock.timeout.connect(self._go_on)
            self._clock.start(20)

        def _go_on(self) -> None:
            if not next(self._scene):
                return
            self._clock.stop()
            evening = self.evening
            said["messages"] = [message.text for message in evening.messages.current]
            said["items"] = [item.target.name for item in evening.queue.items]
            said.update(self.said)
            said["target"] = evening.latest.aim.target.name
            self.close()

    setattr(program, "MainWindow", Played)  # noqa: B010 - the program itself has no hook
    in_the_demo = scene in _IN_THE_DEMO
    site = None if in_the_demo else "Loon Barrens"
    options = program.AppOptions(demo=in_the_demo, site_name=site, home=home)
    code = program.run(options)
    sys.stdout.write(json.dumps(said) + "\n")
    return code


if __name__ == "__main__":
    raise SystemExit(main(*sys.argv[1:]))
