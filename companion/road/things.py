"""What a host says of each sort of thing: a fact on a human scale, and a question to look by.

Common knowledge; the numbers are round ones. Never a colour that the instrument doesn't show, and
what is small and grey is called so before anybody looks.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from companion.sky import Kind, Target


@dataclass(frozen=True, slots=True)
class Saying:
    """``before`` is said to those who wait, ``fact`` at the eyepiece, ``ask`` while they look."""

    fact: str
    ask: str
    before: str = ""


_SMALL: Final = "Small and grey: give your eye time, and look a little beside it."
_KINDS: Final[Mapping[Kind, Saying]] = {
    Kind.DOUBLE: Saying(
        "Two suns where the eye sees one; most of the stars have such a companion.",
        "Which of the two is the brighter, and on which side of it is the other?",
    ),
    Kind.STAR: Saying(
        "A sun like ours, so far off that its light needs years to reach us.",
        "Is it white, yellow or orange?",
    ),
    Kind.VARIABLE: Saying(
        "A sun that changes its light: people have followed it for generations.",
        "Is it brighter or fainter than the star beside it?",
    ),
    Kind.OPEN_CLUSTER: Saying(
        "Stars of one birth; when it began, no human being lived.",
        "Count for ten seconds: how many do you see?",
    ),
    Kind.CLUSTER_NEBULA: Saying(
        "Stars are being born there now, in a cloud that light needs years to cross.",
        "Which side of the glow has the sharper edge?",
        _SMALL,
    ),
    Kind.GLOBULAR: Saying(
        "Some hundred thousand suns in one ball, twice as old as the Earth.",
        "Does its edge fall into points when you wait?",
        _SMALL,
    ),
    Kind.GALAXY: Saying(
        "Another Milky Way: this light set out before there were people.",
        "Is it round or long, and which way does it lie?",
        _SMALL,
    ),
    Kind.NEBULA: Saying(
        "A cloud of gas that young stars make glow.",
        "How far out can you follow it?",
        _SMALL,
    ),
    Kind.PLANETARY: Saying(
        "The shell of a sun that has ended: ours will make one in five thousand million years.",
        "Is it a point or a little disc?",
        _SMALL,
    ),
    Kind.GROUP: Saying(
        "A figure that people have found their way by for thousands of years.",
        "Which of its stars is the brightest?",
    ),
}
_BODIES: Final[Mapping[str, Saying]] = {
    "moon": Saying(
        "A car on a motorway would need half a year to get there.",
        "Where is the shadow longest: can you see a lit peak beyond the edge of the light?",
    ),
    "venus": Saying(
        "As large as the Earth, and hot enough to melt lead.",
        "Is it round, or does it have a phase like the Moon?",
    ),
    "mars": Saying(
        "Half as wide as the Earth; its day is forty minutes longer than ours.",
        "Is it a point or a disc, and what colour is it to you?",
    ),
    "jupiter": Saying(
        "Eleven Earths side by side fit across it; it turns in ten hours.",
        "How many points stand in a row beside it, and how many on each side?",
    ),
    "saturn": Saying(
        "A person of thirty has not yet seen it go once round the Sun.",
        "Can you see sky between the ring and the ball?",
    ),
    "mercury": Saying(
        "The smallest planet: its year is three of our months.",
        "Is it steady, or does the air make it dance?",
    ),
    "uranus": Saying(
        "Its light has been on the way for more than two and a half hours.",
        "Is it a point like the stars beside it, or a tiny disc?",
        "Small: a pale dot.",
    ),
}
_USUAL: Final = Saying(
    "It has been there longer than anybody can remember.", "What do you see first?"
)


def saying_of(target: Target) -> Saying:
    """Give what is said of a target."""
    if target.body:
        return _BODIES.get(target.body, _USUAL)
    return _KINDS.get(target.kind, _USUAL)
