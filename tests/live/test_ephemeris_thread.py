import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from companion.instant import Choices, Snapshot
from companion.live import EphemerisThread
from companion.sky import LOON_BARRENS, Kind, Target

VEGA = Target("hip:91262", "Vega", Kind.STAR, 279.2347, 38.7837)
CHOICES = Choices(stamp=1, site=LOON_BARRENS, target=VEGA, rate_hz=20.0)


@pytest.fixture
def service(qtbot: QtBot) -> Iterator[EphemerisThread]:
    made = EphemerisThread()
    yield made
    made.stop()


def test_choices_come_back_as_stamped_snapshots(service: EphemerisThread, qtbot: QtBot) -> None:
    service.choose(CHOICES)
    with qtbot.waitSignal(service.snapshot_ready, timeout=10_000) as first:
        service.start()
    assert first.args[0].stamp == 1
    with qtbot.waitSignal(
        service.snapshot_ready, timeout=5_000, check_params_cb=lambda snapshot: snapshot.stamp == 2
    ) as second:
        service.choose(replace(CHOICES, stamp=2, target=None))
    assert second.args[0].aim is None


def test_a_slow_receiver_finds_the_newest_and_no_queue(
    service: EphemerisThread, qtbot: QtBot
) -> None:
    seen: list[Snapshot] = []
    service.snapshot_ready.connect(seen.append)
    service.choose(CHOICES)
    with qtbot.waitSignal(service.snapshot_ready, timeout=10_000):
        service.start()
    seen.clear()
    time.sleep(0.6)  # a dozen ticks pass while nobody looks
    qtbot.wait(20)
    assert len(seen) <= 2
    assert (datetime.now(UTC) - seen[0].utc).total_seconds() < 0.3


def test_a_fault_is_said_and_survived(service: EphemerisThread, qtbot: QtBot) -> None:
    far = replace(CHOICES, preview_utc=datetime(2200, 1, 1, tzinfo=UTC))
    service.choose(far)
    with qtbot.waitSignal(service.failed, timeout=10_000) as failed:
        service.start()
    assert "outside the ephemeris" in failed.args[0]
    with qtbot.waitSignal(service.snapshot_ready, timeout=5_000):
        service.choose(replace(CHOICES, stamp=3))


def test_even_a_bug_does_not_end_the_thread(
    service: EphemerisThread,
    qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
    caplog: pytest.LogCaptureFixture,
) -> None:
    from companion.instant.snapshot_builder import SnapshotBuilder

    def broken(*_words: Any) -> None:
        raise ZeroDivisionError

    with monkeypatch.context() as patched:
        patched.setattr(SnapshotBuilder, "build", broken)
        service.choose(CHOICES)
        with qtbot.waitSignal(service.failed, timeout=10_000) as failed:
            service.start()
        assert "last good ones stand" in failed.args[0]
    with qtbot.waitSignal(service.snapshot_ready, timeout=5_000):
        service.choose(replace(CHOICES, stamp=2))
    assert "A result could not be made" in caplog.text


def test_nothing_chosen_nothing_made(service: EphemerisThread, qtbot: QtBot) -> None:
    with qtbot.assertNotEmitted(service.snapshot_ready, wait=200):
        service.start()


def test_a_stopped_service_stays_stopped(service: EphemerisThread, qtbot: QtBot) -> None:
    service.choose(CHOICES)
    with qtbot.waitSignal(service.snapshot_ready, timeout=10_000):
        service.start()
    service.stop()
    service.stop()
    with qtbot.assertNotEmitted(service.snapshot_ready, wait=200):
        service.choose(replace(CHOICES, stamp=9))
