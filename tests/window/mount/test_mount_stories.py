"""Stories of the mount played by keys on the real window: real threads, real journal."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot
from window.hands import press
from window.test_stories import Person

from companion.instant import AimFacts
from companion.journal import read_settings
from companion.live import WOODEN
from companion.mount import LEVELLED, reading_of
from companion.window import RedApplication
from companion.window.mount.set_up_sheet import SetUpSheet


@pytest.fixture
def person(tmp_path: Path, qapp: RedApplication, qtbot: QtBot) -> Iterator[Person]:
    somebody = Person(tmp_path, qapp)
    qtbot.addWidget(somebody.window)
    somebody.evening.mounts.choose(WOODEN)
    somebody.play("Down")
    somebody.wait(lambda: somebody.aim == "Altair")
    yield somebody
    somebody.evening.close()


def aim_of(person: Person) -> AimFacts:
    latest = person.evening.latest
    assert latest is not None
    assert latest.aim is not None
    return latest.aim


def sheet_of(person: Person) -> SetUpSheet:
    sheet = person.window.sheets.up
    assert isinstance(sheet, SetUpSheet)
    return sheet


def type_reading(person: Person, reading_deg: float) -> None:
    sheet_of(person).field.setText(f"{reading_deg:.2f}")
    press(person.window, "Enter")


def test_the_play_of_both_dials_is_measured_from_both_sides_and_kept(person: Person) -> None:
    mount = person.evening.mounts
    person.play("5 b")
    assert "azimuth dial on Altair" in sheet_of(person).head.text
    azimuth_deg, altitude_deg = aim_of(person).now_deg
    turned = reading_of(WOODEN.azimuth, azimuth_deg)
    type_reading(person, turned + 0.5)
    assert "to its right" in sheet_of(person).explanation.text
    type_reading(person, turned - 0.5)
    person.wait(lambda: mount.in_use is not None and mount.in_use.azimuth.play_deg is not None)
    assert mount.in_use is not None
    # A degree was seen; two readings of a 1° dial are unsure by 0.4°.
    assert mount.in_use.azimuth.play_deg == pytest.approx(1.09, abs=0.03)
    assert "altitude dial on Altair" in sheet_of(person).head.text
    type_reading(person, altitude_deg)
    type_reading(person, altitude_deg + 14.0)
    assert "no dial has so much play" in sheet_of(person).error.text
    assert mount.in_use.altitude.play_deg is None
    assert "from there until" not in sheet_of(person).explanation.text  # from the first side again
    type_reading(person, altitude_deg)
    type_reading(person, altitude_deg)
    person.wait(lambda: mount.in_use is not None and mount.in_use.altitude.play_deg is not None)
    assert person.window.sheets.up is None
    assert any("±" in one.text for one in person.evening.messages.current)
    measured = mount.in_use
    person.leave()
    (kept, *_others) = read_settings(person.home).mounts
    assert kept["azimuth"]["play_deg"] == measured.azimuth.play_deg  # type: ignore[index]  # plain


def test_near_the_top_of_the_sky_only_the_altitude_dial_is_measured(person: Person) -> None:
    person.play("Up")
    person.wait(lambda: person.aim == "Vega")  # 70° high then
    person.play("5 b")
    assert "altitude dial on Vega" in sheet_of(person).head.text


def test_levelling_is_taken_back_with_one_key(person: Person) -> None:
    def counted() -> bool:
        kept = person.evening.choices.sightings
        return any(one.target_key == LEVELLED and not one.set_aside for one in kept)

    def prior_deg() -> float:
        latest = person.evening.latest
        assert latest is not None
        assert latest.alignment is not None
        return latest.alignment.parameters[2].prior_sigma_deg

    person.wait(lambda: person.evening.latest is not None and aim_of(person).reading is not None)
    before = prior_deg()
    person.play("5 g Enter")
    person.wait(counted)
    person.wait(lambda: prior_deg() < before)
    assert person.evening.undo_text == "sighting: base levelled"
    person.play("Up")
    assert "It counts already" in sheet_of(person).yields.text
    person.play("Esc z")
    person.wait(lambda: not counted())
    person.wait(lambda: prior_deg() == before)
    assert person.evening.mounts.in_use == WOODEN  # another night it stands elsewhere
    person.play("Z")
    person.wait(lambda: counted() and prior_deg() < before)
    person.play("Enter")  # in the list: set aside
    person.wait(lambda: not counted())
