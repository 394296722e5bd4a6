"""What the thread for the road owns: its own ephemeris.

Imported only in that thread: it brings numpy and the ephemeris.
"""

from collections.abc import Callable

from companion.live.road_questions import RoadQuestion, RoadView
from companion.night import Conditions
from companion.road import Learned, RoadRequest, Tool, road, tool_of
from companion.sky import Ephemeris, load_catalogue


class RoadWorks:
    """Answers which steps come next."""

    def __init__(self) -> None:
        self._ephemeris = Ephemeris.load()

    def close(self) -> None:
        """Close the ephemeris."""
        self._ephemeris.close()

    def answer(self, question: RoadQuestion, _progress: Callable[[float], bool]) -> RoadView:
        """Answer one question.

        Raises
        ------
        AdviceError
            If it has no answer, in words for the person.
        """
        instrument = question.instrument
        request = RoadRequest(
            question.site,
            question.utc,
            Conditions.at(question.site),
            Tool.EYE if instrument is None else tool_of(instrument),
            tuple(
                Learned(one.aim, one.subject, one.utc, one.found, one.practice)
                for one in question.lessons
            ),
        )
        return RoadView(question, road(self._ephemeris, load_catalogue(), request))
