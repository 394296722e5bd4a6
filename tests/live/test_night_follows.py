"""An evening that stays open follows its clock and its site from night to night."""

from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from companion.journal import FILE_NAME, EveningState, Journal, Outcome, Settings
from companion.live import Evening, MachineClock
from companion.sky import DRY_PAN, LOON_BARRENS, Kind, Target

VEGA = Target("hip:91262", "Vega", Kind.STAR, 279.2347, 38.7837)
SATURN = Target("body:saturn", "Saturn", Kind.PLANET, body="saturn")
M31 = Target("ngc:NGC0224", "M 31", Kind.GALAXY, 10.68, 41.27)
# Loon Barrens keeps Atlantic time: 23:14 UTC is 20:14 by its clocks, and its noon is 15 UTC.
EVENING_UTC = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)


class SetClock:
    """A clock that a test sets; its steady seconds run with it unless it is made to jump."""

    def __init__(self) -> None:
        self.utc, self.steady_s = EVENING_UTC, 1000.0

    def run_to(self, utc: datetime) -> None:
        self.steady_s += (utc - self.utc).total_seconds()
        self.utc = utc


@pytest.fixture
def clock() -> SetClock:
    return SetClock()


@pytest.fixture
def open_evening(tmp_path: Path, qtbot: QtBot, clock: SetClock) -> Iterator[Callable[[], Evening]]:
    opened: list[Evening] = []

    def make() -> Evening:
        watched = MachineClock(lambda: clock.utc, lambda: clock.steady_s)
        evening = Evening(tmp_path, Settings(), site=LOON_BARRENS, machine=watched)
        opened.append(evening)
        with qtbot.waitSignal(evening._journal.opened, timeout=5_000):
            evening.start()
        return evening

    yield make
    for evening in opened:
        evening.close(give_up=True)


def _on_disk(home: Path, night: str) -> EveningState:
    with closing(Journal(home / FILE_NAME)) as journal:
        return journal.evening(night)


def _names(evening: Evening) -> list[str]:
    return [item.target.name for item in evening.queue.items]


def _go_on(evening: Evening, clock: SetClock, utc: datetime, qtbot: QtBot) -> None:
    """Let the time pass and have the evening look at its clock, as it does every second."""
    clock.run_to(utc)
    with qtbot.waitSignal(evening._journal.opened, timeout=5_000):
        evening._machine.look()


def test_a_tick_a_day_later_belongs_to_its_own_night(
    open_evening: Callable[[], Evening], clock: SetClock, tmp_path: Path, qtbot: QtBot
) -> None:
    evening = open_evening()
    evening.queue.add(VEGA)
    qtbot.waitUntil(lambda: len(evening.queue.items) == 1)
    evening.queue.mark(Outcome.FOUND)
    qtbot.waitUntil(lambda: not evening.queue.items[0].waiting)
    _go_on(evening, clock, EVENING_UTC + timedelta(days=1), qtbot)
    assert evening.queue.items == ()
    evening.queue.add(SATURN)
    qtbot.waitUntil(lambda: _names(evening) == ["Saturn"])
    evening.queue.mark(Outcome.FOUND)
    qtbot.waitUntil(lambda: not evening.queue.items[0].waiting)
    assert [entry.key for entry in _on_disk(tmp_path, "2026-10-10").queue] == [VEGA.key]
    assert [entry.key for entry in _on_disk(tmp_path, "2026-10-11").queue] == [SATURN.key]


def test_a_tick_belongs_to_its_night_even_before_the_clock_was_looked_at(
    open_evening: Callable[[], Evening], clock: SetClock, tmp_path: Path, qtbot: QtBot
) -> None:
    evening = open_evening()
    clock.run_to(EVENING_UTC + timedelta(days=1))
    with qtbot.waitSignal(evening._journal.written, timeout=5_000):
        evening.queue.add(SATURN)
    assert _names(evening) == []  # what is shown is still the night before
    assert _on_disk(tmp_path, "2026-10-10").queue == ()
    assert len(_on_disk(tmp_path, "2026-10-11").queue) == 1


def test_what_is_added_before_the_journal_is_open_is_there(
    tmp_path: Path, qtbot: QtBot, clock: SetClock
) -> None:
    watched = MachineClock(lambda: clock.utc, lambda: clock.steady_s)
    evening = Evening(tmp_path, Settings(), site=LOON_BARRENS, machine=watched)
    try:
        evening.queue.add(VEGA)
        evening.start()
        qtbot.waitUntil(lambda: _names(evening) == ["Vega"], timeout=5_000)
    finally:
        evening.close(give_up=True)
    assert len(_on_disk(tmp_path, "2026-10-10").queue) == 1


def test_a_queue_prepared_in_the_forenoon_is_there_in_the_evening(
    open_evening: Callable[[], Evening], clock: SetClock, qtbot: QtBot
) -> None:
    evening = open_evening()
    evening.queue.add_all([VEGA])  # in the evening; it is left over
    qtbot.waitUntil(lambda: len(evening.queue.items) == 1)
    clock.run_to(datetime(2026, 10, 11, 13, 0, tzinfo=UTC))  # ten in the morning
    evening._machine.look()
    evening.queue.add_all([SATURN, M31])
    qtbot.waitUntil(lambda: _names(evening) == ["Vega", "Saturn", "M 31"])
    _go_on(evening, clock, datetime(2026, 10, 11, 15, 0, 1, tzinfo=UTC), qtbot)
    assert _names(evening) == ["Saturn", "M 31"]
    evening.queue.remove(M31.key)
    qtbot.waitUntil(lambda: _names(evening) == ["Saturn"])
    evening.close()
    clock.run_to(datetime(2026, 10, 11, 23, 0, tzinfo=UTC))
    again = open_evening()
    assert _names(again) == ["Saturn"]  # brought over once: what was taken out stays out
    again.undo()
    qtbot.waitUntil(lambda: _names(again) == ["Saturn", "M 31"])


def test_a_closed_window_finds_what_was_prepared_in_the_forenoon(
    open_evening: Callable[[], Evening], clock: SetClock, qtbot: QtBot
) -> None:
    clock.run_to(datetime(2026, 10, 11, 13, 0, tzinfo=UTC))
    evening = open_evening()
    evening.queue.add_all([VEGA, SATURN])
    qtbot.waitUntil(lambda: len(evening.queue.items) == 2)
    evening.close()
    clock.run_to(datetime(2026, 10, 11, 23, 0, tzinfo=UTC))
    assert _names(open_evening()) == ["Vega", "Saturn"]


def test_a_clock_that_is_set_back_leads_back(
    open_evening: Callable[[], Evening], clock: SetClock, qtbot: QtBot
) -> None:
    evening = open_evening()
    evening.queue.add(VEGA)
    qtbot.waitUntil(lambda: len(evening.queue.items) == 1)
    _go_on(evening, clock, EVENING_UTC + timedelta(days=1), qtbot)
    assert evening.queue.items == ()
    clock.utc = EVENING_UTC + timedelta(hours=1)
    with qtbot.waitSignal(evening._journal.opened, timeout=5_000):
        evening._machine.look()
    assert _names(evening) == ["Vega"]
    (said,) = (message.text for message in evening.messages.current if message.key == "clock")
    assert said.startswith("The machine's clock jumped 23h00 back, to 21:14:00. ")


def test_a_clock_that_runs_on_or_is_nudged_is_not_remarked_on(
    open_evening: Callable[[], Evening], clock: SetClock
) -> None:
    evening = open_evening()
    for seconds in (1, 30, 3600):
        clock.run_to(clock.utc + timedelta(seconds=seconds))
        evening._machine.look()
    clock.utc += timedelta(seconds=20)
    evening._machine.look()
    assert not any(message.key == "clock" for message in evening.messages.current)


def test_the_night_follows_the_site_and_the_correction(
    open_evening: Callable[[], Evening], clock: SetClock, qtbot: QtBot
) -> None:
    clock.run_to(datetime(2026, 10, 11, 11, 0, tzinfo=UTC))  # 8 at Loon Barrens, 13 at Dry Pan
    evening = open_evening()
    nights: list[str] = []
    evening._journal.opened.connect(lambda state, _settings: nights.append(state.night))
    evening.sites.choose(DRY_PAN)
    qtbot.waitUntil(lambda: nights == ["2026-10-11"])
    evening.clock.set_correction(-7200.0)
    evening._machine.look()
    qtbot.waitUntil(lambda: nights == ["2026-10-11", "2026-10-10"])


def test_the_screen_of_the_night_follows_the_clock_both_ways(
    open_evening: Callable[[], Evening], clock: SetClock, qtbot: QtBot
) -> None:
    evening = open_evening()
    evening.night.begin()

    def shows(day: int) -> bool:
        view = evening.night.view
        return view is not None and view.begins_utc.day == day

    qtbot.waitUntil(lambda: shows(10), timeout=20_000)
    clock.run_to(EVENING_UTC + timedelta(days=1))
    qtbot.waitUntil(lambda: shows(11), timeout=20_000)
    clock.run_to(EVENING_UTC)
    qtbot.waitUntil(lambda: shows(10), timeout=20_000)
