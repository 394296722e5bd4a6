"""The thread that compares sightings, with an ephemeris of its own: it can take seconds."""

from collections.abc import Callable

from PySide6.QtCore import QObject

from companion.instant import Examination, SightingsQuestion
from companion.live.threads.question_thread import QuestionThread

_CRASHED = (
    "The sightings could not be compared. Those that fit together give numbers all the same; set "
    "the last one aside, or sight again."
)


class _Examiner:
    """Loaded in the thread, when the first sighting is there."""

    def __init__(self) -> None:
        from companion.instant import BrightSky
        from companion.sky import Ephemeris

        self._ephemeris = Ephemeris.load()
        self._sky = BrightSky(self._ephemeris)

    def answer(
        self, question: SightingsQuestion, _progress: Callable[[float], bool]
    ) -> Examination:
        from companion.instant import examined

        return examined(question, self._sky)

    def close(self) -> None:
        self._ephemeris.close()


class ExaminerThread(QuestionThread):
    """Sightings in, doubts out; only the last question counts."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__("examiner", _Examiner, _CRASHED, parent)

    def examine(self, question: SightingsQuestion, answer: Callable[[Examination], None]) -> None:
        """Ask; an earlier question that is not answered yet is dropped."""
        self.put(SightingsQuestion, question, answer)
