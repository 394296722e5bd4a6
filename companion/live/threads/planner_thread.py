"""The thread for what takes longer: nights, lists, orders, with progress and a way to cancel."""

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from companion.live.night_questions import Question
from companion.live.threads.question_thread import Answerer, QuestionThread

_CRASHED = "This could not be worked out. Ask again; what was shown before stands."


def _works() -> Answerer:
    """Load everything; called in the thread when first something is asked."""
    from companion.live.threads.night_answers import NightWorks

    return NightWorks()


class PlannerThread(QuestionThread):
    """Answers questions about a night; a question's class is its kind.

    Parameters
    ----------
    load : callable, optional
        Makes what answers; called in the thread when first something is asked.
    """

    answered = Signal(object)  # Answer

    def __init__(
        self, load: Callable[[], Answerer] = _works, *, parent: QObject | None = None
    ) -> None:
        super().__init__("planner", load, _CRASHED, parent)

    def ask(self, question: Question) -> None:
        """Ask; ``answered`` tells."""
        self.put(type(question), question, self.answered.emit)
