"""The planner's thread over a fake that answers when it is told to."""

from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from threading import Event

import pytest
from pytestqt.qtbot import QtBot

from companion.advice import AdviceError
from companion.live import Around, ImportQuestion, ImportView, NightQuestion, PlannerThread
from companion.live.night_questions import Answer, Question
from companion.night import Cancelled, ImportedList
from companion.sky import LOON_BARRENS

AROUND = Around(LOON_BARRENS, datetime(2026, 10, 10, 23, 14, tzinfo=UTC), None, 10.0)


class Slow:
    """Works in steps until it is let go, or nobody wants it any more."""

    def __init__(self) -> None:
        self.begun, self.go = Event(), Event()
        self.asked: list[Question] = []
        self.cancelled = 0
        self.closed = False

    def answer(self, question: Question, progress: Callable[[float], bool]) -> Answer:
        self.asked.append(question)
        self.begun.set()
        assert isinstance(question, ImportQuestion)
        if question.path.name == "wrong":
            raise AdviceError("It is wrong.", "Type another one.", "Nothing was lost.")
        if question.path.name == "bug":
            raise ZeroDivisionError
        while not self.go.wait(0.002):
            if not progress(0.5):
                self.cancelled += 1
                raise Cancelled
        return ImportView(question, ImportedList((), (), 3))

    def close(self) -> None:
        self.closed = True


@pytest.fixture
def slow() -> Slow:
    return Slow()


@pytest.fixture
def planner(slow: Slow, qtbot: QtBot) -> Iterator[PlannerThread]:
    made = PlannerThread(lambda: slow)
    yield made
    made.stop()


def ask(name: str) -> ImportQuestion:
    return ImportQuestion(Path(name))


def test_nothing_is_loaded_before_something_is_asked(qtbot: QtBot) -> None:
    def load() -> Slow:
        raise AssertionError

    planner = PlannerThread(load)
    assert planner.share(ImportQuestion) is None
    assert not planner.cancel()
    planner.stop()


def test_an_answer_comes_back_with_its_question(
    planner: PlannerThread, slow: Slow, qtbot: QtBot
) -> None:
    answers: list[Answer] = []
    planner.answered.connect(answers.append)
    slow.go.set()
    planner.ask(ask("a"))
    qtbot.waitUntil(lambda: bool(answers))
    assert answers == [ImportView(ask("a"), ImportedList((), (), 3))]
    assert planner.share(ImportQuestion) is None


def test_progress_is_told_and_esc_stops_it(
    planner: PlannerThread, slow: Slow, qtbot: QtBot
) -> None:
    answers: list[Answer] = []
    planner.answered.connect(answers.append)
    planner.ask(ask("a"))
    qtbot.waitUntil(lambda: planner.share(ImportQuestion) == 0.5)
    assert planner.cancel()
    assert planner.share(ImportQuestion) is None
    qtbot.waitUntil(lambda: slow.cancelled == 1)
    slow.go.set()
    qtbot.wait(30)
    assert answers == []


def test_a_later_question_of_its_kind_drops_the_earlier_one(
    planner: PlannerThread, slow: Slow, qtbot: QtBot
) -> None:
    answers: list[Answer] = []
    planner.answered.connect(answers.append)
    planner.ask(ask("a"))
    assert slow.begun.wait(5)
    planner.ask(ask("b"))
    planner.ask(ask("c"))
    qtbot.waitUntil(lambda: slow.cancelled == 1)
    slow.go.set()
    qtbot.waitUntil(lambda: bool(answers))
    qtbot.wait(20)
    assert [answer.question for answer in answers if isinstance(answer, ImportView)] == [ask("c")]
    assert ask("b") not in slow.asked


def test_an_answer_that_comes_too_late_is_dropped(
    planner: PlannerThread, slow: Slow, qtbot: QtBot
) -> None:
    answers: list[Answer] = []
    planner.answered.connect(answers.append)
    slow.go.set()
    planner.ask(ask("a"))
    assert slow.begun.wait(5)
    planner.cancel(ImportQuestion)  # answered already, perhaps, but not yet delivered
    qtbot.wait(30)
    assert answers == []
    assert not planner.cancel(NightQuestion)


def test_faults_are_said_and_the_thread_lives_on(
    planner: PlannerThread, slow: Slow, qtbot: QtBot, caplog: pytest.LogCaptureFixture
) -> None:
    failed: list[str] = []
    answers: list[Answer] = []
    planner.failed.connect(lambda _kind, words: failed.append(words))
    planner.answered.connect(answers.append)
    slow.go.set()
    planner.ask(ask("wrong"))
    qtbot.waitUntil(lambda: len(failed) == 1)
    assert failed == ["It is wrong. Nothing was lost. Type another one."]
    planner.ask(ask("bug"))
    qtbot.waitUntil(lambda: len(failed) == 2)
    assert "Ask again" in failed[1]
    assert "ZeroDivisionError" in caplog.text
    planner.ask(ask("a"))
    qtbot.waitUntil(lambda: len(answers) == 1)


def test_what_is_held_is_closed_in_its_thread(slow: Slow, qtbot: QtBot) -> None:
    planner = PlannerThread(lambda: slow)
    planner.ask(ask("a"))
    assert slow.begun.wait(5)
    planner.stop()  # in the middle of the work
    assert slow.closed
