"""What the thread for what comes owns: its own ephemeris and the elements that are kept.

Imported only in that thread: it brings numpy and the ephemeris.
"""

from collections.abc import Callable
from pathlib import Path

from companion.events import (
    ComingRequest,
    Family,
    KeptElements,
    aurora_look,
    days_of,
    what_comes,
)
from companion.live.coming_questions import ComingQuestion, ComingView
from companion.night import Conditions, find_instrument
from companion.sky import Ephemeris, load_catalogue

_USUAL = "10×50"


class ComingWorks:
    """Answers what comes.

    Parameters
    ----------
    home : Path
        Where elements are kept.
    """

    def __init__(self, home: Path) -> None:
        self._ephemeris = Ephemeris.load()
        self._kept = KeptElements(home)

    def close(self) -> None:
        """Close the ephemeris."""
        self._ephemeris.close()

    def answer(self, question: ComingQuestion, progress: Callable[[float], bool]) -> ComingView:
        """Answer one question.

        Raises
        ------
        AdviceError
            If it has no answer, in words for the person.
        Cancelled
            If ``progress`` gives False.
        """
        request = ComingRequest(
            question.site,
            question.first,
            question.last,
            question.instrument or find_instrument(_USUAL),
            Conditions.at(question.site),
            satellites=tuple(self._kept.all(Family.SATELLITE)),
        )
        return ComingView(
            question,
            what_comes(self._ephemeris, load_catalogue(), request, progress),
            days_of(self._ephemeris, request),
            aurora_look(question.site, question.first, question.kp),
        )
