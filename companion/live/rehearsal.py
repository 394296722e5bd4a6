"""A rehearsal indoors: a round of questions, what was answered, and what is kept of it."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QObject, Signal

from companion.journal import Lesson, lessons
from companion.live.clock import EveningClock
from companion.live.current_choices import CurrentChoices
from companion.live.road_questions import AskedSky, RehearsalQuestion, RehearsalView
from companion.live.threads.journal_thread import JournalThread

if TYPE_CHECKING:  # it brings numpy
    from companion.road import Question

AIM: Final = "rehearse"  # what an answer is written under
COUNT: Final = 8
ELSEWHERE: Final = -1  # the answer of somebody who pointed at another place

Ask = Callable[[type, object, Callable[..., None]], None]


class Rehearsal(QObject):
    """Asks for a round, takes answers one by one; every answer is practice, never seen.

    Parameters
    ----------
    choices, clock, journal
        Of the evening.
    ask : callable
        Puts a question to the thread of the road.
    """

    changed = Signal()

    def __init__(
        self,
        choices: CurrentChoices,
        clock: EveningClock,
        journal: JournalThread,
        ask: Ask,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._choices, self._clock, self._journal, self._ask = choices, clock, journal, ask
        self.view: RehearsalView | None = None
        self.at = 0
        self.answers: tuple[int, ...] = ()  # the places of those that were taken
        self.failed = ""  # why there is no round

    def begin(self) -> None:
        """Ask for a new round; what was missed before comes first."""
        self.view, self.at, self.answers, self.failed = None, 0, (), ""
        self.changed.emit()
        if not self._choices.needs_site:
            self._journal.read(lessons, self._take_lessons)

    @property
    def questions(self) -> "tuple[Question, ...]":
        """The questions of the round."""
        return () if self.view is None else self.view.rehearsal.questions

    @property
    def sky(self) -> AskedSky | None:
        """What the chart shows of the question that is up."""
        return None if self.view is None or self.question is None else self.view.skies[self.at]

    @property
    def question(self) -> "Question | None":
        """The one that is up; None before the round is there, and once it is over."""
        return self.questions[self.at] if self.at < len(self.questions) else None

    @property
    def answer(self) -> int | None:
        """The answer to the question that is up, once it was given."""
        return self.answers[self.at] if self.at < len(self.answers) else None

    @property
    def right(self) -> int:
        """How many answers were right."""
        taken = zip(self.questions, self.answers, strict=False)
        return sum(answer == question.right for question, answer in taken)

    @property
    def missed(self) -> tuple[str, ...]:
        """The names of what was not known: it comes first outside."""
        taken = zip(self.questions, self.answers, strict=False)
        return tuple(dict.fromkeys(q.name for q, answer in taken if answer != q.right))

    def take(self, place: int) -> None:
        """Take an answer to the question that is up; only the first counts."""
        question = self.question
        if question is None or self.answer is not None:
            return
        self.answers += (place,)
        found = place == question.right
        self._journal.learn(
            self._clock.written_utc, AIM, question.subject, found=found, practice=True
        )
        self.changed.emit()

    def fail(self, words: str) -> None:
        """Take that the round could not be made."""
        self.failed = words
        self.changed.emit()

    def go_on(self) -> None:
        """Go to the next question once this one was answered."""
        if self.answer is not None:
            self.at += 1
            self.changed.emit()

    # What comes back.

    def _take_lessons(self, read: tuple[Lesson, ...] | None) -> None:
        known = read or ()
        seed = sum(one.practice for one in known)  # every round asks something else
        site, utc = self._choices.record.site, self._clock.now_utc
        question = RehearsalQuestion(site, utc, known, COUNT, seed)
        self._ask(RehearsalQuestion, question, self._take)

    def _take(self, view: RehearsalView) -> None:
        self.view = view
        self.changed.emit()
