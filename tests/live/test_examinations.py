"""Sightings are compared beside the ticks, which never wait for it: real threads, real journal."""

import threading
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

import companion.mount
from companion.instant import Snapshot
from companion.journal import Settings
from companion.live import WOODEN, Evening
from companion.mount import Doubt, Sighting, examine
from companion.sky import LOON_BARRENS, Ephemeris, TargetTable, load_catalogue

DEMO_UTC = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
STARS = (91262, 24608, 69673, 102098)  # Vega, Capella, Arcturus, Deneb
ALTAIR = 97649


@pytest.fixture
def evening(tmp_path: Path, qtbot: QtBot) -> Iterator[Evening]:
    evening = Evening(tmp_path, Settings(), site=LOON_BARRENS, demo_utc=DEMO_UTC)
    with qtbot.waitSignal(evening._journal.opened, timeout=5_000):
        evening.start()
    evening.mounts.choose(WOODEN)
    yield evening
    evening.close()


@pytest.fixture(scope="module")
def made() -> tuple[Sighting, ...]:
    """Four sightings, the last of Altair, which was taken for Deneb."""
    ephemeris = Ephemeris.load()
    found = []
    for number, hip in enumerate(STARS):
        utc = DEMO_UTC - timedelta(minutes=30 - number)
        meant, seen = load_catalogue().star(hip), load_catalogue().star(hip)
        if number == 3:
            seen = load_catalogue().star(ALTAIR)
        table = TargetTable.of([meant, seen], utc)
        places = ephemeris.moment(LOON_BARRENS, utc).horizontal(table)
        azimuth, altitude = places.azimuth_deg.tolist(), places.altitude_deg.tolist()
        readings = (azimuth[1] + 23.5) % 360.0, altitude[1] + 0.4
        found.append(Sighting(utc, meant.name, meant.key, azimuth[0], altitude[0], *readings))
    ephemeris.close()
    return tuple(found)


class Slow:
    """Stands in for the examination: it waits until it is let go."""

    def __init__(self, fails: bool = False) -> None:
        self.begun, self.go_on = threading.Event(), threading.Event()
        self.asked: list[int] = []
        self.fails = fails

    def __call__(self, mount: object, sightings: tuple[Sighting, ...], *rest: object) -> object:
        self.asked.append(len(sightings))
        self.begun.set()
        if self.fails:
            raise ZeroDivisionError
        self.go_on.wait(20.0)
        return examine(mount, sightings, *rest)  # type: ignore[arg-type]  # handed on as they came


def doubts(evening: Evening) -> tuple[str, ...]:
    alignment = None if evening.latest is None else evening.latest.alignment
    return () if alignment is None else tuple(one.wrong for one in alignment.doubts)


def ticks(evening: Evening, qtbot: QtBot, until: Callable[[int], bool]) -> None:
    """Wait for new snapshots, until there are enough of them."""
    seen: list[Snapshot] = []
    evening.snapshot_ready.connect(seen.append)
    qtbot.waitUntil(lambda: until(len(seen)), timeout=20_000)
    evening.snapshot_ready.disconnect(seen.append)


def test_the_ticks_go_on_while_sightings_are_compared(
    evening: Evening, made: tuple[Sighting, ...], qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    slow = Slow()
    monkeypatch.setattr(companion.mount, "examine", slow)
    try:
        for one in made:
            evening.mounts.write(one)
        qtbot.waitUntil(lambda: len(evening.choices.sightings) == 4, timeout=10_000)
        qtbot.waitUntil(slow.begun.is_set, timeout=10_000)
        ticks(evening, qtbot, lambda count: count >= 3)
        assert evening.latest is not None
        assert evening.latest.alignment is not None
        assert len(evening.latest.alignment.sightings) == 4  # the fit is there at once
        assert not doubts(evening)
    finally:
        slow.go_on.set()
    qtbot.waitUntil(lambda: bool(doubts(evening)), timeout=30_000)
    assert doubts(evening)[0].startswith("Deneb does not fit")
    # Questions that came while another was worked on are answered by the last one alone.
    assert slow.asked[-1] == 4
    assert len(slow.asked) <= 3


def test_a_fault_of_the_examination_is_said_and_the_ticks_go_on(
    evening: Evening, made: tuple[Sighting, ...], qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    broken = Slow(fails=True)
    monkeypatch.setattr(companion.mount, "examine", broken)
    for one in made[:2]:
        evening.mounts.write(one)
    qtbot.waitUntil(
        lambda: any("could not be compared" in one.text for one in evening.messages.current),
        timeout=20_000,
    )
    ticks(evening, qtbot, lambda count: count >= 3)
    assert evening.latest is not None
    assert evening.latest.alignment is not None
    assert evening.latest.alignment.words.startswith("aligned on 2")
    # The next sighting is examined as if nothing had been.
    monkeypatch.setattr(companion.mount, "examine", examine)
    evening.mounts.write(made[2])
    evening.mounts.write(made[3])
    qtbot.waitUntil(lambda: bool(doubts(evening)), timeout=30_000)
    assert not any("could not be compared" in one.text for one in evening.messages.current)


def test_doubts_are_records_that_choices_can_be_compared_by(made: tuple[Sighting, ...]) -> None:
    first, second = (Doubt(companion.mount.DoubtKind.STAR, made[3:], "a", "b") for _ in range(2))
    assert first == second
    assert hash(first) == hash(second)
