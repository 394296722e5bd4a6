"""A host's evening in the model: what is asked, what is kept, what is written."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from companion.finding import InstrumentKind
from companion.journal import Settings
from companion.live import Evening, HostWishes
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
