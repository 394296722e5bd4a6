"""The night's plan of a real evening: asked, kept in step, accepted, made anew."""

from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from companion.advice import AdviceError
from companion.journal import Journal, Outcome, SeenTarget, Settings
from companion.live import (
    Evening,
    FileKind,
    ImportQuestion,
    Kinds,
    ListQuestion,
    NightQuestion,
    OrderQuestion,
    Seen,
    Wanted,
)
from companion.sky import LOON_BARRENS, Kind, Target

DEMO_UTC = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
VEGA = Target("hip:91262", "Vega", Kind.STAR, 279.2347, 38.7837, magnitude=0.03)
SATURN = Target("body:saturn", "Saturn", Kind.PLANET, body="saturn")
M11 = Target("ngc:NGC6705", "M 11", Kind.OPEN_CLUSTER, 282.77, -6.27, magnitude=5.8)

Until = Callable[[Callable[[], object]], None]


@pytest.fixture
def evening(tmp_path: Path, qtbot: QtBot) -> Iterator[Evening]:
    made = Evening(tmp_path, Settings(), site=LOON_BARRENS, demo_utc=DEMO_UTC)
    with qtbot.waitSignal(made._journal.opened, timeout=5_000):
        made.start()
    made.queue.add_all([VEGA, SATURN])
    qtbot.waitUntil(lambda: len(made.queue.items) == 2)
    yield made
    made.close(give_up=True)


@pytest.fixture
def until(qtbot: QtBot) -> Until:
    return lambda true: qtbot.waitUntil(lambda: bool(true()), timeout=15_000)


def idle(evening: Evening) -> bool:
    kinds = (NightQuestion, ListQuestion, OrderQuestion, ImportQuestion)
    return all(evening.planner.share(kind) is None for kind in kinds)


def test_nothing_is_asked_before_the_screen_comes_up(evening: Evening, qtbot: QtBot) -> None:
    qtbot.wait(30)
    assert evening.night.view is None
    assert idle(evening)


def test_the_night_follows_the_queue(evening: Evening, until: Until) -> None:
    night = evening.night
    night.begin()
    until(lambda: night.view is not None)
    assert night.view is not None
    assert [plan.target.key for plan in night.view.plans] == [VEGA.key, SATURN.key]
    evening.queue.add(M11, aim=False)
    until(lambda: night.view is not None and len(night.view.plans) == 3)
    evening.queue.mark(Outcome.FOUND)
    until(lambda: night.view is not None and len(night.view.plans) == 2)


def test_the_night_follows_the_low_limit_and_a_list_does_too(
    evening: Evening, until: Until
) -> None:
    night = evening.night
    night.begin()
    night.want(Wanted(kinds=Kinds.BODIES))
    until(lambda: night.list is not None)
    assert night.list is not None
    assert {row.target.kind for row in night.list.tonight.rows} <= {Kind.PLANET, Kind.MOON}
    before = night.list
    evening.set_low_limit(25.0)
    until(lambda: night.list is not before)
    assert night.list.question.around.low_limit_deg == 25.0
    before = night.list
    evening.set_hours("22:00-23:00")
    until(lambda: night.list is not before)
    assert night.list.question.around.hours == ("22:00", "23:00")


def test_what_was_seen_before_comes_from_the_journal(
    evening: Evening, until: Until, tmp_path: Path
) -> None:
    evening.queue.mark(Outcome.FOUND)  # Vega
    until(lambda: not evening.queue.items[0].waiting)
    evening.night.want(Wanted(seen=Seen.BEFORE))
    until(lambda: evening.night.list is not None)
    assert evening.night.list is not None
    assert [row.target.key for row in evening.night.list.tonight.rows] == [VEGA.key]


def test_a_round_is_added_whole_and_taken_out_by_one_undo(evening: Evening, until: Until) -> None:
    evening.night.ask_list("visitors")
    until(lambda: evening.night.round is not None)
    until(lambda: len(evening.queue.items) > 5)
    assert "An hour with visitors" in evening.messages.current[-1].text
    assert evening.night.list is None
    evening.undo()
    until(lambda: len(evening.queue.items) == 2)


def test_an_order_is_accepted_through_the_journal(
    evening: Evening, until: Until, tmp_path: Path
) -> None:
    night = evening.night
    evening.queue.add(M11, aim=False)
    until(lambda: len(evening.queue.items) == 3)
    evening.queue.order([SATURN.key, VEGA.key, M11.key])  # surely not the best
    until(lambda: evening.queue.items[0].target == SATURN)
    night.ask_order()
    until(lambda: night.order is not None)
    assert night.order is not None
    wanted = list(night.order.order.keys)
    if not night.accepted:
        night.accept()
    until(lambda: [item.target.key for item in evening.queue.items] == wanted)
    assert night.accepted
    journal = Journal(tmp_path / "journal.sqlite")
    assert [entry.key for entry in journal.evening("2026-10-10").queue] == wanted
    journal.close()
    evening.queue.move(wanted[0], 2)
    until(lambda: not night.accepted)


def test_the_order_is_made_anew_for_what_is_added_and_for_clouds(
    evening: Evening, until: Until
) -> None:
    night = evening.night
    night.begin()
    night.ask_order()
    until(lambda: night.order is not None)
    evening.queue.add(M11, aim=False)
    until(lambda: night.order is not None and M11 in night.order.question.targets)
    night.say_clouds("west, 30 min")
    until(lambda: night.order is not None and night.order.question.blocked)
    assert night.order_words[0] == "8 minutes each"
    assert night.order_words[-1].startswith("clouds in the west until 20:44")
    with pytest.raises(AdviceError):
        night.say_clouds("upwards")
    night.say_clouds("")
    until(lambda: night.order is not None and not night.order.question.blocked)


def test_minutes_end_and_breaks_are_minded(evening: Evening, until: Until) -> None:
    night = evening.night
    night.set_minutes(20.0)
    night.set_end(DEMO_UTC + timedelta(hours=2))
    night.set_break(DEMO_UTC + timedelta(minutes=30), DEMO_UTC + timedelta(minutes=50))
    until(lambda: night.order is not None and idle(evening))
    assert night.order is not None
    assert ", ".join(night.order_words) == "20 minutes each, until 22:14, break 20:44 to 21:04"
    first, *_rest = night.order.order.stops
    assert first.end_utc - first.start_utc == timedelta(minutes=20)
    with pytest.raises(AdviceError):
        night.set_break(DEMO_UTC, DEMO_UTC)
    night.no_breaks()
    night.set_end(None)
    until(lambda: idle(evening))
    assert ", ".join(night.order_words) == "20 minutes each"


def test_falling_behind_makes_the_order_anew(evening: Evening, until: Until, qtbot: QtBot) -> None:
    night = evening.night
    night.begin()
    night.ask_order()
    until(lambda: night.order is not None)
    if not night.accepted:
        night.accept()
        until(lambda: night.accepted)
    before = night.order
    assert night.behind() is None
    evening.clock.set_preview(DEMO_UTC + timedelta(hours=4))  # a look ahead is no delay
    qtbot.wait(30)
    assert night.order is before
    later = DEMO_UTC + timedelta(minutes=40)
    evening.clock.run_from(later)
    until(lambda: night.order is not before)
    assert night.order is not None
    assert night.order.order.stops[0].start_utc >= DEMO_UTC + timedelta(minutes=40)
    assert any("was to be done" in message.text for message in evening.messages.current)


def test_two_minutes_of_grace_are_given(evening: Evening, until: Until) -> None:
    night = evening.night
    night.begin()
    night.ask_order()
    until(lambda: night.order is not None)
    if not night.accepted:
        night.accept()
        until(lambda: night.accepted)
    assert night.order is not None
    first = night.order.order.stops[0]
    for late_s, behind in ((-60.0, None), (60.0, None), (119.0, None), (121.0, first)):
        evening.clock.set_preview(first.end_utc + timedelta(seconds=late_s))
        assert night.behind() == behind


def test_what_is_added_while_looking_ahead_is_ordered_afterwards(
    evening: Evening, until: Until, qtbot: QtBot
) -> None:
    night = evening.night
    night.begin()
    night.ask_order()
    until(lambda: night.order is not None)
    before = night.order
    evening.clock.set_preview(DEMO_UTC + timedelta(hours=4))
    evening.queue.add(M11, aim=False)
    until(lambda: night.view is not None and len(night.view.plans) == 3 and idle(evening))
    assert night.order is before
    evening.clock.set_preview(None)
    until(lambda: night.order is not before)


def test_a_file_is_read_into_the_queue(evening: Evening, until: Until, tmp_path: Path) -> None:
    path = tmp_path / "mine.txt"
    path.write_text("M 13\nnobody knows this\n")
    evening.night.read_file(f' "{path}" ')
    until(lambda: len(evening.queue.items) == 3)
    assert evening.night.report is not None
    assert len(evening.night.report.read.report) == 1
    assert "1 remark" in evening.messages.current[-1].text
    evening.night.read_file(str(tmp_path / "none"))
    until(lambda: "cannot be read" in evening.messages.current[-1].text)
    assert len(evening.queue.items) == 3


def test_the_plan_is_written_into_the_home_folder(
    evening: Evening, until: Until, tmp_path: Path
) -> None:
    evening.night.write_files()
    assert "no order" in evening.messages.current[-1].text
    evening.night.ask_order()
    until(lambda: evening.night.order is not None)
    evening.night.write_files()
    until((tmp_path / "plan-2026-10-10.ics").exists)
    until(lambda: "Written" in evening.messages.current[-1].text)


def test_esc_stops_all_work(evening: Evening, until: Until, qtbot: QtBot) -> None:
    evening.night.begin()
    assert evening.night.cancel()
    assert idle(evening)
    assert not evening.night.cancel()
    qtbot.wait(50)
    assert evening.night.view is None
    evening.night.begin()  # the screen is brought up again
    until(lambda: evening.night.view is not None)


def test_the_journal_is_read_and_written_out(
    evening: Evening, until: Until, tmp_path: Path
) -> None:
    nights = evening.nights
    evening.queue.mark(Outcome.FOUND, "blue-white")
    until(lambda: not evening.queue.items[0].waiting)
    nights.refresh()
    until(lambda: nights.view is not None and nights.lists is not None)
    assert nights.view is not None
    assert nights.lists is not None
    (held,) = nights.view.held["2026-10-10"]
    assert nights.view.seen == (SeenTarget(held, 1),)
    nights.load([held])
    until(lambda: nights.entry(held) is not None)
    assert (entry := nights.entry(held)) is not None
    assert entry.name == "Vega"
    assert nights.view.found_keys == {VEGA.key}
    assert len(nights.lists.messier) == 110
    for kind in FileKind:
        nights.write(kind)
    until(lambda: all((tmp_path / f"journal.{kind}").exists() for kind in FileKind))
    assert "blue-white" in (tmp_path / "journal.csv").read_text()
    (tmp_path / "journal.csv").unlink()
    (tmp_path / "journal.csv").mkdir()
    nights.write(FileKind.TABLE)
    until(lambda: "cannot be written" in evening.messages.current[-1].text)
