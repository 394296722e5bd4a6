"""What the window's tests share."""

import os
from collections.abc import Iterator
from typing import TYPE_CHECKING, Protocol, cast

import pytest
import shiboken6
from PySide6.QtCore import QCoreApplication, QEvent
from pytestqt.qtbot import QtBot

from companion.window import MainWindow, RedApplication

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from window.fakes import FakeEvening

if TYPE_CHECKING:
    from companion.live import Evening


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    # The offscreen platform says of every window what it can't do; no other message is let pass.
    for item in items:
        item.add_marker(pytest.mark.qt_log_ignore("This plugin does not support"))


class Windows(Protocol):
    """Makes windows over fixed facts and closes them."""

    def __call__(
        self, evening: FakeEvening | None = None, size: tuple[int, int] = (1366, 768)
    ) -> MainWindow: ...


@pytest.fixture
def make_window(qapp: RedApplication, qtbot: QtBot) -> Iterator[Windows]:
    made: list[MainWindow] = []

    def make(evening: FakeEvening | None = None, size: tuple[int, int] = (1366, 768)) -> MainWindow:
        window = MainWindow(
            cast("Evening", evening or FakeEvening()), qapp.brightness, full_screen=False
        )
        made.append(window)
        window.resize(*size)
        window.show_first()
        qtbot.waitExposed(window)
        window.motion.settle()
        return window

    yield make
    for window in made:
        window.close()
        window.deleteLater()
    # Without an event loop nothing is deleted later: hundreds of windows would stay, and be told.
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    assert not any(shiboken6.isValid(window) for window in made)
    qapp.brightness.move(-99)
