"""From a start with nothing kept to the first two numbers: three keys, or two clicks."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPointF
from pytestqt.qtbot import QtBot

from companion.instant import DEMO_UTC
from companion.journal import Settings
from companion.live import Evening
from companion.window import MainWindow, RedApplication
from companion.window.forms.find_sheet import FindSheet
from window.hands import aim_of, pause, press
from window.mouse import click, hit_row
from window.test_stories import BREATH_MS, PATIENCE_MS


@pytest.fixture
def window(tmp_path: Path, qapp: RedApplication, qtbot: QtBot) -> Iterator[MainWindow]:
    evening = Evening(tmp_path, Settings(), demo_utc=DEMO_UTC)
    made = MainWindow(evening, qapp.brightness, full_screen=False)
    qtbot.addWidget(made)
    made.painted_first.connect(evening.start)
    made.show_first()
    qtbot.waitUntil(lambda: made.sheets.up is not None, timeout=PATIENCE_MS)
    yield made
    evening.close()


def offered(window: MainWindow, qtbot: QtBot) -> None:
    qtbot.waitUntil(
        lambda: window.stage.shown.word == "aim" and bool(aim_of(window).offers.list.rows),
        timeout=PATIENCE_MS,
    )
    pause(BREATH_MS)


def aimed(window: MainWindow, qtbot: QtBot) -> None:
    qtbot.waitUntil(
        lambda: window.evening.latest is not None and window.evening.latest.aim is not None,
        timeout=PATIENCE_MS,
    )


def test_the_third_key_aims(window: MainWindow, qtbot: QtBot) -> None:
    press(window, "Down", "Enter")
    offered(window, qtbot)
    press(window, "Enter")
    aimed(window, qtbot)


def test_the_second_click_aims(window: MainWindow, qtbot: QtBot) -> None:
    sheet = window.sheets.up
    assert isinstance(sheet, FindSheet)
    click(sheet.list, QPointF(40.0, 12.0))  # the first demo site
    offered(window, qtbot)
    hit_row(aim_of(window).offers.list, 0)
    aimed(window, qtbot)
