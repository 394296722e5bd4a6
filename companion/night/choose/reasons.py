"""Why a target is worth a look: stable codes, and the words that a person reads."""

from collections.abc import Mapping
from enum import StrEnum
from typing import Final


class Reason(StrEnum):
    """What there is to see in a target; ``NONE`` where nobody has said."""

    NONE = ""
    RINGS = "rings"
    MOONSCAPE = "moonscape"
    BANDS = "bands"
    PHASE = "phase"
    RED_WORLD = "red_world"
    FAR_WORLD = "far_world"
    FIGURE = "figure"
    CHAIN = "chain"
    BRIGHT = "bright"
    COLOURS = "colours"
    PAIR = "pair"
    MULTIPLE = "multiple"
    RED = "red"
    CHANGES = "changes"
    SWARM = "swarm"
    JEWELS = "jewels"
    BALL = "ball"
    GLOW = "glow"
    RING = "ring"
    PLANETARY = "planetary"
    REMNANT = "remnant"
    GALAXY = "galaxy"
    SPIRAL = "spiral"
    EDGE = "edge"
    DUO = "duo"
    WAY = "way"
    DARK = "dark"


_WORDS: Final[Mapping[Reason, str]] = {
    Reason.NONE: "",
    Reason.RINGS: "a world with rings",
    Reason.MOONSCAPE: "craters and mountains",
    Reason.BANDS: "cloud bands, and moons that move",
    Reason.PHASE: "a phase like the Moon's",
    Reason.RED_WORLD: "the red world",
    Reason.FAR_WORLD: "a world far out",
    Reason.FIGURE: "a figure of stars",
    Reason.CHAIN: "a chain of stars",
    Reason.BRIGHT: "one of the brightest stars",
    Reason.COLOURS: "two stars of different colours",
    Reason.PAIR: "a pair of stars",
    Reason.MULTIPLE: "several stars in one",
    Reason.RED: "a red star",
    Reason.CHANGES: "a star that changes",
    Reason.SWARM: "a swarm of stars",
    Reason.JEWELS: "stars like jewels",
    Reason.BALL: "a ball of stars",
    Reason.GLOW: "a glowing cloud",
    Reason.RING: "a ring of smoke",
    Reason.PLANETARY: "the shell of a dying star",
    Reason.REMNANT: "what an exploded star left",
    Reason.GALAXY: "the light of billions of stars",
    Reason.SPIRAL: "a galaxy with spiral arms",
    Reason.EDGE: "a galaxy seen edge on",
    Reason.DUO: "two galaxies in one field",
    Reason.WAY: "a bright piece of the Milky Way",
    Reason.DARK: "a dark cloud before the Milky Way",
}


# What the bare eye sees of those whose reason takes glass: nobody is promised more.
_BY_EYE: Final[Mapping[Reason, str]] = {
    Reason.RINGS: "a world, steady where stars twinkle",
    Reason.MOONSCAPE: "seas and bright lands, and which side is lit",
    Reason.BANDS: "the steadiest bright light of the night",
    Reason.PHASE: "a bright light of the twilight",
    Reason.FAR_WORLD: "a faint world, known by its way from night to night",
    Reason.COLOURS: "a bright star",
    Reason.MULTIPLE: "a star that glass takes apart",
    Reason.JEWELS: "a misty patch",
    Reason.BALL: "a star that is not quite sharp",
    Reason.RING: "a star that is not quite sharp",
    Reason.PLANETARY: "a star that is not quite sharp",
    Reason.SPIRAL: "a patch of mist: the light of a galaxy",
    Reason.EDGE: "a patch of mist: the light of a galaxy",
    Reason.DUO: "a patch of mist: the light of a galaxy",
}


def reason_text(reason: Reason, *, by_eye: bool = False) -> str:
    """Say why something is worth a look; empty where nobody has said.

    By eye it is said without what only glass shows.
    """
    return _BY_EYE.get(reason, _WORDS[reason]) if by_eye else _WORDS[reason]
