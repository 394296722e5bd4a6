"""Nothing is left behind, and the first frame waits for nothing."""

import gc
import subprocess
import sys
import weakref
from pathlib import Path
from typing import cast

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from companion.live import Evening
from companion.window import MainWindow, RedApplication
from window.fakes import FakeEvening

FIRST_FRAME = """
import sys
from pathlib import Path
from companion.journal import Settings
from companion.live import Evening
from companion.window import MainWindow, RedApplication
app = RedApplication(["companion"])
evening = Evening(Path(sys.argv[1]), Settings())
window = MainWindow(evening, app.brightness, full_screen=False)
window.painted_first.connect(app.quit)
window.show_first()
app.exec()
heavy = {"numpy", "skyfield", "pyqtgraph", "pygeomag"} & set(sys.modules)
window.close()
print(sorted(heavy))
"""


def test_a_closed_window_is_gone(qapp: RedApplication, qtbot: QtBot) -> None:
    evening = FakeEvening()
    window = MainWindow(cast("Evening", evening), qapp.brightness, full_screen=False)
    window.show_first()
    for action in ("search", "close", "lead", "help", "screen:north", "screen:place"):
        window.do(action)
    window.grab()
    alive: list[weakref.ref[QObject]] = [
        weakref.ref(window),
        weakref.ref(window.stage.shown),
        weakref.ref(window.motion),
    ]
    window.close()
    assert evening.closed == 1
    del window
    gc.collect()
    QApplication.processEvents()
    gc.collect()
    assert [ref() for ref in alive] == [None, None, None]


def test_the_first_frame_needs_neither_numbers_nor_sky(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", FIRST_FRAME, str(tmp_path)],
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
        cwd=Path(__file__).parents[2],
    )
    assert done.stdout.strip() == "[]"
