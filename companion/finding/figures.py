"""How people call the parts of a star group, and what length they measure in.

The names of parts are common practice of people who show the sky, no source; a group without an
entry is described by the names of its stars.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from companion.finding.groups import Group


@dataclass(frozen=True, slots=True)
class Figure:
    """Words for a group: what its whole length is called, its stars, pairs and curves by part.

    ``pairs`` may hold pairs that are no drawn line: the eye joins them nevertheless.
    """

    length: str  # "Dipper-length": the distance of the two stars that are farthest apart
    stars: Mapping[int, str] = field(default_factory=dict)
    pairs: Mapping[tuple[int, int], str] = field(default_factory=dict)
    curve: str = ""

    def pair(self, first: int, second: int) -> str:
        """Give what a pair is called, in either order; nothing where it has no name."""
        return self.pairs.get((first, second)) or self.pairs.get((second, first), "")


def figure_of(group: Group) -> Figure:
    """Give the words for a group."""
    return _FIGURES.get(group.key) or Figure(length=f"length of {group.called}")


_FIGURES: Final[Mapping[str, Figure]] = {
    "dipper": Figure(
        "Dipper-length",
        {
            67301: "the handle's end",
            65378: "the handle's bend",
            62956: "the handle's inner star",
            59774: "the bowl's back rim",
            58001: "the bowl's back foot",
            53910: "the bowl's front foot",
            54061: "the bowl's front rim",
        },
        {
            (53910, 54061): "the bowl's front two",
            (59774, 58001): "the bowl's back two",
            (59774, 54061): "the bowl's rim",
            (58001, 53910): "the bowl's bottom",
            (59774, 53910): "the bowl's diagonal from back rim to front foot",
            (58001, 54061): "the bowl's diagonal from back foot to front rim",
        },
        "the handle's curve",
    ),
    "pointers": Figure("gap of the two", {}, {(53910, 54061): "the two pointers"}),
    "little-dipper": Figure(
        "Little-Dipper-length",
        {11767: "the handle's end", 72607: "the bowl's bright corner"},
        {(72607, 75097): "the bowl's front two"},
    ),
    "cassiopeia-w": Figure(
        "W-width",
        {
            746: "the W's end beside the deep bend",
            3179: "the deep bend",
            4427: "the W's middle",
            6686: "the flat bend",
            8886: "the W's faint end",
        },
        {(746, 3179): "the W's steep stroke", (3179, 4427): "the deep bend's inner stroke"},
    ),
    "orion": Figure(
        "Orion-length",
        {27989: "the red shoulder", 25336: "the other shoulder", 24436: "the blue foot",
         27366: "the other foot", 26311: "the belt's middle", 25930: "the belt's north-western end",
         26727: "the belt's south-eastern end"},
        {(25930, 26727): "the belt", (24436, 27989): "the long diagonal from foot to shoulder",
         (27366, 25336): "the other diagonal from foot to shoulder",
         (25336, 27989): "the shoulders", (24436, 27366): "the feet"},
    ),
    "orion-belt": Figure("belt-length", {}, {(25930, 26727): "the belt"}),
    "great-square": Figure(
        "diagonal of the Square",
        {113881: "the corner Scheat", 113963: "the corner Markab", 1067: "the corner Algenib",
         677: "the corner Alpheratz"},
        {(113881, 113963): "the Square's western side", (677, 1067): "the Square's eastern side",
         (113881, 677): "the Square's northern side", (113963, 1067): "the Square's southern side"},
    ),
    "summer-triangle": Figure(
        "long side of the Triangle",
        {},
        {(91262, 102098): "the Triangle's short side", (102098, 97649): "the Triangle's long side"},
    ),
    "winter-triangle": Figure("side of the Triangle"),
    "spring-triangle": Figure("long side of the Triangle"),
    "winter-hexagon": Figure("length of the Hexagon"),
    "northern-cross": Figure(
        "Cross-length",
        {102098: "the Cross's head", 100453: "the Cross's middle", 95947: "the Cross's foot"},
        {(102098, 95947): "the Cross's long beam", (97165, 102488): "the Cross's arms"},
    ),
    "southern-cross": Figure(
        "Cross-length",
        {61084: "the Cross's red head", 60718: "the Cross's foot", 62434: "the bright arm",
         59747: "the faint arm"},
        {(61084, 60718): "the Cross's long arm", (62434, 59747): "the Cross's short arm"},
    ),
    "southern-pointers": Figure("gap of the Pointers", {}, {(71683, 68702): "the two Pointers"}),
    "false-cross": Figure(
        "False-Cross-length", {}, {(42913, 45556): "one beam", (45941, 41037): "the other beam"}
    ),
    "sickle": Figure(
        "Sickle-length",
        {49669: "the handle's end", 50583: "the blade's root", 47908: "the blade's tip"},
        {(49669, 49583): "the Sickle's handle"},
    ),
    "scorpion-head": Figure("length of the Head", {80763: "the red heart"}),
    "fish-hook": Figure("Hook-length", {80763: "the red heart", 85927: "the sting"}),
    "teapot": Figure("Teapot-length"),
    "andromeda-row": Figure("length of the Row", curve="the Row's curve"),
    "auriga-pentagon": Figure("length of the Pentagon"),
    "great-dog": Figure("Dog-length", {32349: "the Dog's eye"}),
    "kite": Figure("Kite-length", {69673: "the Kite's tail"}),
    "twins": Figure("gap of the two", {}, {(36850, 37826): "the two heads"}),
    "pleiades": Figure("width of the little group"),
    "hyades": Figure("V-length"),
    "corvus-sail": Figure(
        "Sail-length",
        {},
        {(59803, 60965): "the Sail's top", (59316, 60965): "the Sail's diagonal",
         (61359, 59803): "the Sail's other diagonal"},
    ),
}  # fmt: skip
