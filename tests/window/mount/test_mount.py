"""What keys do to mount, sightings and instruments."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from window.conftest import Windows
from window.facts import ADT, QUEUE, READING, SATURN, UTC_NOW, aim, snapshot
from window.fakes import FakeEvening, mounted
from window.gear_facts import BUMP_DOUBT, FITTED, ONE_SIDE_DOUBT, STAR_DOUBT, STAYS
from window.hands import aim_of, press, told
from window.mount.test_mount_words import POINTED

from companion.advice import AdviceError
from companion.instant import AlignmentFacts, HandlingFacts
from companion.window import MainWindow
from companion.window.aim.field_circles import CircleFacts
from companion.window.forms.look_up_sheet import LookUpSheet
from companion.window.forms.pair_sheet import PairSheet
from companion.window.mount.panel import MountPanel


def mount_of(window: MainWindow) -> MountPanel:
    panel = window.stage.shown
    assert isinstance(panel, MountPanel)
    return panel


def pair_of(window: MainWindow) -> PairSheet:
    sheet = window.sheets.up
    assert isinstance(sheet, PairSheet)
    return sheet


def type_pair(window: MainWindow, altitude: str, azimuth: str) -> None:
    sheet = pair_of(window)
    sheet.field.setText(altitude)
    sheet.second.setText(azimuth)
    press(window, "Enter", "Enter")


def _targetless() -> FakeEvening:
    evening = mounted()
    evening.choices = replace(evening.choices, target=None)
    return evening


def _near_the_sun() -> FakeEvening:
    evening = mounted()
    evening.latest = snapshot(aim=aim(sun_danger=True, sun_distance_deg=9.0))
    return evening


# Sightings.


@pytest.mark.parametrize("screen", ["1", "5"])
@pytest.mark.parametrize(
    ("altitude", "azimuth"), [("41.3", "142½"), ("", "142 1/2"), ("41°18′", "")]
)
def test_readings_are_taken_as_a_sighting(
    make_window: Windows, screen: str, altitude: str, azimuth: str
) -> None:
    evening = mounted()
    window = make_window(evening)
    press(window, screen, "s")
    type_pair(window, altitude, azimuth)
    assert evening.told == [("sight", SATURN.key, UTC_NOW, altitude, azimuth)]
    assert window.sheets.up is None


def test_a_sighting_is_of_the_moment_of_its_key_and_the_key_sets_it_anew(
    make_window: Windows,
) -> None:
    evening = mounted()
    window = make_window(evening)
    press(window, "s", "4", "1")
    assert pair_of(window).head.text == "Sighting of Saturn, centred at 20:14:07"
    later = UTC_NOW + timedelta(minutes=11)
    assert evening.latest is not None
    evening.tell(replace(evening.latest, utc=later, local=later.astimezone(ADT)))
    assert pair_of(window).head.text.endswith("20:14:07")
    press(window, "s")
    assert pair_of(window).head.text.endswith("20:25:07")
    assert pair_of(window).field.text() == "41"
    press(window, "Enter", "Enter")
    assert evening.told == [("sight", SATURN.key, later, "41", "")]


def test_enter_goes_on_and_then_takes(make_window: Windows) -> None:
    evening = mounted()
    window = make_window(evening)
    press(window, "s", "4", "1", "Enter", "1", "4", "2", "Up")
    sheet = pair_of(window)
    assert (sheet.field.text(), sheet.second.text()) == ("41", "142")
    assert window.focusWidget() is sheet.field
    assert evening.told == []
    sheet.focusNextPrevChild(True)
    assert window.focusWidget() is sheet.second
    press(window, "Enter")
    assert evening.told == [("sight", SATURN.key, UTC_NOW, "41", "142")]


@pytest.mark.parametrize(
    ("altitude", "azimuth", "field", "parts"),
    [
        ("41", "x", 1, ('"x" is not a valid azimuth reading', "142½")),
        ("41", "400", 1, ("not on this dial", "0° to 360°")),
        ("1x", "142", 0, ('"1x" is not a valid altitude reading',)),
        ("170", "142", 0, ("altitude reading 170°", "−10° to 100°", "that comes second")),
    ],
)
def test_a_bad_reading_is_refused_where_it_stands(
    make_window: Windows, altitude: str, azimuth: str, field: int, parts: tuple[str, ...]
) -> None:
    evening = mounted()
    window = make_window(evening)
    press(window, "s")
    type_pair(window, altitude, azimuth)
    sheet = pair_of(window)
    assert evening.told == []
    assert window.focusWidget() is sheet.fields()[field]
    for part in parts:
        assert part.replace("−", "-") in sheet.error.text.replace("−", "-")
    assert sheet.field.text() == altitude


def test_what_the_model_refuses_is_said_too(
    make_window: Windows, monkeypatch: pytest.MonkeyPatch
) -> None:
    evening = mounted()

    def refuse(*_told: object, **_read: object) -> None:
        raise AdviceError("No reading was typed.", "Type one.")

    monkeypatch.setattr(evening.mounts, "sight", refuse)
    window = make_window(evening)
    press(window, "s")
    type_pair(window, "", "")
    assert "No reading was typed." in pair_of(window).error.text


@pytest.mark.parametrize(
    ("evening", "part"),
    [
        (FakeEvening, "No mount is described yet"),
        (_targetless, "needs a target"),
        (_near_the_sun, "too near the Sun"),
    ],
)
def test_why_no_sighting_can_be_taken(
    make_window: Windows, evening: Callable[[], FakeEvening], part: str
) -> None:
    window = make_window(evening())
    press(window, "s")
    assert window.sheets.up is None
    assert part in window.messages.text


def test_after_a_find_its_readings_are_a_sighting_on_one_key(make_window: Windows) -> None:
    evening = mounted()
    window = make_window(evening)
    press(window, " ")
    evening.queue.choose(QUEUE[1].key)
    hints = {hint.action: hint.word for hint in window.hints.hints}
    assert hints["sight_found"] == "sight Saturn"
    press(window, "S")
    assert pair_of(window).head.text == "Sighting of Saturn"
    type_pair(window, "41.2", "188")
    assert evening.told[-1] == ("sight", SATURN.key, UTC_NOW, "41.2", "188")


def test_exchanged_readings_are_asked_about_once(make_window: Windows) -> None:
    evening = mounted()
    window = make_window(evening)
    assert evening.latest is not None
    facts = evening.latest.aim
    assert facts is not None
    assert facts.reading is not None
    altitude, azimuth = f"{facts.reading.altitude_deg:.0f}", "87"
    low = replace(facts, reading=replace(facts.reading, azimuth_deg=87.0, altitude_deg=41.0))
    evening.tell(replace(evening.latest, aim=low))
    altitude = "41"
    press(window, "s")
    type_pair(window, azimuth, altitude)
    assert "the other way round" in pair_of(window).error.text
    assert evening.told == []
    press(window, "Enter", "Enter")
    assert evening.told == [("sight", SATURN.key, UTC_NOW, azimuth, altitude)]


# The screen.


def test_the_screen_shows_sightings_and_what_is_known(make_window: Windows) -> None:
    window = make_window(mounted())
    press(window, "5")
    page = mount_of(window).align
    assert page.name.text == "wooden mount"
    assert page.about.text.startswith("aligned on 3 stars, 95% of aims within 18′")
    assert [row.name for row in page.list.rows] == [one.name for one in FITTED.sightings]
    assert len(page.bars.rows) == 7
    assert page.plot.facts.radius95_deg == 0.3
    assert [name for name, _w in page.plot.facts.fields] == ["8×50 finder", "25 mm", "9 mm"]


def test_a_row_is_set_aside_and_brought_back(make_window: Windows) -> None:
    evening = mounted()
    press(make_window(evening), "5", "Down", "Enter", "Down", "Down", "Down", "Down", "Enter")
    assert evening.told == [("set_aside", (2,)), ("bring_back", (5,))]


@pytest.mark.parametrize(
    ("doubt", "call"),
    [
        (STAR_DOUBT, ("rename", 3, "hip:102098")),
        (replace(STAR_DOUBT, fits=()), ("set_aside", (3,))),
        (BUMP_DOUBT, ("set_aside", (1, 2))),
        (ONE_SIDE_DOUBT, None),
    ],
)
def test_one_key_accepts_what_explains_a_doubt(
    make_window: Windows, doubt: Any, call: tuple[Any, ...] | None
) -> None:
    evening = mounted(replace(FITTED, doubts=(doubt,)))
    press(make_window(evening), "5", "y")
    assert evening.told == ([] if call is None else [call])


def test_a_doubt_can_be_left_and_the_next_one_comes(make_window: Windows) -> None:
    evening = mounted(replace(FITTED, doubts=(STAR_DOUBT, BUMP_DOUBT)))
    window = make_window(evening)
    press(window, "5", "x")
    page = mount_of(window).align
    assert page.attention.notice.head == BUMP_DOUBT.wrong
    assert evening.told == [("keep", STAR_DOUBT.numbers)]
    press(window, "y", "x")
    assert evening.told[1:] == [("set_aside", (1, 2)), ("keep", BUMP_DOUBT.numbers)]
    assert page.attention.notice.head == ""


def test_a_doubt_is_said_on_the_other_screens_until_it_is_read(make_window: Windows) -> None:
    window = make_window(mounted(replace(FITTED, doubts=(ONE_SIDE_DOUBT, STAR_DOUBT))))
    assert window.messages.text == f"Warning: {STAR_DOUBT.wrong} Press 5."
    press(window, "5")
    assert not window.messages.isVisible()
    press(window, "1", "Esc")
    assert not window.messages.isVisible()


@pytest.mark.parametrize("queued", [True, False])
def test_the_next_best_star_is_aimed_at_on_one_key(make_window: Windows, queued: bool) -> None:
    following = FITTED.next_sighting
    assert following is not None
    key = QUEUE[1].key if queued else following.key
    evening = mounted(replace(FITTED, next_sighting=replace(following, key=key)))
    window = make_window(evening)
    press(window, "5", "N")
    assert window.stage.shown.word == "aim"
    if queued:
        assert evening.told == [("choose", key)]
    else:
        assert told(evening, "ask") == [("ask", "star")]
        ((_add, target),) = told(evening, "add")
        assert target.key == key


@pytest.mark.parametrize(
    "alignment", [None, replace(FITTED, sightings=(), next_sighting=None, doubts=())]
)
def test_keys_on_an_empty_screen_do_nothing(
    make_window: Windows, alignment: AlignmentFacts | None
) -> None:
    evening = mounted()
    evening.latest = snapshot(alignment=alignment)
    press(make_window(evening), "5", "N", "y", "x", "Enter", "Down", "Up")
    assert evening.told == []


# The aim.


def test_the_aim_says_how_sure_it_is_and_draws_it(make_window: Windows) -> None:
    window = make_window(mounted(), (1920, 1080))
    face = aim_of(window).face
    assert face.circles.isVisible()
    fields = tuple((stay.look, stay.field_deg) for stay in STAYS)
    assert face.circles.facts == CircleFacts(0.4, fields)
    assert any(fact.caption == "IN THE 25 MM" for fact in face.facts.facts)


def test_without_an_instrument_there_is_nothing_to_draw(make_window: Windows) -> None:
    evening = FakeEvening(snapshot(aim=aim(reading=READING)))
    face = aim_of(make_window(evening, (1920, 1080))).face
    assert not face.circles.isVisible()


def test_near_the_sun_no_field_is_drawn(make_window: Windows) -> None:
    near = aim(reading=READING, handling=HandlingFacts(STAYS), sun_danger=True)
    face = aim_of(make_window(FakeEvening(snapshot(aim=near)))).face
    assert face.circles.facts == CircleFacts()


# What am I looking at?


@pytest.mark.parametrize("screen", ["1", "5"])
def test_readings_lead_to_the_sky_and_live_on(make_window: Windows, screen: str) -> None:
    evening = mounted()
    window = make_window(evening)
    press(window, screen, "i")
    sheet = window.sheets.up
    assert isinstance(sheet, LookUpSheet)
    type_pair(window, "41.3", "142½")
    assert evening.told == [("look_up", (142.5, 41.3))]
    evening.tell(snapshot(pointed=POINTED))
    assert sheet.facts.facts[0].value == "Cygnus"
    evening.tell(snapshot(pointed=replace(POINTED, constellation="Lyra")))
    assert sheet.facts.facts[0].value == "Lyra"
    press(window, "Esc")
    assert evening.told[-1] == ("look_up", None)
    press(window, "i")
    assert not sheet.facts.facts


def test_one_reading_alone_points_to_no_place(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "i")
    type_pair(window, "142½", "")
    assert "Type both." in pair_of(window).error.text
    assert evening.told == []
