"""What keys do in the guided set-up: each step, its caution, and the sighting that it writes."""

from dataclasses import replace

import pytest
from window.conftest import Windows
from window.facts import NORTH, snapshot
from window.fakes import FakeEvening, mounted
from window.hands import press, told

from companion.mount import LEVELLED
from companion.window import MainWindow
from companion.window.forms.pair_sheet import PairSheet
from companion.window.mount.set_up_sheet import SetUpSheet


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
