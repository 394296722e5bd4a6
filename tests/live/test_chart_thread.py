"""The charts' thread: awake while somebody looks, gone when the evening is closed."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from companion.charts import SkyFrame
from companion.instant import Choices
from companion.journal import Settings
from companion.live import ChartThread, Evening
from companion.sky import DRY_PAN, LOON_BARRENS

CHOICES = Choices(stamp=1, site=LOON_BARRENS)


@pytest.fixture
def service(qtbot: QtBot) -> Iterator[ChartThread]:
    made = ChartThread(CHOICES)
    yield made
    made.stop()


def test_nothing_is_computed_before_somebody_looks(service: ChartThread, qtbot: QtBot) -> None:
    seen: list[SkyFrame] = []
    service.snapshot_ready.connect(seen.append)
    service.choose(replace(CHOICES, stamp=2))
    service.set_borders(shown=True)
    qtbot.wait(50)
    assert seen == []


def test_new_choices_give_a_new_sky_at_once(service: ChartThread, qtbot: QtBot) -> None:
    with qtbot.waitSignal(service.snapshot_ready, timeout=10_000) as first:
        service.show(live=True)
    assert first.args[0].stamp == 1
    assert first.args[0].borders is None
    with qtbot.waitSignal(
        service.snapshot_ready, timeout=5_000, check_params_cb=lambda sky: sky.stamp == 2
    ) as second:
        service.choose(replace(CHOICES, stamp=2, site=DRY_PAN))
    assert second.args[0].site == DRY_PAN
    with qtbot.waitSignal(
        service.snapshot_ready, timeout=5_000, check_params_cb=lambda sky: sky.borders is not None
    ):
        service.set_borders(shown=True)


def test_it_goes_on_while_it_is_looked_at_and_rests_after(
    service: ChartThread, qtbot: QtBot
) -> None:
    seen: list[SkyFrame] = []
    service.snapshot_ready.connect(seen.append)
    service.show(live=True)
    qtbot.waitUntil(lambda: len(seen) >= 2, timeout=10_000)
    service.show(live=False)
    qtbot.wait(600)  # what was being made, and the last one that the new order asks for
    resting = len(seen)
    qtbot.wait(1200)
    assert len(seen) == resting
    service.choose(replace(CHOICES, stamp=3))
    qtbot.wait(100)
    assert len(seen) == resting
    with qtbot.waitSignal(service.snapshot_ready, timeout=5_000) as again:
        service.show(live=True)
    assert again.args[0].stamp == 3


def test_an_evening_feeds_the_charts_and_ends_their_thread(qtbot: QtBot, tmp_path: Path) -> None:
    evening = Evening(tmp_path, Settings(), site=LOON_BARRENS)
    try:
        with qtbot.waitSignal(evening.charts.snapshot_ready, timeout=10_000):
            evening.charts.show(live=True)
        with qtbot.waitSignal(
            evening.charts.snapshot_ready,
            timeout=5_000,
            check_params_cb=lambda sky: sky.pointed is not None,
        ):
            evening.look_up((200.0, 40.0))
    finally:
        evening.close(give_up=True)


def test_a_fault_is_said_and_survived(service: ChartThread, qtbot: QtBot) -> None:
    service.choose(replace(CHOICES, preview_utc=datetime(2200, 1, 1, tzinfo=UTC)))
    with qtbot.waitSignal(service.failed, timeout=10_000) as failed:
        service.show(live=True)
    assert "outside the ephemeris" in failed.args[0]
    with qtbot.waitSignal(service.snapshot_ready, timeout=5_000):
        service.choose(CHOICES)
