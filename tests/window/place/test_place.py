"""True north and the place, as keys change them."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot
from window.conftest import Windows
from window.facts import NORTH, UTC_NOW, snapshot
from window.fakes import FakeEvening
from window.hands import press

from companion.mount import Sighting
from companion.sky import DRY_PAN
from companion.window.aim.panel import AimPanel
from companion.window.forms.prompt_sheet import PromptSheet
from companion.window.kit.attention import Attention
from companion.window.north.panel import NorthPanel
from companion.window.place.panel import PlacePanel


def test_the_deviation_is_measured_towards_what_is_up(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "2", "D")
    sheet = window.sheets.up
    assert isinstance(sheet, PromptSheet)
    assert sheet.choices.text == "↑↓ towards Saturn"
    press(window, "Down")
    assert sheet.choices.text == "↑↓ towards Polaris"
    press(window, "18", "Enter")
    assert evening.told == [("measure_deviation", 0.4, 18.0, -16.2)]


def test_without_a_field_no_deviation_is_asked_for(make_window: Windows) -> None:
    evening = FakeEvening(snapshot(north=replace(NORTH, declination_deg=None)))
    window = make_window(evening)
    press(window, "2", "D")
    north = window.stage.shown
    assert isinstance(north, NorthPanel)
    assert window.sheets.up is None
    assert "can't be measured" in north.attention.notice.head


def _homeless() -> FakeEvening:
    evening = FakeEvening(rows=0)
    evening.latest = None
    evening.needs_site = True
    return evening


def test_a_first_start_asks_where_one_is(make_window: Windows, qtbot: QtBot) -> None:
    evening = _homeless()
    window = make_window(evening)
    place = window.stage.shown
    assert isinstance(place, PlacePanel)
    assert place.page.attention.notice.head == "Where are you?"
    qtbot.waitUntil(lambda: window.sheets.up is not None)
    assert window.sheets.up is not None
    assert window.sheets.up.head.text == "Where are you?"
    press(window, "Down", "Down", "Enter")
    assert evening.told == [("choose_site", DRY_PAN)]
    assert isinstance(window.stage.shown, AimPanel)


def test_a_first_start_by_town(make_window: Windows) -> None:
    evening = _homeless()
    window = make_window(evening)
    press(window, "tru", "Down", "Enter")
    ((_name, site),) = evening.told
    assert (site.name, site.time_zone) == ("Truro", "Europe/London")


def test_typing_opens_the_search_again(make_window: Windows) -> None:
    evening = _homeless()
    window = make_window(evening)
    press(window, "Esc", "d", "e")  # no key of a screen: it is the name of a town
    assert evening.told == []
    assert window.sheets.up is not None
    assert window.sheets.up.field.text() == "de"


def test_before_a_place_is_known_no_key_is_offered_that_is_typed(make_window: Windows) -> None:
    window = make_window(_homeless())
    for screen in window.stage.screens:
        window.go_to(screen.word)
        hints = (*window.hints.hints, *window.hints._screens)
        typed = {hint.cap for hint in hints if len(hint.cap) == 1 and hint.cap.isalnum()}
        assert typed == {"7"}
        assert "shift c" not in {hint.cap for hint in hints}
    window.do("screen:place")
    assert window.sheets.up is not None
    hints = (*window.hints.hints, *window.hints._screens)
    assert not {hint.cap for hint in hints} & set("q0123456789")


def test_seven_asks_where_one_is_with_nothing_typed(make_window: Windows) -> None:
    window = make_window(_homeless())
    window.do("close")
    press(window, "7")
    assert window.sheets.up is not None
    assert window.sheets.up.field.text() == ""


def test_the_mouse_brings_the_question_where_one_is_back(make_window: Windows) -> None:
    window = make_window(_homeless(), (800, 500))
    window.do("close")
    window.go_to("road")
    window.grab()
    hit = {action: box for box, action in window.hints._boxes}["screen:place"]
    QTest.mouseClick(window.hints, Qt.MouseButton.LeftButton, pos=hit.center().toPoint())
    assert window.sheets.up is not None
    assert window.sheets.up.head.text == "Where are you?"


@pytest.mark.parametrize("size", [(600, 1000), (800, 500), (1024, 600)])
def test_no_key_covers_another_once_the_place_is_known(
    make_window: Windows, qtbot: QtBot, size: tuple[int, int]
) -> None:
    window = make_window(_homeless(), size)
    qtbot.waitUntil(lambda: window.sheets.up is not None)
    press(window, "Down", "Down", "Enter")
    qtbot.waitUntil(lambda: window.hints.height() == window.hints.sizeHint().height())
    window.grab()
    boxes = [box for box, _action in window.hints._boxes]
    assert len(boxes) > 10
    for at, box in enumerate(boxes):
        assert not any(box.intersects(other) for other in boxes[at + 1 :])


@pytest.mark.parametrize(("steps", "aside"), [(0, [("set_aside", (7,))]), (1, [])])
def test_a_change_of_site_asks_what_becomes_of_the_alignment(
    make_window: Windows, qtbot: QtBot, steps: int, aside: list[object]
) -> None:
    evening = FakeEvening()
    used = Sighting(UTC_NOW, "Vega", "hip:91262", 261.0, 69.0, 261.0, 69.0, number=7)
    evening.change(replace(evening.choices, sightings=(used,)))
    window = make_window(evening)
    press(window, "7", "Right", "Down", "Enter")
    qtbot.waitUntil(lambda: window.sheets.up is not None)
    assert evening.told == []
    press(window, *["Down"] * steps, "Enter")
    assert evening.told == [*aside, ("choose_site", DRY_PAN)]


def test_after_the_first_start_the_fields_come_first(make_window: Windows) -> None:
    evening = _homeless()
    window = make_window(evening)
    press(window, "Down", "Enter", "7")
    place = window.stage.shown
    assert isinstance(place, PlacePanel)
    assert (place.page.fields.chosen, place.page.choices.chosen) == (0, None)


@pytest.mark.parametrize(
    ("steps", "typed", "field", "value"),
    [
        (0, "My hill", "name", "My hill"),
        (1, "32°24′S", "latitude_deg", pytest.approx(-32.4)),
        (2, "20.8E", "longitude_deg", pytest.approx(20.8)),
        (3, "250", "elevation_m", 250.0),
        (4, "−3,5", "temperature_c", -3.5),
        (4, "", "temperature_c", None),
        (5, "1013.2 hPa", "pressure_hpa", 1013.2),
        (6, "UTC", "time_zone", "UTC"),
    ],
)
def test_fields_are_changed_one_at_a_time(
    make_window: Windows, steps: int, typed: str, field: str, value: object
) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "7", *["Down"] * steps, "Enter")
    assert window.sheets.up is not None
    window.sheets.up.field.setText(typed)
    press(window, "Enter")
    ((_name, site),) = evening.told
    assert getattr(site, field) == value


@pytest.mark.parametrize(
    ("steps", "typed", "part"),
    [
        (0, "  ", "needs a name"),
        (1, "91", "outside -90° to 90°"),
        (1, "-45.2S", "minus sign and the letter"),
        (2, "400", "outside"),
        (3, "20000", "out of range"),
        (4, "warm", "is not a valid temperature"),
        (6, "Mars/Olympus", "is not a time zone"),
    ],
)
def test_bad_fields_say_what_was_kept(
    make_window: Windows, steps: int, typed: str, part: str
) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "7", *["Down"] * steps, "Enter")
    assert window.sheets.up is not None
    window.sheets.up.field.setText(typed)
    press(window, "Enter")
    assert evening.told == []
    assert part in window.sheets.up.error.text
    assert "kept" in window.sheets.up.error.text


def test_remembered_sites_are_gone_to_by_keys(make_window: Windows) -> None:
    evening = FakeEvening()
    press(make_window(evening), "7", "Right", "Down", "Enter")
    assert evening.told == [("choose_site", DRY_PAN)]


@pytest.mark.parametrize(("typed", "correction"), [("-2.5", -2.5), ("20:14:17", 10.0)])
def test_the_clock_is_corrected_by_seconds_or_by_the_right_time(
    make_window: Windows, qtbot: QtBot, typed: str, correction: float
) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "7", *["Down"] * 9, "Enter")
    assert window.sheets.up is not None
    window.sheets.up.field.setText(typed)
    press(window, "Enter")
    assert evening.told == [("set_correction", correction)]


def test_while_no_place_is_known_no_number_is_promised(make_window: Windows) -> None:
    evening = FakeEvening(rows=0)
    evening.needs_site, evening.latest = True, None
    window = make_window(evening)
    for word in ("aim", "north", "sky"):
        window.go_to(word)
        said = [one.accessibleName() for one in window.stage.shown.findChildren(Attention)]
        assert any("No place is known yet." in text for text in said), word
    assert window.status.status.live == "no place is known yet"
