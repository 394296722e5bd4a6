"""What is offered while nothing is aimed at yet: the best of now, by eye and binoculars."""

from datetime import timedelta

from PySide6.QtCore import QObject, Signal

from companion.live.clock import EveningClock
from companion.live.current_choices import CurrentChoices
from companion.live.night_questions import Answer, Around, OfferQuestion, OfferView
from companion.live.threads.planner_thread import PlannerThread

_HOLDS = timedelta(minutes=20)  # for so long what is best now stays so


class Offers(QObject):
    """Asks the planner when somebody looks; ``changed`` tells that ``view`` is new."""

    changed = Signal()

    def __init__(
        self,
        choices: CurrentChoices,
        clock: EveningClock,
        planner: PlannerThread,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._choices, self._clock, self._planner = choices, clock, planner
        self._asked: Around | None = None
        self.view: OfferView | None = None
        planner.answered.connect(self._take)

    def refresh(self) -> None:
        """Have the best of now worked out, unless that was done not long ago for this place."""
        choices, now = self._choices.record, self._clock.now_utc
        if self._choices.needs_site:
            return
        around = Around(choices.site, now, None, choices.low_limit_deg)
        asked = self._asked
        if asked is None or asked.site != around.site or abs(now - asked.utc) > _HOLDS:
            self._asked = around
            self.view = None
            self._planner.ask(OfferQuestion(around))

    def _take(self, answer: Answer) -> None:
        if isinstance(answer, OfferView):
            self.view = answer
            self.changed.emit()
