from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from companion.journal import FILE_NAME, Journal, Outcome, Settings
from companion.live import Evening, SortBy
from companion.sky import DRY_PAN, LOON_BARRENS, POLARIS, Kind, Target
from live.conftest import Open

VEGA = Target("hip:91262", "Vega", Kind.STAR, 279.2347, 38.7837)
SATURN = Target("body:saturn", "Saturn", Kind.PLANET, body="saturn")
SIGMA = Target("hip:104382", "σ Octantis", Kind.STAR, 317.195, -88.956)
DEMO_UTC = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)


def names(evening: Evening) -> list[str]:
    return [item.target.name for item in evening.queue.items]


def filled(evening: Evening, qtbot: QtBot, *targets: Target) -> None:
    evening.queue.add_all(targets)
    qtbot.waitUntil(lambda: len(evening.queue.items) == len(targets))


def test_the_first_waiting_target_comes_up(open_evening: Open, qtbot: QtBot) -> None:
    evening = open_evening()
    filled(evening, qtbot, VEGA, SATURN)
    assert evening.choices.target == VEGA
    qtbot.waitUntil(lambda: evening.latest is not None and evening.latest.aim is not None)
    assert evening.latest is not None
    assert len(evening.latest.rows) in {0, 2}


def test_a_mark_is_on_disk_before_it_is_shown(
    open_evening: Open, qtbot: QtBot, tmp_path: Path
) -> None:
    evening = open_evening()
    filled(evening, qtbot, VEGA, SATURN)
    seen: list[Outcome] = []

    def look() -> None:
        item = evening.queue.item(VEGA.key)
        if item is not None and item.outcome is Outcome.FOUND and not seen:
            journal = Journal(tmp_path / FILE_NAME)
            entry = journal.evening("2026-10-10").entry(VEGA.key)
            journal.close()
            assert entry is not None
            seen.append(entry.outcome)

    evening.changed.connect(look)
    evening.queue.mark(Outcome.FOUND, "blue-white")
    qtbot.waitUntil(lambda: bool(seen))
    assert seen == [Outcome.FOUND]
    # The next one follows by itself, and the turn is counted from where the tube is.
    assert evening.choices.target == SATURN
    assert evening.choices.last_target == VEGA
    assert evening.undo_text == "found: Vega"


def test_a_key_pressed_twice_marks_once(open_evening: Open, qtbot: QtBot) -> None:
    evening = open_evening()
    filled(evening, qtbot, VEGA, SATURN)
    evening.queue.mark(Outcome.FOUND)
    evening.queue.mark(Outcome.NOT_SEEN)  # before the first one is on disk
    qtbot.waitUntil(lambda: evening.choices.target == SATURN)
    qtbot.wait(50)
    assert [item.outcome for item in evening.queue.items] == [Outcome.FOUND, Outcome.WAITING]
    evening.queue.mark(Outcome.NOT_SEEN)
    qtbot.waitUntil(lambda: evening.queue.items[1].outcome is Outcome.NOT_SEEN)


def test_what_another_window_wrote_is_shown_instead_of_replaced(
    open_evening: Open, qtbot: QtBot, tmp_path: Path
) -> None:
    one, other = open_evening(), open_evening()
    filled(one, qtbot, VEGA, SATURN)
    other._journal.look()
    qtbot.waitUntil(lambda: len(other.queue.items) == 2)
    one.queue.mark(Outcome.FOUND, "blue-white")
    qtbot.waitUntil(lambda: not one.queue.items[0].waiting)
    other.queue.mark(Outcome.NOT_SEEN)  # within the two seconds in which nobody looks
    qtbot.waitUntil(lambda: not other.queue.items[0].waiting)
    assert (other.queue.items[0].outcome, other.queue.items[0].note) == (
        Outcome.FOUND,
        "blue-white",
    )
    assert other.choices.target == VEGA
    (said,) = (m.text for m in other.messages.current if m.key == "stands")
    assert said.startswith("Vega was marked found at 20:14 by another window (blue-white).")
    other.queue.mark(Outcome.NOT_SEEN)
    qtbot.waitUntil(lambda: other.queue.items[0].outcome is Outcome.NOT_SEEN)
    assert other.choices.target == SATURN


def test_undo_brings_the_target_back(open_evening: Open, qtbot: QtBot) -> None:
    evening = open_evening()
    filled(evening, qtbot, VEGA, SATURN)
    evening.queue.mark(Outcome.SKIPPED)
    qtbot.waitUntil(lambda: evening.choices.target == SATURN)
    evening.undo()
    qtbot.waitUntil(lambda: evening.choices.target == VEGA)
    item = evening.queue.item(VEGA.key)
    assert item is not None
    assert item.waiting
    evening.redo()
    qtbot.waitUntil(lambda: not evening.queue.items[0].waiting)


def test_rows_are_added_moved_removed_and_sorted(open_evening: Open, qtbot: QtBot) -> None:
    evening = open_evening()
    filled(evening, qtbot, VEGA, SATURN)
    evening.queue.add(POLARIS)
    qtbot.waitUntil(lambda: len(evening.queue.items) == 3)
    assert names(evening) == ["Vega", "Polaris", "Saturn"]
    assert evening.choices.target == POLARIS
    evening.queue.move(POLARIS.key, 1)
    qtbot.waitUntil(lambda: names(evening) == ["Vega", "Saturn", "Polaris"])
    evening.queue.later()
    evening.queue.choose(VEGA.key)
    evening.queue.later()
    qtbot.waitUntil(lambda: names(evening) == ["Saturn", "Polaris", "Vega"])
    assert evening.choices.target == SATURN
    evening.queue.remove(SATURN.key)
    qtbot.waitUntil(lambda: names(evening) == ["Polaris", "Vega"])
    assert evening.choices.target == POLARIS
    qtbot.waitUntil(
        lambda: evening.latest is not None and [r.key for r in evening.latest.rows] != []
    )
    qtbot.wait(600)
    evening.queue.sort(SortBy.ALTITUDE)
    qtbot.waitUntil(lambda: names(evening) == ["Vega", "Polaris"])
    evening.queue.sort(SortBy.TIME_LEFT)
    evening.queue.sort(SortBy.TURN)
    qtbot.waitUntil(lambda: names(evening) == ["Polaris", "Vega"])


def test_everything_is_there_again_after_a_restart(open_evening: Open, qtbot: QtBot) -> None:
    evening = open_evening()
    filled(evening, qtbot, VEGA, SATURN, SIGMA)
    evening.queue.mark(Outcome.NOT_SEEN, "cloud")
    qtbot.waitUntil(lambda: evening.choices.target == SATURN)
    evening.sites.choose(DRY_PAN)
    evening.sites.set_deviation(1.5)
    evening.set_low_limit(15.0)
    evening.set_hours("20:30-00:30")
    evening.clock.set_correction(-3.0)
    evening.close()
    again = open_evening(site=None)
    assert again.choices.site == DRY_PAN
    assert not again.needs_site
    assert again.choices.compass_deviation_deg == 1.5
    assert again.choices.low_limit_deg == 15.0
    assert again.choices.hours == ("20:30", "00:30")
    assert again.choices.clock_correction_s == -3.0
    qtbot.waitUntil(lambda: len(again.queue.items) == 3)
    assert again.queue.items[0].note == "cloud"
    assert again.choices.target == SATURN
    assert again.choices.last_target == VEGA


def test_a_first_start_waits_for_a_place(open_evening: Open, qtbot: QtBot) -> None:
    evening = open_evening(site=None, demo=False)
    needed = [evening.needs_site]
    with qtbot.assertNotEmitted(evening.snapshot_ready, wait=300):
        pass
    evening.sites.choose(LOON_BARRENS)
    assert [*needed, evening.needs_site] == [True, False]
    qtbot.waitUntil(lambda: evening.latest is not None, timeout=10_000)


def test_previews_stand_still_and_the_demo_runs(open_evening: Open, qtbot: QtBot) -> None:
    evening = open_evening()
    start = evening.clock.now_utc
    qtbot.wait(30)
    assert evening.clock.now_utc > start
    evening.clock.set_preview(start + timedelta(hours=1))
    still = evening.clock.now_utc
    assert still - start > timedelta(minutes=59)
    qtbot.wait(30)
    assert evening.clock.now_utc == still
    evening.clock.step(timedelta(minutes=-10))
    assert evening.clock.now_utc == still - timedelta(minutes=10)
    evening.clock.come_back()
    qtbot.wait(30)
    assert timedelta(0) < evening.clock.now_utc - start < timedelta(seconds=30)
    evening.clock.set_preview(None)
    assert abs(evening.clock.now_utc - datetime.now(UTC)) < timedelta(seconds=5)


def test_the_deviation_is_what_is_left_of_a_known_azimuth(open_evening: Open, qtbot: QtBot) -> None:
    evening = open_evening()
    qtbot.waitUntil(lambda: evening.latest is not None, timeout=10_000)
    assert evening.latest is not None
    declination = evening.latest.north.declination_deg
    assert declination is not None
    evening.sites.measure_deviation(2.0, (2.0 - declination - 1.0) % 360.0, declination)
    assert evening.choices.compass_deviation_deg == pytest.approx(1.0)


def test_searches_answer_and_old_ones_are_dropped(open_evening: Open, qtbot: QtBot) -> None:
    evening = open_evening()
    found: list[str] = []
    for text in ("v", "ve", "veg", "vega"):
        evening.find(text, lambda hits: found.append(hits[0].target.name))
    qtbot.waitUntil(lambda: bool(found), timeout=20_000)
    qtbot.wait(100)
    assert found[-1] == "Vega"
    assert len(found) <= 2
    towns: list[str] = []
    evening.find_places("halifax", lambda places: towns.append(places[0].site.name))
    qtbot.waitUntil(lambda: towns == ["Halifax"], timeout=20_000)


def test_a_journal_out_of_order_is_said_and_numbers_still_come(
    tmp_path: Path, open_evening: Open, qtbot: QtBot
) -> None:
    (tmp_path / FILE_NAME).write_text("no database at all, but longer than a header " * 5)
    evening = Evening(tmp_path, Settings(), site=LOON_BARRENS)
    try:
        with qtbot.waitSignal(evening._journal.failed, timeout=5_000):
            evening.start()
        evening.queue.add(VEGA)
        qtbot.waitUntil(
            lambda: evening.latest is not None and evening.latest.aim is not None, timeout=10_000
        )
        assert any("no journal of this program" in m.text for m in evening.messages.current)
        evening.upkeep.begin_anew()
        qtbot.waitUntil(lambda: len(evening.queue.items) == 1, timeout=5_000)
        assert not any(m.key == "journal" for m in evening.messages.current)
    finally:
        evening.close(give_up=True)
