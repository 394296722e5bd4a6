"""Nothing is left behind, and the first frame waits for nothing."""

import gc
import subprocess
import sys
import weakref
from collections.abc import Iterator
from pathlib import Path
from threading import Thread, get_ident
from typing import cast

import pytest
import shiboken6
from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from window.facts import snapshot
from window.fakes import FakeEvening

from companion.live import Evening, Severity
from companion.window import Collector, MainWindow, RedApplication

FIRST_FRAME = """
import sys
from pathlib import Path
from companion.finding import Instrument, InstrumentKind
from companion.journal import Settings, to_plain
from companion.live import WOODEN, Evening
from companion.sky import LOON_BARRENS
from companion.window import MainWindow, RedApplication
from PySide6.QtCore import QEvent
app = RedApplication(["companion"])
glass = Instrument("10x50", InstrumentKind.BINOCULARS, 50.0, 10.0, 6.5)
kept = Settings(
    site=to_plain(LOON_BARRENS),
    sites=(to_plain(LOON_BARRENS),),
    mount=WOODEN.name,
    mounts=(to_plain(WOODEN),),
    instrument=glass.name,
    instruments=(to_plain(glass),),
)
evening = Evening(Path(sys.argv[1]), Settings() if sys.argv[2] == "empty" else kept)
assert (evening.choices.mount, evening.choices.instrument) in {(None, None), (WOODEN, glass)}
window = MainWindow(evening, app.brightness, full_screen=False)
window.painted_first.connect(app.quit)
window.show_first()
app.exec()
heavy = {"numpy", "skyfield", "pyqtgraph", "pygeomag"} & set(sys.modules)
window.close()
window.deleteLater()
app.sendPostedEvents(None, QEvent.Type.DeferredDelete)
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
    # As the program does: left to Python's collector, a window's parts go in any order, and a part
    # that goes after what it belongs to ends the process.
    window.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    del window
    gc.collect()
    assert [ref() for ref in alive] == [None, None, None]


def test_a_window_that_is_gone_is_told_nothing(qapp: RedApplication, qtbot: QtBot) -> None:
    evening = FakeEvening()
    window = MainWindow(cast("Evening", evening), qapp.brightness, full_screen=False)
    window.show_first()
    window.close()
    window.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    with qtbot.captureExceptions() as raised:
        evening.messages.say(Severity.WARNING, "The clock jumped.", "clock")
        evening.change(evening.choices)
        evening.tell(snapshot())
        evening.offers.changed.emit()
    assert raised == []


class Dropped:
    """Held by nothing but itself; says in which thread it goes."""

    def __init__(self, gone_in: list[int]) -> None:
        self._gone_in, self._itself = gone_in, self

    def __del__(self) -> None:
        self._gone_in.append(get_ident())


def _drop(gone_in: list[int]) -> None:
    for _ in range(3 * gc.get_threshold()[0]):
        Dropped(gone_in)


def _drop_elsewhere() -> list[int]:
    gone_in: list[int] = []
    thread = Thread(target=_drop, args=(gone_in,))
    thread.start()
    thread.join()
    return gone_in


@pytest.fixture
def collector(qapp: RedApplication) -> Iterator[Collector]:
    made = Collector()
    yield made
    shiboken6.delete(made)
    gc.unfreeze()
    gc.enable()


def test_what_other_threads_drop_goes_in_the_windows_thread(
    collector: Collector, qtbot: QtBot
) -> None:
    gone_in = _drop_elsewhere()
    assert gone_in == []
    qtbot.waitUntil(lambda: bool(gone_in), timeout=5000)
    assert set(gone_in) == {get_ident()}


def test_by_itself_the_collector_runs_in_any_thread(qapp: RedApplication) -> None:
    """If this fails, nothing of the kind above is needed any more."""
    assert set(_drop_elsewhere()) - {get_ident()}


def test_older_generations_are_looked_through_too(collector: Collector) -> None:
    before = [one["collections"] for one in gc.get_stats()]
    kept: list[list[list[int]]] = []
    for _ in range(300):
        kept.append([[] for _ in range(gc.get_threshold()[0] + 1)])
        collector.look()
    done = [one["collections"] - was for one, was in zip(gc.get_stats(), before, strict=True)]
    assert done[0] > done[1] > done[2] > 0


@pytest.mark.parametrize("profile", ["empty", "kept"])
def test_the_first_frame_needs_neither_numbers_nor_sky(tmp_path: Path, profile: str) -> None:
    done = subprocess.run(
        [sys.executable, "-c", FIRST_FRAME, str(tmp_path), profile],
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
        cwd=Path(__file__).parents[3],
    )
    assert done.stdout.strip() == "[]"
