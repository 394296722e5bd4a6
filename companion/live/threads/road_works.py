"""What the thread for the road owns: its own ephemeris.

Imported only in that thread: it brings numpy and the ephemeris.
"""

from collections.abc import Callable, Iterable
from functools import cached_property

from companion.charts import SkyFrameMaker
from companion.instant import Choices
from companion.journal import Lesson
from companion.live.road_questions import RehearsalQuestion, RehearsalView, RoadQuestion, RoadView
from companion.live.threads.asked_sky import asked_sky
from companion.night import Conditions
from companion.road import (
    Learned,
    RoadRequest,
    Tool,
    missed_in_practice,
    rehearse,
    road,
    tool_of,
)
from companion.sky import Ephemeris, load_catalogue


class RoadWorks:
    """Answers which steps come next, and asks about the evening's sky."""

    def __init__(self) -> None:
        self._ephemeris = Ephemeris.load()

    @cached_property
    def _charts(self) -> SkyFrameMaker:
        return SkyFrameMaker(self._ephemeris, load_catalogue())

    def close(self) -> None:
        """Close the ephemeris."""
        self._ephemeris.close()

    def answer(
        self, question: RoadQuestion | RehearsalQuestion, _progress: Callable[[float], bool]
    ) -> RoadView | RehearsalView:
        """Answer one question.

        Raises
        ------
        AdviceError
            If it has no answer, in words for the person.
        """
        if isinstance(question, RehearsalQuestion):
            return self._rehearsal(question)
        instrument = question.instrument
        request = RoadRequest(
            question.site,
            question.utc,
            Conditions.at(question.site),
            Tool.EYE if instrument is None else tool_of(instrument),
            _learned(question.lessons),
            question.overcast,
        )
        return RoadView(question, road(self._ephemeris, load_catalogue(), request))

    def _rehearsal(self, question: RehearsalQuestion) -> RehearsalView:
        made = rehearse(
            self._ephemeris,
            load_catalogue(),
            question.site,
            question.utc,
            Conditions.at(question.site),
            count=question.count,
            seed=question.seed,
            first=missed_in_practice(_learned(question.lessons)),
        )
        sky = self._charts.frame(Choices(0, question.site), made.utc)
        skies = tuple(asked_sky(sky, one) for one in made.questions)
        return RehearsalView(question, made, skies)


def _learned(lessons: Iterable[Lesson]) -> tuple[Learned, ...]:
    return tuple(Learned(one.aim, one.subject, one.utc, one.found, one.practice) for one in lessons)
