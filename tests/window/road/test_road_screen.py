"""The screen of the road: what it says, and stories by keys on the real window and journal."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot
from window.conftest import Windows
from window.fakes import FakeEvening
from window.hands import press
from window.purity import lit, stained
from window.road_fakes import STEPS
from window.test_stories import Person

from companion.instant import DEMO_UTC
from companion.journal import FILE_NAME, Journal, Lesson, lessons
from companion.road import Rehearsal
from companion.sky import HAND, USUAL_FIST_DEG, compass_point
from companion.window import MainWindow, RedApplication
from companion.window.place.panel import PlacePanel
from companion.window.road.panel import RoadPanel
from companion.window.road.rehearsal_page import RehearsalPage
from companion.window.road.words import facts


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


@pytest.mark.parametrize("size", [(1366, 768), (1920, 1080)])
def test_where_to_look_is_said_by_the_sentences_eight_points_and_never_cut(
    make_window: Windows, size: tuple[int, int]
) -> None:
    window = make_window(FakeEvening(), size)
    press(window, "F7")
    look_to = panel_of(window).facts[0]
    _caption, letters = look_to._metrics()
    for azimuth_deg in np.arange(0.0, 360.0, 7.5).tolist():
        step = replace(STEPS[0], look_azimuth_deg=azimuth_deg)
        fact = facts(step, DEMO_UTC, UTC)[0]
        assert fact.value == compass_point(azimuth_deg, 8)
        assert letters.horizontalAdvance(fact.value) <= look_to.width()


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


def test_under_clouds_only_what_needs_no_sky_is_left(person: Person) -> None:
    press(person.window, "F10")
    person.wait(lambda: "Clouds" in panel_of(person.window).head.text)
    view = person.evening.road.view
    assert view is not None
    assert {step.key for step in view.road.doable} <= {"hand", "directions", "sunset", "set-up"}
    press(person.window, "F10")
    person.wait(lambda: "Clouds" not in panel_of(person.window).head.text)


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


# The rehearsal.


def page_of(person: Person) -> RehearsalPage:
    page = panel_of(person.window).rehearsal
    assert page is not None
    return page


def rehearse(person: Person) -> RehearsalPage:
    press(person.window, "I")
    person.wait(lambda: person.evening.road.rehearsal.question is not None)
    return page_of(person)


def _asks(page: RehearsalPage) -> bool:
    return not page.chart.shown.names


def practised(person: Person, count: int) -> tuple[Lesson, ...]:
    """Wait until so many answers are on disk; give them."""
    person.wait(lambda: len(person.evening.road._lessons or ()) == count)
    return person.evening.road._lessons or ()


def test_a_round_is_asked_answered_and_kept_as_practice(person: Person) -> None:
    page, rehearsal = rehearse(person), person.evening.road.rehearsal
    question = rehearsal.question
    assert question is not None
    assert _asks(page)
    assert [row.cap for row in page.list.rows] == ["f2", "f3", "f4", "f5"]
    right = question.right
    press(person.window, *["Down"] * right, "Enter")
    assert page.why.text.startswith("Right. ")
    assert not _asks(page)
    assert page.chart.sky is not None
    assert page.chart.sky.target is not None
    assert page.chart.sky.target.name == question.name
    press(person.window, "Enter")
    second = rehearsal.question
    assert second is not None
    assert second is not question
    press(person.window, f"F{2 + (second.right + 1) % 4}")
    assert page.why.text.startswith("No. ")
    first, other = practised(person, 2)
    assert (first.aim, first.subject, first.found, first.practice) == (
        "rehearse", question.subject, True, True,
    )  # fmt: skip
    assert (other.subject, other.found, other.practice) == (second.subject, False, True)
    picture = person.window.grab()
    assert not stained(picture)
    press(person.window, "Esc")
    assert panel_of(person.window).context == "road"


def test_a_round_ends_with_what_comes_first_and_the_next_asks_that_first(person: Person) -> None:
    page, rehearsal = rehearse(person), person.evening.road.rehearsal
    missed = rehearsal.question
    assert missed is not None
    for _ in rehearsal.questions:
        question = rehearsal.question
        assert question is not None
        wrong = question.subject == missed.subject
        press(person.window, f"F{2 + (question.right + wrong) % 4}", "Enter")
    assert page.text.text.endswith(f"of {len(rehearsal.questions)} right")
    assert page.why.text.startswith(f"Outside, {missed.name} will come first.")
    practised(person, len(rehearsal.questions))
    press(person.window, "Enter")
    person.wait(lambda: rehearsal.question is not None)
    again = rehearsal.question
    assert again is not None
    assert again.subject == missed.subject


def test_pointing_on_the_chart_answers(person: Person) -> None:
    page, rehearsal = rehearse(person), person.evening.road.rehearsal
    while rehearsal.sky is not None and not rehearsal.sky.by_pointing:
        press(person.window, "Enter", "Enter")
    sky = rehearsal.sky
    assert sky is not None
    person.wait(lambda: bool(page.chart.view.holds(page.chart.view.places(sky.place))))
    x, y = page.chart.view.places(sky.place).tolist()
    QTest.mouseClick(page.chart, Qt.MouseButton.LeftButton, pos=QPoint(round(x), round(y)))
    assert page.why.text.startswith("Right. ")


def test_pointing_elsewhere_is_wrong_and_a_click_never_aims(person: Person) -> None:
    page, rehearsal = rehearse(person), person.evening.road.rehearsal
    aimed = person.aim
    while rehearsal.sky is not None and not rehearsal.sky.by_pointing:
        QTest.mouseClick(page.chart, Qt.MouseButton.LeftButton, pos=QPoint(60, 60))
        assert rehearsal.answer is None  # this question is not answered by pointing
        press(person.window, "Enter", "Enter")
    sky = rehearsal.sky
    assert sky is not None
    far = page.chart.view.direction(np.array([5.0, 5.0]))
    assert far @ sky.place < 0.99
    QTest.mouseClick(page.chart, Qt.MouseButton.LeftButton, pos=QPoint(5, 5))
    assert page.why.text.startswith("No. ")
    assert person.aim == aimed


def test_where_no_night_comes_it_says_so(person: Person) -> None:
    rehearsal = person.evening.road.rehearsal
    press(person.window, "I")
    person.wait(lambda: rehearsal.view is not None)
    page = page_of(person)
    assert rehearsal.view is not None
    empty = replace(rehearsal.view, rehearsal=Rehearsal(DEMO_UTC, ()), skies=())
    rehearsal._take(empty)
    assert page.attention.notice.head == "This sky gives no question."
    rehearsal.fail("The ephemeris ends.")
    assert page.attention.notice.text == "The ephemeris ends."
    press(person.window, "Enter")
    person.wait(lambda: rehearsal.question is not None)


# The hand.


def _type_fist(person: Person, text: str) -> None:
    press(person.window, "7")
    place = person.window.stage.shown
    assert isinstance(place, PlacePanel)
    at = [one.caption for one in place.page._facts.fields].index("YOUR FIST")
    press(person.window, *["Down"] * at, "Enter")
    press(person.window, *text)
    press(person.window, "Enter")


def test_a_measured_fist_is_kept_and_all_lengths_follow(person: Person) -> None:
    _type_fist(person, "3 from Dubhe to Alkaid")
    person.wait(lambda: HAND.fist_deg != USUAL_FIST_DEG)
    assert HAND.fist_deg == pytest.approx(25.7 / 3.0, abs=0.1)  # 25.7° apart, as handbooks say
    said = [message.text for message in person.evening.messages.current]
    assert any("Your fist covers 8.6°" in text for text in said)
    press(person.window, "F7")
    person.wait(lambda: panel_of(person.window).step is not None)
    person.leave()
    journal = Journal(person.home / FILE_NAME)
    assert journal.settings().fist_deg == pytest.approx(8.57, abs=0.05)
    journal.close()


@pytest.mark.parametrize("text", ["3", "wide", "2 from Dubhe to nowhere at all", "9 Vega to Deneb"])
def test_a_hand_that_nobody_has_is_refused_and_the_usual_one_stays(
    person: Person, text: str
) -> None:
    _type_fist(person, text)
    person.wait(lambda: True)
    assert HAND.fist_deg == USUAL_FIST_DEG
