"""What keys do to mounts and instruments."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from window.conftest import Windows
from window.facts import snapshot
from window.fakes import FakeEvening, mounted
from window.gear_facts import MOUNT, SCOPE
from window.hands import press
from window.mount.test_mount import mount_of

from companion.live import WOODEN
from companion.mount import CountedFrom, Mount, read_mount

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
