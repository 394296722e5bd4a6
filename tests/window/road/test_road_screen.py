"""The screen of the road: what it says, and stories by keys on the real window and journal."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot
from window.conftest import Windows
from window.fakes import FakeEvening
from window.hands import press
from window.purity import lit, stained
from window.road_fakes import STEPS
from window.test_stories import Person

from companion.instant import DEMO_UTC
from companion.journal import FILE_NAME, Journal, Lesson, lessons
from companion.window import MainWindow, RedApplication
from companion.window.road.panel import RoadPanel


def panel_of(window: MainWindow) -> RoadPanel:
    panel = window.stage.shown
    assert isinstance(panel, RoadPanel)
    return panel


def test_one_step_stands_large_and_those_that_wait_say_until_when(make_window: Windows) -> None:
    window = make_window(FakeEvening())
    press(window, "F7")
    panel = panel_of(window)
    assert panel.title.text == "A first bright star: Vega"
    assert [(f.value, f.more) for one in panel.facts for f in one.facts] == [
        ("west", "261°"),
        ("70°", ""),
    ]
    assert panel.check.text == STEPS[0].check
    assert panel.missing.text == STEPS[0].missing
    waiting = panel.list.rows[2]
    assert waiting.below == "The Moon is below the horizon."
    assert waiting.right.startswith("2026-")
    picture = window.grab()
    assert lit(picture)
    assert not stained(picture)


def test_keys_choose_a_step_and_tell_of_it(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "F7", "Down", " ", "Up", "n")
    marks = [one for one in evening.told if one[0] == "mark"]
    assert marks == [("mark", STEPS[1], True), ("mark", STEPS[0], False)]


def test_nothing_aimed_at_leads_to_the_road(make_window: Windows) -> None:
    window = make_window(FakeEvening(rows=0))
    assert "f7 the road: begin here" in window.stage.shown.offers.about.text  # type: ignore[attr-defined]


@pytest.fixture
def person(tmp_path: Path, qapp: RedApplication, qtbot: QtBot) -> Iterator[Person]:
    somebody = Person(tmp_path, qapp)
    qtbot.addWidget(somebody.window)
    press(somebody.window, "F7")
    somebody.wait(lambda: panel_of(somebody.window).step is not None)
    yield somebody
    somebody.evening.close()


def kept(person: Person) -> tuple[Lesson, ...]:
    person.leave()
    journal = Journal(person.home / FILE_NAME)
    found = lessons(journal)
    journal.close()
    return found


def first(person: Person) -> str:
    step = panel_of(person.window).step
    assert step is not None
    return step.key


def test_a_step_found_is_kept_and_the_next_one_comes(person: Person) -> None:
    before = first(person)
    press(person.window, " ")
    person.wait(lambda: first(person) != before)
    (lesson,) = kept(person)
    assert (lesson.aim, lesson.found, lesson.practice) == (before, True, False)


def test_a_step_taken_back_comes_again(person: Person) -> None:
    before = first(person)
    press(person.window, " ")
    person.wait(lambda: first(person) != before)
    press(person.window, "z")
    view = person.evening.road.view
    person.wait(lambda: person.evening.road.view is not view)
    assert before in {row.key for row in person.evening.road.view.road.steps}  # type: ignore[union-attr]
    assert kept(person) == ()


def test_a_step_not_seen_is_kept_as_that(person: Person) -> None:
    before = first(person)
    press(person.window, "n")
    person.wait(lambda: bool(person.evening.road._lessons))
    (lesson,) = kept(person)
    assert (lesson.aim, lesson.found) == (before, False)


def test_nothing_is_written_while_another_time_is_looked_at(person: Person) -> None:
    person.evening.clock.set_preview(DEMO_UTC)
    press(person.window, " ")
    person.wait(lambda: any("another time" in m.text for m in person.evening.messages.current))
    assert kept(person) == ()


def test_enter_aims_at_what_the_step_is_about(person: Person) -> None:
    panel = panel_of(person.window)
    while panel.step is not None and not panel.step.subject.startswith("hip:"):
        press(person.window, "Down")
    press(person.window, "Enter")
    person.wait(lambda: person.window.stage.shown.word == "aim")
