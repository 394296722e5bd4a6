"""What the screen of the aim shows, and its queue."""

from datetime import timedelta

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from window.conftest import Windows
from window.facts import QUEUE, READING, UTC_NOW, VEGA, aim, snapshot
from window.fakes import FakeEvening
from window.gear_facts import SCOPE
from window.hands import aim_of, press, told
from window.night_fakes import ranked

from companion.instant import Light
from companion.live import Around, OfferQuestion, OfferView, SortBy


def test_the_order_goes_round(make_window: Windows) -> None:
    evening = FakeEvening()
    press(make_window(evening), "O", "O", "O", "O")
    assert [by for _sort, by in evening.told] == [*SortBy, SortBy.TIME_LEFT]


# What the aim shows.


def test_never_another_targets_numbers(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    face = aim_of(window).face
    assert face.figures[0].text == "41.3"
    evening.queue.choose(VEGA.key)
    assert face.name.text == "Vega"
    assert [figure.text for figure in face.figures] == ["", ""]
    evening.tell(snapshot(aim=aim(target=VEGA, altitude_deg=69.5)))
    assert face.figures[0].text == "69.5"


def test_an_empty_evening_says_what_to_do(make_window: Windows) -> None:
    evening = FakeEvening(snapshot(aim=None, rows=()), rows=0)
    window = make_window(evening)
    offers = aim_of(window).offers
    assert offers.isVisible()
    assert "/ searches" in offers.about.text
    around = Around(evening.choices.site, UTC_NOW, None, 10.0)
    rows = tuple((row, SCOPE) for row in ranked(QUEUE[:5]).tonight.rows)
    evening.offers.view = OfferView(OfferQuestion(around), UTC_NOW, rows)
    evening.offers.changed.emit()
    assert [row.cap for row in offers.list.rows] == ["f2", "f3", "f4", "f5", "f6"]
    assert "take_offer" in {hint.action for hint in window.hints.hints}
    press(window, "F4", "Down", "Enter")
    assert told(evening, "add") == [("add", QUEUE[2]), ("add", QUEUE[1])]


@pytest.mark.parametrize(
    ("sun_deg", "said"), [(8.0, "while the Sun is up"), (-20.0, "in this hour")]
)
def test_where_nothing_is_offered_it_says_why(
    make_window: Windows, sun_deg: float, said: str
) -> None:
    sun = Light("Sun", "sun", 180.0, sun_deg, -26.7, 1.0)
    evening = FakeEvening(snapshot(aim=None, rows=(), lights=(sun,)), rows=0)
    around = Around(evening.choices.site, UTC_NOW, None, 10.0)
    evening.offers.view = OfferView(OfferQuestion(around), UTC_NOW, ())
    assert said in aim_of(make_window(evening)).offers.notice.notice.head


def test_the_mounts_own_readings_rule_once_there_is_a_mount(make_window: Windows) -> None:
    face = aim_of(make_window(FakeEvening(snapshot(aim=aim(reading=READING))))).face
    assert [figure.text for figure in face.figures] == ["41.3", "187½"]
    assert face.captions[0].text == "ALTITUDE DIAL"
    assert face.advice.text == "95% within 0.4°: finder first"


def test_below_the_horizon_it_says_when_it_comes_up(make_window: Windows) -> None:
    below = aim(altitude_deg=-12.3, rises_utc=UTC_NOW + timedelta(hours=3), turn=None)
    face = aim_of(make_window(FakeEvening(snapshot(aim=below)))).face
    assert face.attention.isVisible()
    assert "until 23:14" in face.attention.notice.head
    assert not face.ways[0].isVisible()
    assert face.quadrant._tube.shown is None


def test_the_numbers_stand_as_large_as_a_full_screen_lets_them(make_window: Windows) -> None:
    # 110 points of a 14-inch screen of 1920 by 1080 pixels, 157.35 to the inch: 240 pixels.
    full = aim_of(make_window(size=(1920, 1080))).face.figures[0].pixels
    assert full > 0.94 * 240
    third = aim_of(make_window(size=(640, 400))).face.figures[0].pixels
    assert third > 0.45 * full


def test_digits_do_not_move_the_columns(make_window: Windows) -> None:
    evening = FakeEvening()
    face = aim_of(make_window(evening)).face
    before = [figure.geometry() for figure in face.figures]
    for azimuth, altitude in ((0.0, 8.1), (359.5, 88.8), (111.0, 11.1)):
        evening.tell(snapshot(aim=aim(azimuth_deg=azimuth, altitude_deg=altitude)))
        assert [figure.geometry() for figure in face.figures] == before


# The queue.


def test_five_hundred_rows_cost_what_is_seen(make_window: Windows) -> None:
    evening = FakeEvening(rows=500)
    queue = aim_of(make_window(evening)).queue
    seen = len(queue.rows)
    assert 5 < seen < 30
    evening.queue.choose(evening.queue.items[400].target.key)
    assert evening.queue.items[400].target.key in {row.key for row in queue.rows}
    assert len(queue.rows) == seen


def test_a_row_is_hit_by_hand(make_window: Windows) -> None:
    evening = FakeEvening()
    queue = aim_of(make_window(evening)).queue
    third = QPoint(40, queue._head_height() + int(2.5 * queue._row_height()))
    QTest.mouseClick(queue, Qt.MouseButton.LeftButton, pos=third)
    assert evening.told == [("choose", QUEUE[2].key)]


def test_a_snapshot_that_says_the_same_repaints_nothing(make_window: Windows) -> None:
    evening = FakeEvening()
    queue = aim_of(make_window(evening)).queue
    before = queue._drawn
    evening.tell(snapshot())
    assert queue._drawn is before
