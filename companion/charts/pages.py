"""The sky as it is needed for printed pages: one frame for each target."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from companion.charts.frame import SkyFrame
from companion.charts.maker import SkyFrameMaker
from companion.instant import Choices
from companion.sky import Ephemeris, Target, load_catalogue


def page_frames(choices: Choices, targets: Sequence[Target], utc: datetime) -> tuple[SkyFrame, ...]:
    """Give the sky of a moment with the ways to each of several targets.

    Works with an ephemeris of its own, in whichever thread it is called.

    Parameters
    ----------
    choices : Choices
        Site, instrument and mount; its target does not matter.
    targets : sequence of Target
        What the pages are about.
    utc : datetime
        The moment of all pages.

    Raises
    ------
    AdviceError
        If the ephemeris does not cover the moment.
    """
    ephemeris = Ephemeris.load()
    try:
        maker = SkyFrameMaker(ephemeris, load_catalogue())
        asked = replace(choices, pointed_deg=None)
        return tuple(maker.frame(replace(asked, target=one), utc) for one in targets)
    finally:
        ephemeris.close()
