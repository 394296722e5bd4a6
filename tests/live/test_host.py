"""A host's evening in the model: what is asked, what is kept, what is written."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from companion.finding import InstrumentKind
from companion.journal import Settings, read_settings
from companion.live import WOODEN, Evening, HostWishes
from companion.live.host_memory import HostMemory
from companion.sky import DRY_PAN, LOON_BARRENS

DEMO_UTC = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
LONG_MS = 60_000


@pytest.fixture
def evening(tmp_path: Path, qtbot: QtBot) -> Iterator[Evening]:
    made = Evening(tmp_path, Settings(), site=LOON_BARRENS, demo_utc=DEMO_UTC)
    with qtbot.waitSignal(made._journal.opened, timeout=5_000):
        made.start()
    yield made
    made.close(give_up=True)


def led(evening: Evening, qtbot: QtBot, targets: int = 3) -> None:
    """Have a small evening worked out."""
    evening.host.want(HostWishes(targets, 8.0))
    evening.host.work_out()
    assert evening.host.working
    qtbot.waitUntil(lambda: evening.host.program is not None, timeout=LONG_MS)


def told(evening: Evening, qtbot: QtBot) -> None:
    """Wait until it is known how the target stands now."""

    def known() -> bool:
        showing = evening.host.showing
        return showing is not None and showing.told is not None

    qtbot.waitUntil(known, timeout=LONG_MS)


def test_nothing_is_shown_before_an_evening_is_worked_out(evening: Evening, qtbot: QtBot) -> None:
    evening.host.go_on()
    evening.host.clouds()
    evening.host.queue_all()
    evening.host.show(0)
    assert evening.host.showing is None
    assert "no evening yet" in evening.messages.current[-1].text


def test_the_minutes_run_down_and_over(evening: Evening, qtbot: QtBot) -> None:
    led(evening, qtbot)
    evening.host.go_on()
    showing = evening.host.showing
    assert showing is not None
    assert (showing.number, showing.count) == (1, 3)
    assert showing.minutes_left == pytest.approx(8.0, abs=0.1)
    evening.clock.set_preview(evening.clock.now_utc + timedelta(minutes=10))
    showing = evening.host.showing
    assert showing is not None
    assert showing.minutes_left == pytest.approx(-2.0, abs=0.1)


def test_what_is_shown_is_told_anew_as_the_sky_turns(evening: Evening, qtbot: QtBot) -> None:
    led(evening, qtbot)
    evening.host.go_on()
    told(evening, qtbot)
    first = evening.host.showing
    evening.clock.set_preview(evening.clock.now_utc + timedelta(minutes=20))
    evening.host.look_at_the_clock()
    qtbot.waitUntil(
        lambda: (
            evening.host.showing is not None
            and first is not None
            and evening.host.showing.told is not first.told
        ),
        timeout=LONG_MS,
    )
    now = evening.host.showing
    assert now is not None
    assert now.told is not None
    assert first is not None
    assert first.told is not None
    moved = (now.told.azimuth_deg - first.told.azimuth_deg + 180.0) % 360.0 - 180.0
    assert abs(moved) > 2.0  # the sky turns by 5° in 20 minutes


def test_nothing_is_written_while_another_time_stands_still(evening: Evening, qtbot: QtBot) -> None:
    led(evening, qtbot)
    evening.host.go_on()
    evening.clock.set_preview(evening.clock.now_utc)
    evening.host.mark_found()
    assert "Nothing was written" in evening.messages.current[-1].text
    assert evening.host.at == 1
    assert evening.queue.items == ()


def test_after_a_find_the_aim_is_at_what_is_shown_not_at_the_queue_s_next(
    evening: Evening, qtbot: QtBot
) -> None:
    led(evening, qtbot)
    first, second, third = evening.host.targets
    evening.queue.add_all([third, second, first])
    qtbot.waitUntil(lambda: len(evening.queue.items) == 3)
    evening.host.go_on()
    evening.host.mark_found()
    qtbot.waitUntil(lambda: evening.host.found(first.key), timeout=LONG_MS)
    qtbot.waitUntil(lambda: evening.choices.target == second)
    assert evening.host.at == 1


def test_another_place_is_noticed_and_the_old_evening_stays(evening: Evening, qtbot: QtBot) -> None:
    led(evening, qtbot)
    before, was = evening.host.targets, evening.host.moved
    evening.sites.choose(DRY_PAN)
    assert (was, evening.host.moved) == (False, True)
    assert evening.host.targets == before


def test_an_evening_is_taken_up_where_the_program_ended(
    evening: Evening, qtbot: QtBot, tmp_path: Path
) -> None:
    led(evening, qtbot)
    evening.host.go_on()
    evening.host.go_on()
    before = evening.host.targets
    assert not evening.close().words
    again = Evening(tmp_path, read_settings(tmp_path), site=LOON_BARRENS, demo_utc=DEMO_UTC)
    try:
        again.start()
        qtbot.waitUntil(lambda: again.host.targets == before, timeout=LONG_MS)
        told(again, qtbot)
        showing = again.host.showing
        assert showing is not None
        assert (showing.number, showing.count) == (2, 3)
        assert again.host.wishes == HostWishes(3, 8.0)
        again.host.clouds()  # without a program, of what is left alone
        again.host.go_on()
        assert again.host.at == 2
    finally:
        again.close(give_up=True)


def test_another_night_begins_without_it(evening: Evening, qtbot: QtBot, tmp_path: Path) -> None:
    led(evening, qtbot)
    evening.close()
    later = DEMO_UTC + timedelta(days=1)
    again = Evening(tmp_path, read_settings(tmp_path), site=LOON_BARRENS, demo_utc=later)
    try:
        with qtbot.waitSignal(again._journal.opened, timeout=5_000):
            again.start()
        qtbot.wait(300)
        assert again.host.targets == ()
    finally:
        again.close(give_up=True)


GOOD: dict[str, object] = HostMemory(
    "2026-10-10", ("hip:91262", "body:moon"), 1, DEMO_UTC, HostWishes(3, 8.0, axis_m=1.1)
).record()


def test_what_is_remembered_is_read_back_as_it_was() -> None:
    memory = HostMemory.of(GOOD)
    assert memory is not None
    assert memory.record() == GOOD


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("keys", []), ("keys", "hip:1"), ("keys", ["x"] * 61), ("at", 2), ("at", True),
        ("at", -1), ("began_utc", "soon"), ("began_utc", "2026-10-10T23:14:00"),
        ("targets", 0), ("targets", "many"), ("minutes", float("nan")), ("minutes", 1e9),
        ("through", "a bottle"), ("axis_m", 40.0),
    ],
)  # fmt: skip
def test_what_nobody_can_have_written_is_left_alone(name: str, value: object) -> None:
    assert HostMemory.of({**GOOD, name: value}) is None
    assert HostMemory.of({key: kept for key, kept in GOOD.items() if key != name}) is None


def test_wishes_change_nothing_until_they_are_worked_out(evening: Evening, qtbot: QtBot) -> None:
    led(evening, qtbot)
    evening.host.go_on()
    wishes = replace(evening.host.wishes, minutes=30.0, through=InstrumentKind.EYE)
    evening.host.want(wishes)
    showing = evening.host.showing
    assert showing is not None
    assert showing.minutes_left < 9.0
    told(evening, qtbot)
    again = evening.host.showing
    assert again is not None
    assert again.told is not None
    assert again.told.view != "the bare eye"


def test_a_target_is_chosen_by_its_sort_of_instrument(evening: Evening, qtbot: QtBot) -> None:
    for through in InstrumentKind:
        evening.host.want(HostWishes(3, 8.0, through))
        instrument = evening.host.instrument
        assert instrument is None or instrument.kind is through


def test_the_axis_is_that_of_the_mount_until_another_is_typed(
    evening: Evening, qtbot: QtBot
) -> None:
    before = evening.host.axis_m
    evening.mounts.choose(replace(WOODEN, axis_height_m=1.3))
    qtbot.waitUntil(lambda: evening.choices.mount is not None)
    mounted = evening.host.axis_m
    evening.host.want(HostWishes(3, 8.0, axis_m=0.9))
    assert (before, mounted, evening.host.axis_m) == (None, 1.3, 0.9)
