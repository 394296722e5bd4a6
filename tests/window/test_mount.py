"""What keys do to mount, sightings and instruments."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from companion.live import WOODEN, AlignmentFacts, HandlingFacts
from companion.mount import CountedFrom, Mount, read_mount
from companion.sky import AdviceError
from companion.window import MainWindow
from companion.window.field_circles import CircleFacts
from companion.window.look_sheet import LookSheet
from companion.window.mount_panel import MountPanel
from companion.window.pair_sheet import PairSheet
from companion.window.set_up_sheet import SetUpSheet
from window.conftest import Windows
from window.fakes import (
    BUMP_DOUBT,
    FITTED,
    MOUNT,
    NORTH,
    ONE_SIDE_DOUBT,
    QUEUE,
    READING,
    SATURN,
    SCOPE,
    STAR_DOUBT,
    STAYS,
    UTC_NOW,
    FakeEvening,
    aim,
    mounted,
    snapshot,
)
from window.test_behaviour import aim_of, press, told
from window.test_mount_words import POINTED


def mount_of(window: MainWindow) -> MountPanel:
    panel = window.stage.shown
    assert isinstance(panel, MountPanel)
    return panel


def pair_of(window: MainWindow) -> PairSheet:
    sheet = window.sheets.up
    assert isinstance(sheet, PairSheet)
    return sheet


def type_pair(window: MainWindow, azimuth: str, altitude: str) -> None:
    sheet = pair_of(window)
    sheet.field.setText(azimuth)
    sheet.second.setText(altitude)
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
    ("azimuth", "altitude"), [("142½", "41.3"), ("142 1/2", ""), ("", "41°18′")]
)
def test_readings_are_taken_as_a_sighting(
    make_window: Windows, screen: str, azimuth: str, altitude: str
) -> None:
    evening = mounted()
    window = make_window(evening)
    press(window, screen, "s")
    type_pair(window, azimuth, altitude)
    assert evening.told == [("sight", azimuth, altitude)]
    assert window.sheets.up is None


def test_enter_goes_on_and_then_takes(make_window: Windows) -> None:
    evening = mounted()
    window = make_window(evening)
    press(window, "s", "1", "4", "2", "Enter", "4", "1", "Up")
    sheet = pair_of(window)
    assert (sheet.field.text(), sheet.second.text()) == ("142", "41")
    assert window.focusWidget() is sheet.field
    assert evening.told == []
    sheet.focusNextPrevChild(True)
    assert window.focusWidget() is sheet.second
    press(window, "Enter")
    assert evening.told == [("sight", "142", "41")]


@pytest.mark.parametrize(
    ("azimuth", "altitude", "field", "parts"),
    [
        ("x", "41", 0, ('"x" is no azimuth reading', "142½")),
        ("400", "41", 0, ("not on this dial", "0° to 360°")),
        ("142", "1x", 1, ('"1x" is no altitude reading',)),
        ("142", "170", 1, ("altitude reading 170°", "−10° to 100°")),
    ],
)
def test_a_bad_reading_is_refused_where_it_stands(
    make_window: Windows, azimuth: str, altitude: str, field: int, parts: tuple[str, ...]
) -> None:
    evening = mounted()
    window = make_window(evening)
    press(window, "s")
    type_pair(window, azimuth, altitude)
    sheet = pair_of(window)
    assert evening.told == []
    assert window.focusWidget() is sheet.fields()[field]
    for part in parts:
        assert part.replace("−", "-") in sheet.error.text.replace("−", "-")
    assert sheet.field.text() == azimuth


def test_what_the_model_refuses_is_said_too(
    make_window: Windows, monkeypatch: pytest.MonkeyPatch
) -> None:
    evening = mounted()

    def refuse(_azimuth: str, _altitude: str) -> None:
        raise AdviceError("No reading was typed.", "Type one.")

    monkeypatch.setattr(evening, "sight", refuse, raising=False)
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
    evening.choose(QUEUE[1].key)
    hints = {hint.action: hint.word for hint in window.hints.hints}
    assert hints["sight_found"] == "sight Saturn"
    press(window, "S")
    assert pair_of(window).head.text == "Sighting of Saturn"
    type_pair(window, "188", "41.2")
    assert evening.told[-1] == ("sight_found", SATURN.key, UTC_NOW, "188", "41.2")


# The screen.


def test_the_screen_shows_sightings_and_what_is_known(make_window: Windows) -> None:
    window = make_window(mounted())
    press(window, "5")
    page = mount_of(window).align
    assert page.name.text == "wooden mount"
    assert page.about.text.startswith("aligned on 3, within 0.3°")
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
    press(make_window(evening), "5", "a")
    assert evening.told == ([] if call is None else [call])


def test_a_doubt_can_be_left_and_the_next_one_comes(make_window: Windows) -> None:
    evening = mounted(replace(FITTED, doubts=(STAR_DOUBT, BUMP_DOUBT)))
    window = make_window(evening)
    press(window, "5", "k")
    page = mount_of(window).align
    assert page.attention.notice.head == BUMP_DOUBT.wrong
    press(window, "a", "k")
    assert evening.told == [("set_aside", (1, 2))]
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
    press(window, "5", "n")
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
    press(make_window(evening), "5", "n", "a", "k", "Enter", "Down", "Up")
    assert evening.told == []


# Mounts.


def test_a_mount_is_chosen_by_keys(make_window: Windows) -> None:
    evening = FakeEvening(snapshot(alignment=None))
    window = make_window(evening)
    press(window, "5")
    assert "Press d" in mount_of(window).align.attention.notice.text
    press(window, "d", "Enter")
    assert evening.told == [("choose_mount", WOODEN)]
    assert mount_of(window).describe.fields.lines[0].value == "wooden mount"
    press(window, "Right", "End", "Down", "Down", "Down", "Enter")
    assert evening.told[-1] == ("choose_mount", None)


def _field_at(caption: str) -> int:
    from companion.window.mount_fields import mount_gear

    evening: Any = mounted()
    return [field.caption for field in mount_gear(evening).fields].index(caption)


@pytest.mark.parametrize(
    ("caption", "typed", "expected"),
    [
        ("NAME", "  Pine   mount ", replace(MOUNT, name="Pine mount")),
        ("AZIMUTH ZERO", "-12,5", replace(MOUNT, azimuth=replace(MOUNT.azimuth, zero_deg=-12.5))),
        (
            "AZIMUTH RANGE",
            "−180 to 180",
            replace(MOUNT, azimuth=replace(MOUNT.azimuth, low_deg=-180.0, high_deg=180.0)),
        ),
        ("AZIMUTH MARKS", "2", replace(MOUNT, azimuth=replace(MOUNT.azimuth, step_deg=2.0))),
        ("ALTITUDE ZERO", "3", replace(MOUNT, altitude=replace(MOUNT.altitude, zero_deg=3.0))),
        (
            "ALTITUDE RANGE",
            "0° 90°",
            replace(MOUNT, altitude=replace(MOUNT.altitude, low_deg=0.0, high_deg=90.0)),
        ),
        ("ALTITUDE MARKS", ".5", replace(MOUNT, altitude=replace(MOUNT.altitude, step_deg=0.5))),
        ("TUBE DOWN TO", "5", replace(MOUNT, reach_low_deg=5.0)),
        ("TUBE UP TO", "70", replace(MOUNT, reach_high_deg=70.0)),
        ("CABLE", "270", replace(MOUNT, cable_limit_deg=270.0)),
        ("CABLE", "", MOUNT),
        ("CENTRED WITHIN", "0.2", replace(MOUNT, centring_sigma_deg=0.2)),
    ],
)
def test_a_mount_is_described_one_field_at_a_time(
    make_window: Windows, caption: str, typed: str, expected: Mount
) -> None:
    evening = mounted()
    window = make_window(evening)
    press(window, "5", "d", *["Down"] * _field_at(caption), "Enter")
    assert window.sheets.up is not None
    window.sheets.up.field.setText(typed)
    press(window, "Enter")
    assert evening.told == [("choose_mount", expected)]


@pytest.mark.parametrize(
    ("caption", "expected"),
    [
        ("AZIMUTH GROWS", replace(MOUNT, azimuth=replace(MOUNT.azimuth, clockwise=False))),
        ("AZIMUTH IS READ", replace(MOUNT, azimuth=replace(MOUNT.azimuth, digital=True))),
        ("ALTITUDE IS", replace(MOUNT, altitude=replace(MOUNT.altitude, level_on_tube=False))),
        (
            "COUNTED FROM",
            replace(MOUNT, altitude=replace(MOUNT.altitude, counted_from=CountedFrom.ZENITH)),
        ),
        ("ALTITUDE GROWS", replace(MOUNT, altitude=replace(MOUNT.altitude, clockwise=False))),
        ("ALTITUDE IS READ", replace(MOUNT, altitude=replace(MOUNT.altitude, digital=False))),
        ("LEVELLED", replace(MOUNT, levelled_with_care=True)),
    ],
)
def test_what_has_two_states_is_switched_and_back(
    make_window: Windows, caption: str, expected: Mount
) -> None:
    evening = mounted()
    window = make_window(evening)
    press(window, "5", "d", *["Down"] * _field_at(caption), "Enter", "Enter")
    assert evening.told == [("choose_mount", expected), ("choose_mount", MOUNT)]


@pytest.mark.parametrize(
    ("caption", "typed", "parts"),
    [
        ("NAME", " ", ("name",)),
        ("AZIMUTH RANGE", "360", ("is no range", "is kept")),
        ("AZIMUTH RANGE", "360 to 0", ("above azimuth.low_deg", "No mount was changed")),
        ("AZIMUTH MARKS", "0", ("out of range", "from 0.001 to 45°")),
        ("TUBE UP TO", "-10", ("reach_high_deg",)),
        ("CABLE", "90", ("out of range", "is kept")),
        ("CENTRED WITHIN", "well", ("is no centring",)),
    ],
)
def test_a_bad_description_is_refused_in_its_place(
    make_window: Windows, caption: str, typed: str, parts: tuple[str, ...]
) -> None:
    evening = mounted()
    window = make_window(evening)
    press(window, "5", "d", *["Down"] * _field_at(caption), "Enter")
    assert window.sheets.up is not None
    window.sheets.up.field.setText(typed)
    press(window, "Enter")
    assert evening.told == []
    assert window.sheets.up is not None
    for part in parts:
        assert part in window.sheets.up.error.text


def test_a_mount_goes_through_a_file_and_no_file_is_overwritten(
    make_window: Windows, tmp_path: Path
) -> None:
    evening = mounted()
    window = make_window(evening)
    file = tmp_path / "pine.toml"
    for _time in range(2):
        press(window, "5", "d", "x")
        assert window.sheets.up is not None
        window.sheets.up.field.setText(str(file))
        press(window, "Enter")
    assert read_mount(file) == MOUNT
    assert window.sheets.up is not None
    assert "is there already" in window.sheets.up.error.text
    press(window, "Esc", "p")
    assert window.sheets.up is not None
    window.sheets.up.field.setText(f'"{file}"')
    press(window, "Enter")
    assert evening.told == [("choose_mount", MOUNT)]


@pytest.mark.parametrize("typed", ["", "nowhere/at/all.toml", "~nobody-of-that-name/x", "a\0b"])
def test_a_file_that_cannot_be_read_is_said(make_window: Windows, typed: str) -> None:
    evening = mounted()
    window = make_window(evening)
    press(window, "5", "d", "p")
    assert window.sheets.up is not None
    window.sheets.up.field.setText(typed)
    press(window, "Enter")
    assert evening.told == []
    assert "No mount was changed." in window.sheets.up.error.text


def test_esc_goes_back_to_the_sightings_and_so_does_coming_again(make_window: Windows) -> None:
    window = make_window(mounted())
    press(window, "5", "d", "Esc")
    assert window.context == "mount"
    press(window, "e", "1", "5")
    assert window.context == "mount"
    assert mount_of(window).align.isVisible()


# Instruments.


def _instrument_field_at(caption: str) -> int:
    from companion.window.instrument_fields import instrument_gear

    evening: Any = mounted()
    return [field.caption for field in instrument_gear(evening).fields].index(caption)


def test_an_instrument_is_chosen_by_keys(make_window: Windows) -> None:
    evening = FakeEvening()
    press(make_window(evening), "5", "e", "Enter", "Right", "Down", "Down", "Enter")
    assert evening.told == [("choose_instrument", SCOPE), ("choose_instrument", None)]


@pytest.mark.parametrize(
    ("caption", "typed", "part", "value"),
    [
        ("NAME", "Old blue", "name", "Old blue"),
        ("APERTURE", "200 mm", "aperture_mm", 200.0),
        ("FOCAL LENGTH", "1500", "focal_mm", 1500.0),
        ("EYEPIECE 1", "32 mm 50°", "eyepieces.names", ["32 mm", "9 mm"]),
        ("EYEPIECE 2", "", "eyepieces.names", ["25 mm"]),
        ("ANOTHER EYEPIECE", "15", "eyepieces.names", ["25 mm", "15 mm", "9 mm"]),
        ("FINDER", "5,5", "finder.field_deg", 5.5),
        ("FINDER", "", "finder", None),
    ],
)
def test_an_instrument_is_described_one_field_at_a_time(
    make_window: Windows, caption: str, typed: str, part: str, value: object
) -> None:
    evening = mounted()
    window = make_window(evening)
    press(window, "5", "e", *["Down"] * _instrument_field_at(caption), "Enter")
    assert window.sheets.up is not None
    window.sheets.up.field.setText(typed)
    press(window, "Enter")
    ((_name, made),) = evening.told
    if part == "eyepieces.names":
        assert [eyepiece.name for eyepiece in made.eyepieces] == value
    elif part == "finder.field_deg":
        assert made.finder.field_deg == value
    else:
        assert getattr(made, part) == value


@pytest.mark.parametrize(
    ("caption", "typed", "part"),
    [
        ("NAME", " ", "needs a name"),
        ("APERTURE", "0", "out of range"),
        ("EYEPIECE 1", "25 52 7", "is no eyepiece"),
        ("ANOTHER EYEPIECE", "9", "There is a 9 mm already"),
        ("FINDER", "wide", "is no field"),
    ],
)
def test_a_bad_instrument_is_refused_in_its_place(
    make_window: Windows, caption: str, typed: str, part: str
) -> None:
    evening = mounted()
    window = make_window(evening)
    press(window, "5", "e", *["Down"] * _instrument_field_at(caption), "Enter")
    assert window.sheets.up is not None
    window.sheets.up.field.setText(typed)
    press(window, "Enter")
    assert evening.told == []
    assert part in window.sheets.up.error.text


def test_the_view_of_the_finder_goes_round(make_window: Windows) -> None:
    evening = mounted()
    at = _instrument_field_at("FINDER VIEW")
    press(make_window(evening), "5", "e", *["Down"] * at, "Enter", "Enter", "Enter")
    assert len({made.finder.viewing for _name, made in evening.told}) == 3


# The guided set-up.


def _set_up(window: MainWindow, title: str) -> SetUpSheet:
    """Go on to the step of that title."""
    press(window, "5", "g")
    sheet = window.sheets.up
    assert isinstance(sheet, SetUpSheet)
    for _step in range(6):
        if sheet.step is not None and title in sheet.step.title:
            return sheet
        press(window, "Down")
    raise AssertionError(title)


def test_every_step_stands_alone_with_its_caution(make_window: Windows) -> None:
    evening = mounted(north=replace(NORTH, shadow_azimuth_deg=88.0))
    window = make_window(evening)
    press(window, "5", "g")
    sheet = window.sheets.up
    assert isinstance(sheet, SetUpSheet)
    cautions = {}
    for at in range(6):
        step = sheet.step
        assert step is not None
        assert sheet.head.text == f"Step {at + 1} of 6: {step.title}"
        assert sheet.explanation.text == step.do
        cautions[step.title] = sheet.caution.notice.text
        press(window, "Down")
    assert "Never look at the Sun" in cautions["North by the Sun's shadow"]
    assert window.sheets.up is None
    assert evening.told == []


def test_levelling_is_kept_with_the_mount(make_window: Windows) -> None:
    evening = mounted()
    window = make_window(evening)
    sheet = _set_up(window, "Level the base")
    press(window, "Enter")
    assert evening.told == [("choose_mount", replace(MOUNT, levelled_with_care=True))]
    assert sheet.step is not None
    assert sheet.step.title == "Bring the tube level"
    press(window, "Up")
    assert sheet.step.title == "Level the base"


@pytest.mark.parametrize(
    ("title", "typed", "name", "azimuth", "altitude"),
    [
        ("Bring the tube level", "0.4", "level", None, 0.4),
        ("North by compass", "", "compass", 0.0, None),
        ("North by compass", "7½", "compass", 7.5, None),
        ("North by the Sun's shadow", "", "Sun's shadow", 88.0, None),
        ("North by the Sun's shadow", "90", "Sun's shadow", 90.0, None),
    ],
)
def test_a_step_writes_a_weak_sighting(
    make_window: Windows,
    title: str,
    typed: str,
    name: str,
    azimuth: float | None,
    altitude: float | None,
) -> None:
    evening = mounted(north=replace(NORTH, shadow_azimuth_deg=88.0))
    window = make_window(evening)
    sheet = _set_up(window, title)
    sheet.field.setText(typed)
    press(window, "Enter")
    ((_write, sighting),) = told(evening, "write")
    assert (sighting.name, sighting.weak) == (name, True)
    assert (sighting.azimuth_reading_deg, sighting.altitude_reading_deg) == (azimuth, altitude)
    assert (window.sheets.up is None) == (azimuth is not None)  # one way to north is enough


def test_a_poor_compass_is_trusted_less(make_window: Windows) -> None:
    evening = mounted(north=replace(NORTH, declination_sigma_deg=3.0))
    _set_up(window := make_window(evening), "North by compass")
    press(window, "Enter")
    ((_write, sighting),) = told(evening, "write")
    assert sighting.sigma_deg == 3.0


@pytest.mark.parametrize("typed", ["", "level", "120"])
def test_a_step_without_a_reading_is_not_done(make_window: Windows, typed: str) -> None:
    evening = mounted()
    window = make_window(evening)
    sheet = _set_up(window, "Bring the tube level")
    sheet.field.setText(typed)
    press(window, "Enter")
    assert evening.told == []
    assert sheet.error.text


@pytest.mark.parametrize(
    ("title", "key"), [("North by Polaris", "hip:11767"), ("North by Capella", "hip:24608")]
)
def test_a_star_is_aimed_at_and_its_readings_are_asked_for(
    make_window: Windows, title: str, key: str
) -> None:
    evening = mounted()
    window = make_window(evening)
    _set_up(window, title)
    press(window, "Enter")
    ((_add, target),) = told(evening, "add")
    assert target.key == key
    assert isinstance(window.sheets.up, PairSheet)


def test_the_set_up_needs_a_mount(make_window: Windows) -> None:
    window = make_window(FakeEvening(snapshot(alignment=None)))
    press(window, "5", "g")
    assert window.context == "describe"


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
    assert isinstance(sheet, LookSheet)
    type_pair(window, "142½", "41.3")
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
