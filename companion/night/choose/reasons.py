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
    Reason.GALAXY: "another galaxy",
    Reason.SPIRAL: "a galaxy with spiral arms",
    Reason.EDGE: "a galaxy seen edge on",
    Reason.DUO: "two galaxies in one field",
    Reason.WAY: "a bright piece of the Milky Way",
    Reason.DARK: "a dark cloud before the Milky Way",
}


def reason_text(reason: Reason) -> str:
    """Say why something is worth a look; empty where nobody has said."""
    return _WORDS[reason]
