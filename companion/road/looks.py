"""How well-known groups look and what they are, in a sentence each (common knowledge)."""

from collections.abc import Mapping
from typing import Final

LOOKS: Final[Mapping[str, tuple[str, str]]] = {
    "dipper": (
        "Seven stars alike in brightness: a bowl of four and a bent handle of three.",
        "It is the back and the tail of the Great Bear; five of the seven travel together.",
    ),
    "orion": (
        "Two bright shoulders, two bright feet, and a belt of three stars in a row between them.",
        "It is the Hunter; the belt's stars are hot and more than a thousand light-years away.",
    ),
    "southern-cross": (
        "Four bright stars as a small kite, two Pointers beside them.",
        "It is the smallest of the 88 constellations; its long arm shows where south is.",
    ),
    "cassiopeia-w": (
        "Five stars as a W or an M.",
        "It is Cassiopeia, on the other side of the pole from the Big Dipper.",
    ),
    "southern-pointers": (
        "Two bright stars side by side, one yellowish, one bluish.",
        "The yellowish one is the nearest bright star beyond the Sun, four light-years away.",
    ),
    "summer-triangle": (
        "Three bright stars far apart, the brightest at one end of the short side.",
        "They belong to three constellations: the Lyre, the Swan and the Eagle.",
    ),
    "fish-hook": (
        "A red star, and from it a long row of stars that curls up like a hook.",
        "It is the Scorpion; the red one is its heart.",
    ),
    "great-square": (
        "Four stars as a large square with hardly a star inside.",
        "It is the body of the winged horse; one corner belongs to Andromeda.",
    ),
    "winter-triangle": (
        "Three bright stars, one of them the brightest of the night.",
        "They belong to Orion and to his two dogs.",
    ),
    "spring-triangle": (
        "Three bright stars far apart, the brightest of them orange.",
        "They belong to the Herdsman, the Maiden and the Lion.",
    ),
    "teapot": (
        "Eight stars as a pot with lid, handle and spout.",
        "It is the middle of the Archer; behind its spout lies the middle of the Milky Way.",
    ),
    "sickle": (
        "Six stars as a question mark the wrong way round, the brightest at its lower end.",
        "It is the head of the Lion.",
    ),
    "great-dog": (
        "The brightest star of the night, and a figure of five more below or above it.",
        "It is Orion's larger dog.",
    ),
    "corvus-sail": (
        "Four stars alike, as a small crooked sail.",
        "It is the Crow.",
    ),
}
USUAL: Final = (
    "A figure of stars that belong together to the eye.",
    "People find their way by it.",
)
