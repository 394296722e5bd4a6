"""What keys do to mounts, instruments and the guided set-up."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from window.conftest import Windows
from window.facts import NORTH, snapshot
from window.fakes import FakeEvening, mounted
from window.gear_facts import MOUNT, SCOPE
from window.hands import press, told
from window.mount.test_mount import mount_of

from companion.live import WOODEN
from companion.mount import LEVELLED, CountedFrom, Mount, read_mount
from companion.window import MainWindow
from companion.window.forms.pair_sheet import PairSheet
from companion.window.mount.set_up_sheet import SetUpSheet

# Mounts.


def test_a_mount_is_chosen_by_keys(make_window: Windows) -> None:
    evening = FakeEvening(snapshot(alignment=None))
    window = make_window(evening)
    press(window, "5")
    assert "Press d" in mount_of(window).align.attention.notice.text
    press(window, "d", "Enter")
    assert evening.told == [("choose_mount", WOODEN)]
    assert mount_of(window).describe.fields.lines[0].value == "wooden mount"
    press(window, "Left", "End", "Down", "Down", "Down", "Enter")
    assert evening.told[-1] == ("choose_mount", None)


def _field_at(caption: str) -> int:
    from companion.window.mount.fields import mount_facts

    evening: Any = mounted()
    return [field.caption for field in mount_facts(evening).fields].index(caption)


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
        ("AZIMUTH PLAY", "1", replace(MOUNT, azimuth=replace(MOUNT.azimuth, play_deg=1.0))),
        ("AXIS ABOVE GROUND", "1,1", replace(MOUNT, axis_height_m=1.1)),
        ("AZIMUTH PLAY", "0", replace(MOUNT, azimuth=replace(MOUNT.azimuth, play_deg=0.0))),
        ("ALTITUDE PLAY", ".2", replace(MOUNT, altitude=replace(MOUNT.altitude, play_deg=0.2))),
        ("ALTITUDE PLAY", "", MOUNT),
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
        ("AZIMUTH RANGE", "360", ("is not a range", "is kept")),
        ("AZIMUTH RANGE", "360 to 0", ("above azimuth.low_deg", "No mount was changed")),
        ("AZIMUTH MARKS", "0", ("out of range", "from 0.001 to 45°")),
        ("TUBE UP TO", "-10", ("reach_high_deg",)),
        ("CABLE", "90", ("out of range", "is kept")),
        ("CENTRED WITHIN", "well", ("is not a valid centring",)),
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
        press(window, "5", "d", "P")
        assert window.sheets.up is not None
        window.sheets.up.field.setText(str(file))
        press(window, "Enter")
    assert read_mount(file) == MOUNT
    assert window.sheets.up is not None
    assert "is there already" in window.sheets.up.error.text
    press(window, "Esc", "R")
    assert window.sheets.up is not None
    window.sheets.up.field.setText(f'"{file}"')
    press(window, "Enter")
    assert evening.told == [("choose_mount", MOUNT)]


@pytest.mark.parametrize("typed", ["", "nowhere/at/all.toml", "~nobody-of-that-name/x", "a\0b"])
def test_a_file_that_cannot_be_read_is_said(make_window: Windows, typed: str) -> None:
    evening = mounted()
    window = make_window(evening)
    press(window, "5", "d", "R")
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
    from companion.window.mount.instrument_fields import instrument_facts

    evening: Any = mounted()
    return [field.caption for field in instrument_facts(evening).fields].index(caption)


def test_an_instrument_is_chosen_by_keys(make_window: Windows) -> None:
    evening = FakeEvening()
    press(make_window(evening), "5", "e", "Enter", "Left", "Down", "Down", "Enter")
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
        ("EYEPIECE 1", "25 52 7", "is not an eyepiece"),
        ("ANOTHER EYEPIECE", "9", "There is a 9 mm already"),
        ("FINDER", "wide", "is not a valid field"),
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
    for _step in range(8):
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
    cautions, heads = {}, []
    for _at in range(6):
        step = sheet.step
        assert step is not None
        heads.append(sheet.head.text.removesuffix(f": {step.title}"))
        assert sheet.explanation.text == step.do
        cautions[step.title] = sheet.caution.notice.text
        press(window, "Down")
    assert heads[:2] == ["Step 1 of 3", "Step 2 of 3"]
    assert heads[2:] == [f"Step 3 of 3, way {way} of 4, one is enough" for way in range(1, 5)]
    assert "Never look at the Sun" in cautions["North by the Sun's shadow"]
    assert window.sheets.up is None
    assert evening.told == []


def test_levelling_is_kept_as_a_deed_of_the_night(make_window: Windows) -> None:
    evening = mounted()
    window = make_window(evening)
    sheet = _set_up(window, "Level the base")
    press(window, "Enter")
    ((_write, kept),) = told(evening, "write")
    assert (kept.target_key, kept.weak) == (LEVELLED, True)
    assert evening.told == [("write", kept)]
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
    assert sighting.sigma_deg == pytest.approx(13.0**0.5)  # 2° of the reading, 3° of the model


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
