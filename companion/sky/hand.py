"""Whose hand the lengths are told by: one for the whole process, as a language would be.

A fist at arm's length covers 10°, a finger 1° (common practice, no source), but hands differ; who
has measured his own is told everything by that. Fingers go with the fist.
"""

from typing import Final

from companion.advice import check_within

USUAL_FIST_DEG: Final = 10.0
NARROWEST_FIST_DEG, WIDEST_FIST_DEG = 5.0, 16.0


class Hand:
    """The width of a fist at arm's length."""

    def __init__(self) -> None:
        self._fist_deg = USUAL_FIST_DEG

    @property
    def fist_deg(self) -> float:
        """What a fist covers, in degrees."""
        return self._fist_deg

    def use(self, fist_deg: float) -> None:
        """Tell lengths by another fist from now on.

        Raises
        ------
        AdviceError
            If no fist is as narrow or as wide.
        """
        check_within(
            "width of a fist",
            fist_deg,
            NARROWEST_FIST_DEG,
            WIDEST_FIST_DEG,
            "°",
            do="Stretch the arm fully; a fist with the thumb beside it covers 8° to 12°.",
        )
        self._fist_deg = fist_deg


HAND: Final = Hand()
