"""What a target is called in words, and what its disc shows: words, never read by any logic."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Final

from companion.sky.target import Kind

if TYPE_CHECKING:  # it brings numpy, which the window does not wait for
    from companion.sky.movers import MoverFacts

_KIND_WORDS: Final[Mapping[Kind, str]] = {
    Kind.STAR: "star",
    Kind.DOUBLE: "double star",
    Kind.VARIABLE: "variable star",
    Kind.GALAXY: "galaxy",
    Kind.OPEN_CLUSTER: "open cluster",
    Kind.GLOBULAR: "globular cluster",
    Kind.CLUSTER_NEBULA: "cluster with nebula",
    Kind.NEBULA: "nebula",
    Kind.PLANETARY: "planetary nebula",
    Kind.REMNANT: "supernova remnant",
    Kind.DARK_NEBULA: "dark nebula",
    Kind.GROUP: "star group",
    Kind.PLANET: "planet",
    Kind.DWARF_PLANET: "dwarf planet",
    Kind.MINOR_PLANET: "minor planet",
    Kind.SATELLITE: "satellite",
    Kind.MOON: "Moon",
    Kind.SUN: "Sun",
    Kind.COMET: "comet",
    Kind.PLACE: "place in the sky",
    Kind.OTHER: "other",
}
_PHASED: Final = frozenset({"moon", "mercury", "venus", "mars"})


def kind_text(kind: Kind) -> str:
    """Say what something is: "planetary nebula"."""
    return _KIND_WORDS[kind]


def disc_text(body: str, facts: "MoverFacts") -> str:
    """Say in a few words what a disc shows: "rings tilted 7°", "43% lit", or nothing."""
    if facts.ring_tilt_deg is not None:
        return f"rings tilted {abs(facts.ring_tilt_deg):.0f}°"
    return f"{facts.lit_fraction * 100:.0f}% lit" if body in _PHASED else ""
