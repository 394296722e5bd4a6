"""Has the sightings examined whenever they are others, and puts what is found to the choices."""

from dataclasses import replace

from PySide6.QtCore import QObject

from companion.instant import Examination, SightingsQuestion
from companion.live.current_choices import CurrentChoices
from companion.live.messages import Messages, Severity
from companion.live.threads.examiner_thread import ExaminerThread

_ABOUT = "sightings"


class Examinations:
    """Numbers never wait for an examination; one that comes too late is dropped."""

    def __init__(
        self, choices: CurrentChoices, messages: Messages, parent: QObject | None = None
    ) -> None:
        self._choices, self._messages = choices, messages
        self._asked: SightingsQuestion | None = None
        self._thread = ExaminerThread(parent)
        self._thread.failed.connect(self._say)
        choices.changed.connect(self._follow)

    def stop(self) -> None:
        """End the thread; what is not examined yet is left."""
        self._thread.stop()

    def _follow(self) -> None:
        question = self._choices.record.sightings_question
        if question == self._asked:
            return
        self._asked = question
        if question is None:
            self._thread.cancel()
        else:
            self._thread.examine(question, self._take)

    def _take(self, found: Examination) -> None:
        self._messages.clear(_ABOUT)
        if found.question == self._choices.record.sightings_question:
            self._choices.change(replace(self._choices.record, examination=found))

    def _say(self, _kind: object, words: str) -> None:
        self._messages.say(Severity.WARNING, words, _ABOUT)
