"""The forty aims of learning: what each needs, and after which others it comes.

The list and its order are common practice of people who take beginners outside, no source.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from companion.finding import Instrument, InstrumentKind


class Tool(StrEnum):
    """What a step is done with, as a stable code."""

    NOTHING = "nothing"
    EYE = "eye"
    BINOCULARS = "binoculars"
    TELESCOPE = "telescope"


_TOOLS: Final = tuple(Tool)
_KINDS: Final = {
    InstrumentKind.EYE: Tool.EYE,
    InstrumentKind.BINOCULARS: Tool.BINOCULARS,
    InstrumentKind.TELESCOPE: Tool.TELESCOPE,
}


def tool_of(instrument: Instrument) -> Tool:
    """Give the tool that an instrument is to a beginner."""
    return _KINDS[instrument.kind]


@dataclass(frozen=True, slots=True)
class Aim:
    """One aim of learning.

    ``sky`` is whether stars must be seen, ``dark`` whether bright sky and moonlight spoil it,
    ``figure`` whether it is a new figure of stars, of which nobody learns two in a night.
    """

    key: str  # a stable code
    title: str
    tool: Tool = Tool.EYE
    after: tuple[str, ...] = ()
    sky: bool = True
    dark: bool = False
    figure: bool = False

    def fits(self, tool: Tool) -> bool:
        """Whether somebody who has this, and everything simpler, can do it."""
        return _TOOLS.index(self.tool) <= _TOOLS.index(tool)


B, T = Tool.BINOCULARS, Tool.TELESCOPE

AIMS: Final[tuple[Aim, ...]] = (
    Aim("own-group", "The group to begin at", figure=True),
    Aim("pole", "The pole of the sky", after=("own-group",)),
    Aim("hand", "Your fist as a ruler"),
    Aim("first-star", "The first bright star", after=("own-group",)),
    Aim("planet-or-star", "Planet or star"),
    Aim("moon", "The Moon tonight"),
    Aim("directions", "Directions where you stand", Tool.NOTHING, sky=False),
    Aim("sunset", "Where the Sun sets", Tool.NOTHING, sky=False),
    Aim("adapt", "Eyes that are used to the dark", dark=True),
    Aim("second-star", "The second bright star", after=("first-star",)),
    Aim("colours", "Colours of stars", after=("first-star",)),
    Aim("rising", "What rises in the east"),
    Aim("magnitudes", "Ranks of brightness"),
    Aim("turning", "What turns and what stays", after=("pole",)),
    Aim("moon-moves", "How far the Moon goes in a night", after=("moon",)),
    Aim("third-star", "The third bright star", after=("second-star",), figure=True),
    Aim("earlier", "Four minutes earlier each night", after=("rising",)),
    Aim("dark-sky", "How dark is it here", after=("own-group",), dark=True),
    Aim("ecliptic", "The planets' path", after=("planet-or-star",)),
    Aim("cluster-eye", "A cluster by eye"),
    Aim("moving-lights", "Satellite, meteor, aircraft"),
    Aim("milky-way", "The Milky Way", dark=True),
    Aim("hold-binoculars", "Binoculars held and focused", B),
    Aim("moon-seas", "The Moon's seas", B, ("moon",)),
    Aim("tripod", "What a tripod changes", B, ("hold-binoculars",)),
    Aim("wide-double", "A wide double star", B, ("hold-binoculars",)),
    Aim("jupiter-moons", "Jupiter's moons", B, ("planet-or-star",)),
    Aim("open-cluster", "An open cluster, counted", B, ("hold-binoculars",), dark=True),
    Aim("averted", "Looking beside it", B, ("adapt",), dark=True),
    Aim("galaxy", "Two steps to a galaxy", B, ("second-star", "averted"), dark=True),
    Aim("three-hops", "Three hops and back", B, ("open-cluster",), dark=True),
    Aim("set-up", "The telescope set down", T, sky=False),
    Aim("low-power", "Low power first", T, ("set-up",)),
    Aim("pushing", "Which way to push", T, ("low-power",)),
    Aim("moon-shadow", "The Moon along its shadow line", T, ("low-power", "moon")),
    Aim("patience", "Patience on a planet", T, ("low-power", "planet-or-star")),
    Aim("split-double", "A double star and power", T, ("low-power",)),
    Aim("globular", "A globular cluster: what to expect", T, ("pushing", "averted"), dark=True),
    Aim("dial-hop", "Something never seen", T, ("pushing", "three-hops"), dark=True),
    Aim("first-list", "Your first twelve", T, ("pushing", "first-star")),
)
BY_KEY: Final = {aim.key: aim for aim in AIMS}
