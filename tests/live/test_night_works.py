"""What the planner's thread answers, over the real ephemeris and catalogue."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from companion.advice import AdviceError
from companion.live import (
    Around,
    Ease,
    ExportQuestion,
    ExportView,
    ImportQuestion,
    ImportView,
    Kinds,
    ListQuestion,
    ListView,
    NightQuestion,
    NightView,
    OrderQuestion,
    OrderView,
    Seen,
    Side,
    Wanted,
)
from companion.live.night_questions import Answer, Question
from companion.live.threads.night_answers import NightWorks
from companion.night import Blocked, Cancelled, Grade, find_instrument
from companion.sky import LOON_BARRENS, Kind, Site, Target, load_catalogue

NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
TROMSOE = Site("Tromsø", 69.65, 18.96, 10.0, "Europe/Oslo")
SATURN = Target("body:saturn", "Saturn", Kind.PLANET, body="saturn")


def around(site: Site = LOON_BARRENS, utc: datetime = NOW) -> Around:
    return Around(site, utc, find_instrument("150"), 10.0)


@pytest.fixture(scope="module")
def works() -> Iterator[NightWorks]:
    made = NightWorks()
    yield made
    made.close()


@pytest.fixture(scope="module")
def queue() -> tuple[Target, ...]:
    catalogue = load_catalogue()
    keys = ("hip:91262", "ngc:NGC6205", "ngc:NGC6720", "ngc:NGC0224", "ngc:NGC6705")
    return (SATURN, *(catalogue.target(key) for key in keys))


def answered(works: NightWorks, question: Question) -> Answer:
    return works.answer(question, lambda _share: True)


def night(works: NightWorks, question: NightQuestion) -> NightView:
    found = answered(works, question)
    assert isinstance(found, NightView)
    return found


def listed(works: NightWorks, wanted: Wanted, *seen: str, round_key: str = "") -> ListView:
    found = answered(works, ListQuestion(around(), wanted, frozenset(seen), round_key))
    assert isinstance(found, ListView)
    return found


def ordered(works: NightWorks, question: OrderQuestion) -> OrderView:
    found = answered(works, question)
    assert isinstance(found, OrderView)
    return found


def test_the_night_holds_everything_that_is_drawn(
    works: NightWorks, queue: tuple[Target, ...]
) -> None:
    view = night(works, NightQuestion(around(), queue))
    assert [plan.target for plan in view.plans] == list(queue)
    assert {body.body for body in view.planets} >= {"venus", "mars", "jupiter", "saturn"}
    assert len(view.times_s) == len(view.sun_altitude_deg) == len(view.moon.altitude_deg)
    assert len(view.plans[0].curve.altitude_deg) == len(view.times_s)
    down = view.darkness.sun_down
    assert down.begins_utc is not None
    assert down.ends_utc is not None
    assert view.begins_utc < down.begins_utc < down.ends_utc < view.ends_utc
    assert view.sky_assumed
    assert view.plan("body:saturn") is view.plans[0]
    assert view.plan("nothing") is None


def test_no_answer_can_be_written_into(works: NightWorks, queue: tuple[Target, ...]) -> None:
    view = night(works, NightQuestion(around(), queue))
    with pytest.raises(ValueError, match="read-only"):
        view.plans[0].curve.altitude_deg[0] = 1.0


@pytest.mark.parametrize(
    ("utc", "words"),
    [
        (datetime(2026, 6, 21, 22, tzinfo=UTC), "polar day"),
        (datetime(2026, 12, 21, 22, tzinfo=UTC), "polar night"),
    ],
)
def test_polar_day_and_night_are_drawn_whole(
    works: NightWorks, queue: tuple[Target, ...], utc: datetime, words: str
) -> None:
    view = night(works, NightQuestion(around(TROMSOE, utc), queue))
    assert words in view.darkness.words
    assert view.ends_utc - view.begins_utc == timedelta(hours=24)
    found = ordered(works, OrderQuestion(around(TROMSOE, utc), queue, None, 8.0))
    assert len(found.order.stops) + len(found.order.lost) == len(queue)


def test_an_empty_queue_is_a_night_all_the_same(works: NightWorks) -> None:
    assert night(works, NightQuestion(around(), ())).plans == ()
    assert ordered(works, OrderQuestion(around(), (), None, 8.0)).order.stops == ()


def test_every_filter_filters(works: NightWorks) -> None:
    rows = listed(works, Wanted(kinds=Kinds.GALAXIES)).tonight.rows
    assert {row.target.kind for row in rows} == {Kind.GALAXY}
    rows = listed(works, Wanted(constellation="Cyg")).tonight.rows
    assert {row.target.constellation for row in rows} == {"Cyg"}
    rows = listed(works, Wanted(side=Side.NORTH)).tonight.rows
    assert rows
    assert all(row.azimuth_deg >= 315.0 or row.azimuth_deg <= 45.0 for row in rows)
    rows = listed(works, Wanted(lowest_deg=45.0)).tonight.rows
    assert min(row.altitude_deg for row in rows) >= 45.0
    rows = listed(works, Wanted(ease=Ease.EASY)).tonight.rows
    assert {row.visibility.grade for row in rows} == {Grade.EASY}
    rows = listed(works, Wanted(seen=Seen.BEFORE), "body:saturn").tonight.rows
    assert [row.target.key for row in rows] == ["body:saturn"]
    rows = listed(works, Wanted(seen=Seen.NEVER), "body:saturn").tonight.rows
    assert "body:saturn" not in {row.target.key for row in rows}


def test_a_round_is_made_and_named(works: NightWorks) -> None:
    found = listed(works, Wanted(kinds=Kinds.DOUBLES), round_key="messier")
    assert found.round_name == "Messier's list"
    assert 80 < len(found.tonight.rows) <= 110
    missing = listed(works, Wanted(seen=Seen.NEVER), "ngc:NGC0224", round_key="messier")
    assert len(missing.tonight.rows) == len(found.tonight.rows) - 1


def test_an_order_keeps_clouds_breaks_and_end(works: NightWorks, queue: tuple[Target, ...]) -> None:
    free = ordered(works, OrderQuestion(around(), queue, None, 8.0)).order
    assert not free.lost
    assert free.stops[0].start_utc >= NOW
    cloud = Blocked(0.0, 359.9, NOW + timedelta(minutes=30))
    pause = (NOW + timedelta(minutes=40), NOW + timedelta(minutes=60))
    later = ordered(
        works, OrderQuestion(around(), queue, None, 8.0, breaks=(pause,), blocked=(cloud,))
    ).order
    for stop in later.stops:
        assert stop.start_utc >= NOW + timedelta(minutes=29)
        assert stop.end_utc <= pause[0] or stop.start_utc >= pause[1]
    short = ordered(works, OrderQuestion(around(), queue, NOW + timedelta(minutes=25), 8.0)).order
    assert short.lost
    assert all(lost.why for lost in short.lost)


def test_the_first_turn_is_counted_from_the_tube(
    works: NightWorks, queue: tuple[Target, ...]
) -> None:
    found = ordered(works, OrderQuestion(around(), queue[1:], None, 8.0, tube=SATURN)).order
    assert found.stops[0].turn_deg is not None


def test_by_day_observing_begins_at_dusk(works: NightWorks, queue: tuple[Target, ...]) -> None:
    noon = datetime(2026, 10, 10, 16, 30, tzinfo=UTC)
    found = ordered(works, OrderQuestion(around(utc=noon), queue, None, 8.0)).order
    dusk = night(works, NightQuestion(around(utc=noon), ())).darkness.nautical.begins_utc
    assert dusk is not None
    assert found.stops[0].start_utc >= dusk


def test_work_that_nobody_wants_is_stopped(works: NightWorks) -> None:
    with pytest.raises(Cancelled):
        works.answer(ListQuestion(around(), Wanted(), frozenset()), lambda share: share < 0.3)


def test_a_list_is_read_and_every_odd_line_told(works: NightWorks, tmp_path: Path) -> None:
    path = tmp_path / "mine.txt"
    path.write_bytes("M 31\nSaturn\nno such thing at all\nVega\n".encode("latin-1"))
    found = answered(works, ImportQuestion(path))
    assert isinstance(found, ImportView)
    assert [target.name for target in found.read.targets] == ["M 31", "Saturn", "Vega"]
    assert len(found.read.report) == 1


@pytest.mark.parametrize("name", ["none.csv", ".", "a\0b"])
def test_no_file_is_said(works: NightWorks, tmp_path: Path, name: str) -> None:
    with pytest.raises(AdviceError, match="cannot be read"):
        answered(works, ImportQuestion(tmp_path / name))


def test_a_huge_list_is_read(works: NightWorks, tmp_path: Path) -> None:
    path = tmp_path / "huge.csv"
    path.write_text("".join(f"NGC {1 + n % 7000}\n" for n in range(20_000)))
    found = answered(works, ImportQuestion(path))
    assert isinstance(found, ImportView)
    assert found.read.lines == 20_000
    assert len(found.read.entries) + len(found.read.report) == 20_000


def test_the_plan_is_written_for_other_programs(
    works: NightWorks, queue: tuple[Target, ...], tmp_path: Path
) -> None:
    order = ordered(works, OrderQuestion(around(), queue, None, 8.0)).order
    question = ExportQuestion(order, LOON_BARRENS, NOW, tmp_path, "plan-2026-10-10")
    found = answered(works, question)
    assert isinstance(found, ExportView)
    table, calendar = found.paths
    assert len(table.read_text().splitlines()) == 1 + len(queue)
    assert calendar.read_bytes().count(b"BEGIN:VEVENT") == len(queue)
    with pytest.raises(AdviceError, match="cannot be written"):
        answered(works, ExportQuestion(order, LOON_BARRENS, NOW, tmp_path / "no", "plan"))


def test_the_hours_hold_for_list_rounds_and_order(
    works: NightWorks, queue: tuple[Target, ...]
) -> None:
    mine = replace(around(), hours=("21:00", "22:30"))
    begins, ends = (datetime(2026, 10, 11, *clock, tzinfo=UTC) for clock in ((0, 0), (1, 30)))
    for key in ("", "visitors", "faint"):
        found = answered(works, ListQuestion(mine, Wanted(), frozenset(), key))
        assert isinstance(found, ListView)
        assert all(begins <= row.opens_utc <= row.closes_utc <= ends for row in found.tonight.rows)
    stops = ordered(works, OrderQuestion(mine, queue, None, 8.0)).order.stops
    assert stops
    assert all(begins <= stop.start_utc <= stop.end_utc <= ends for stop in stops)
    over = replace(mine, utc=datetime(2026, 10, 11, 2, tzinfo=UTC))
    with pytest.raises(AdviceError, match="within your hours, 21:00 to 22:30"):
        ordered(works, OrderQuestion(over, queue, None, 8.0))
