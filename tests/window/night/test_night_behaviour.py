"""What keys, the pointer and new facts do on the screens of the night and the journal."""

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from window.conftest import Windows
from window.facts import QUEUE, SATURN
from window.fakes import FakeEvening
from window.hands import press, told
from window.night_fakes import at, order, ranked, view

from companion.live import Kinds, ListQuestion, OrderQuestion, Severity, Side, Wanted
from companion.window import MainWindow
from companion.window.kit.list_page import ListPage
from companion.window.night.chart import NightChart
from companion.window.night.lanes import NightLanes
from companion.window.night.page import NightPage
from companion.window.night.panel import NightPanel
from companion.window.night.tonight_page import chips_of
from companion.window.night.words import altitude_at


def opened(make: Windows, evening: FakeEvening, *keys: str) -> tuple[MainWindow, NightPanel]:
    window = make(evening)
    press(window, "4", *keys)
    panel = window.stage.shown
    assert isinstance(panel, NightPanel)
    return window, panel


def waiting(evening: FakeEvening) -> list[Any]:
    return [one.target for one in evening.queue.items if one.waiting]


def test_the_chart_is_made_when_it_is_first_needed(make_window: Windows) -> None:
    evening = FakeEvening()
    evening.night.view = None
    window, panel = opened(make_window, evening)
    assert ("begin",) in evening.night.told
    assert not panel.findChildren(NightChart)
    assert "not worked out" in panel.chart.notice.notice.head
    evening.night.view = view(waiting(evening))
    evening.night.changed.emit()
    assert panel.findChildren(NightChart) == [panel.chart.chart]
    assert window.context == "night"


def test_arrows_move_time_and_target(make_window: Windows) -> None:
    window, panel = opened(make_window, FakeEvening())
    chosen = panel.chart.chosen
    assert chosen is not None
    assert chosen[0] == SATURN.key
    assert chosen[1] == datetime(2026, 10, 10, 23, 14, 7, tzinfo=UTC)
    press(window, "Right")
    assert panel.chart.chosen == (SATURN.key, datetime(2026, 10, 10, 23, 15, tzinfo=UTC))
    press(window, "Right", "Left", "Left")
    assert panel.chart.chosen == (SATURN.key, datetime(2026, 10, 10, 23, 10, tzinfo=UTC))
    press(window, "Shift+Right", "Down")
    moved = panel.chart.chosen
    assert moved is not None
    assert moved[1] == datetime(2026, 10, 11, 0, 0, tzinfo=UTC)
    assert moved[0] == waiting(FakeEvening())[1].key
    for _ in range(40):
        press(window, "Shift+Left", "Up")
    assert panel.chart.chosen == (SATURN.key, at(4.8))


def test_by_day_the_cursor_stands_at_dusk(make_window: Windows) -> None:
    evening = FakeEvening()
    evening.night.view = view(waiting(evening), begins_utc=at(5.0), ends_utc=at(7.1))
    _window, panel = opened(make_window, evening)
    assert panel.chart.chosen == (SATURN.key, at(6.6))


def test_enter_shows_the_target_as_it_will_stand_then(make_window: Windows) -> None:
    evening = FakeEvening()
    window, panel = opened(make_window, evening, "Down", "b")
    chosen = panel.chart.chosen
    assert chosen is not None
    press(window, "Enter")
    assert ("choose", chosen[0]) in evening.told
    assert ("set_preview", chosen[1]) in evening.told
    assert window.stage.shown.word == "aim"


def test_best_is_the_planned_turn_where_there_is_one(make_window: Windows) -> None:
    evening = FakeEvening()
    window, panel = opened(make_window, evening, "Home")
    assert panel.chart.chosen == (SATURN.key, at(6.0))
    evening.night.order = order(waiting(evening))
    evening.night.changed.emit()
    press(window, "Home")
    chosen = panel.chart.chosen
    assert chosen is not None
    assert abs(chosen[1] - at(7.03)) < timedelta(seconds=1)


def test_the_pointer_reads_out_and_goes_there(make_window: Windows) -> None:
    evening = FakeEvening()
    window, panel = opened(make_window, evening)
    chart = panel.chart.chart
    assert chart is not None
    axis = chart.axis
    assert axis is not None
    shown = evening.night.view
    assert shown is not None
    wanted = shown.plans[2]
    time_s = at(9.0).timestamp()
    up = altitude_at(shown.times_s, wanted.curve.altitude_deg, time_s)
    spot = QPointF(axis.x(time_s), chart.front._y(up)).toPoint()
    QTest.mouseMove(chart.front, spot)
    chosen = panel.chart.chosen
    assert chosen is not None
    assert abs(chosen[1].timestamp() - time_s) < 120.0
    assert chosen[0] == wanted.target.key
    QTest.mouseClick(chart.front, Qt.MouseButton.LeftButton, pos=spot)
    assert any(call[0] == "set_preview" for call in evening.told)
    assert window.stage.shown.word == "aim"
    QTest.mouseClick(chart.front, Qt.MouseButton.LeftButton, pos=QPoint(3, 3))  # beside the plot


def test_a_lane_is_hit_by_its_name_without_leaving(make_window: Windows) -> None:
    evening = FakeEvening()
    window, panel = opened(make_window, evening)
    lanes = panel.chart.lanes
    assert isinstance(lanes, NightLanes)
    name = QPoint(40, round(lanes.pitch() * 1.5))
    QTest.mouseClick(lanes, Qt.MouseButton.LeftButton, pos=name)
    assert window.stage.shown is panel
    assert panel.chart.chosen is not None
    assert panel.chart.chosen[0] == waiting(evening)[1].key


@pytest.mark.parametrize(
    ("steps", "field", "value"),
    [(2, "kinds", Kinds.BODIES), (4, "side", Side.NORTH), (5, "lowest_deg", 15.0)],
)
def test_filters_are_chosen_with_the_arrows_and_changed_with_enter(
    make_window: Windows, steps: int, field: str, value: object
) -> None:
    evening = FakeEvening()
    evening.night.list = ranked(QUEUE)
    window, panel = opened(make_window, evening, "m", *["Right"] * steps, "Enter")
    assert getattr(evening.night.wanted, field) == value
    marked = [at for at, chip in enumerate(panel.tonight.chips.chips) if chip.marked]
    assert marked == [steps - 1]
    assert not told(evening, "add")
    press(window, "Down", "Enter")
    assert told(evening, "add") == [("add", QUEUE[1], False)]
    press(window, "x")
    assert evening.night.wanted == Wanted()


def test_the_mouse_changes_filters_too(make_window: Windows) -> None:
    evening = FakeEvening()
    evening.night.list = ranked(QUEUE)
    _window, panel = opened(make_window, evening, "m")
    chips = panel.tonight.chips
    (_first, box) = list(chips._places(chips.width()))[1]
    QTest.mouseClick(chips, Qt.MouseButton.LeftButton, pos=box.center().toPoint())
    assert evening.night.wanted.kinds is Kinds.BODIES


def test_no_filter_is_set_at_first() -> None:
    assert not any(chip.marked for chip in chips_of(Wanted(), "10×50"))


def test_enter_adds_and_goes_on(make_window: Windows) -> None:
    evening = FakeEvening()
    evening.night.list = ranked(QUEUE)
    window, panel = opened(make_window, evening, "m", "Down", "Enter")
    assert evening.told == [("add", QUEUE[1], False)]
    press(window, "Enter")
    assert evening.told[-1] == ("add", QUEUE[2], False)
    assert "in the queue" in panel.tonight.list.rows[0].right


def test_the_list_is_asked_for_once(make_window: Windows) -> None:
    evening = FakeEvening()
    opened(make_window, evening, "m")
    assert ("ask_list",) in evening.night.told


def test_esc_stops_work_first_then_goes_back(make_window: Windows) -> None:
    evening = FakeEvening()
    evening.night.shares = {ListQuestion: 0.4}
    window, _panel = opened(make_window, evening, "m")
    press(window, "Esc")
    assert evening.night.told[-1] == ("cancel",)
    assert window.context == "tonight"
    press(window, "Esc")
    assert window.context == "night"


def test_esc_on_the_chart_stops_work_or_dismisses_a_message(make_window: Windows) -> None:
    evening = FakeEvening()
    evening.night.shares = {ListQuestion: 0.4}
    evening.messages.say(Severity.NOTE, "something")
    window, _panel = opened(make_window, evening)
    press(window, "Esc")
    assert evening.night.shares == {}
    assert evening.messages.current
    press(window, "Esc")
    assert not evening.messages.current


@pytest.mark.parametrize(("steps", "round_key"), [(0, "eye"), (1, "binoculars")])
def test_the_chosen_round_is_taken(make_window: Windows, steps: int, round_key: str) -> None:
    evening = FakeEvening()
    _window, panel = opened(make_window, evening, "r", *["Down"] * steps, "Enter")
    assert evening.night.told[-1] == ("ask_list", round_key)
    assert len(panel.rounds.list.rows) == len(panel.rounds.keys) == 8


def test_the_order_says_times_and_what_is_lost(make_window: Windows) -> None:
    evening = FakeEvening()
    evening.night.order = order(waiting(evening))
    window, panel = opened(make_window, evening, "o")
    rows = panel.order.list.rows
    assert ("ask_order",) in evening.night.told
    assert rows[0].lead == "20:01"
    assert rows[-1].right == "no place"
    assert "before its turn" in rows[-1].below
    assert "7 of 9" in panel.order.about.text
    assert "clouds in the west until 20:44" in panel.order.about.text
    press(window, "Enter")
    assert evening.night.told[-1] == ("accept",)


@pytest.mark.parametrize("page", ["", "m", "r", "o"])
def test_a_persons_hours_are_set_from_every_page(make_window: Windows, page: str) -> None:
    evening = FakeEvening()
    evening.night.list = ranked(QUEUE)
    window, panel = opened(make_window, evening, *page)
    press(window, "u")
    assert window.sheets.up is not None
    window.sheets.up.field.setText("20:30-00:30")
    press(window, "Enter")
    assert told(evening, "set_hours") == [("set_hours", "20:30-00:30")]
    press(window, "u")
    assert window.sheets.up.field.text() == "20:30–00:30"
    window.sheets.up.field.setText("")
    press(window, "Enter")
    assert told(evening, "set_hours")[-1] == ("set_hours", "")
    assert panel.isVisible()


def test_the_hours_stand_beside_the_filters(make_window: Windows) -> None:
    evening = FakeEvening()
    evening.night.list = ranked(QUEUE)
    _window, panel = opened(make_window, evening, "m")
    evening.set_hours("20:30-00:30")
    evening.night.changed.emit()
    assert panel.tonight.chips.chips[-1].word == "20:30–00:30"
    assert panel.tonight.chips.chips[-1].marked


def test_what_is_typed_for_the_order(make_window: Windows) -> None:
    evening = FakeEvening()
    window, _panel = opened(make_window, evening, "o")
    for typed in ("12", "west, 30 min", "01:30", "23:00-23:20"):
        press(window, *(["Right"] * (2 if typed == "12" else 1)), "Enter")
        assert window.sheets.up is not None
        window.sheets.up.field.setText(typed)
        press(window, "Enter")
        assert window.sheets.up is None
    minutes, said, end, pause = evening.night.told[-4:]
    assert said == ("say_clouds", "west, 30 min")
    assert minutes == ("set_minutes", 12.0)
    assert end == ("set_end", datetime(2026, 10, 11, 4, 30, tzinfo=UTC))
    first = datetime(2026, 10, 11, 2, 0, tzinfo=UTC)
    assert pause == ("set_break", first, first + timedelta(minutes=20))


@pytest.mark.parametrize(
    ("steps", "typed"), [(2, "0"), (2, "soon"), (4, "late"), (5, "23:00"), (5, "x-y")]
)
def test_what_is_typed_wrong_stays_in_the_field(
    make_window: Windows, steps: int, typed: str
) -> None:
    window, _panel = opened(make_window, FakeEvening(), "o", *["Right"] * steps, "Enter")
    assert window.sheets.up is not None
    window.sheets.up.field.setText(typed)
    press(window, "Enter")
    assert window.sheets.up is not None
    assert window.sheets.up.error.text


def test_progress_and_empty_states_say_what_to_do(make_window: Windows) -> None:
    evening = FakeEvening()
    evening.night.shares = {OrderQuestion: 0.5}
    window, panel = opened(make_window, evening, "o")
    assert "esc" in panel.order.notice.notice.text
    evening.night.shares = {}
    evening.night.changed.emit()
    assert "anew" in panel.order.notice.notice.text
    press(window, "Esc", "m")
    assert (
        "Press" in panel.tonight.notice.notice.text or "press" in panel.tonight.notice.notice.text
    )
    evening.night.view = view([])
    press(window, "Esc")
    evening.night.changed.emit()
    assert "m for tonight's list" in panel.chart.notice.notice.text


@pytest.mark.parametrize("page", ["", "m", "o"])
def test_without_a_place_there_is_no_night(make_window: Windows, page: str) -> None:
    evening = FakeEvening(rows=0)
    evening.latest, evening.needs_site, evening.night.view = None, True, None
    window = make_window(evening)
    press(window, "Esc")
    window.go_to("night")
    panel = window.stage.shown
    assert isinstance(panel, NightPanel)
    panel._turn_to({"": "night", "m": "tonight", "o": "order"}[page])
    pages: dict[str, NightPage | ListPage] = {
        "": panel.chart,
        "m": panel.tonight,
        "o": panel.order,
    }
    shown = pages[page]
    assert "Press 7" in shown.notice.notice.text


@pytest.mark.parametrize("size", [(600, 1000), (800, 500), (1024, 600)])
@pytest.mark.parametrize("page", ["tonight", "rounds", "order"])
def test_the_mouse_leads_back_from_a_page_in_a_small_window(
    make_window: Windows, size: tuple[int, int], page: str
) -> None:
    window = make_window(None, size)
    window.go_to("night")
    window.do(page)
    assert window.context == page
    window.grab()
    hit = {action: box for box, action in window.hints._boxes}["back"]
    QTest.mouseClick(window.hints, Qt.MouseButton.LeftButton, pos=hit.center().toPoint())
    assert window.context == "night"
