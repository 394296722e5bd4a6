"""What a person wants to see of tonight's list."""

from dataclasses import dataclass

import numpy as np

from companion.advice import AdviceError
from companion.arrays import BoolArray, FloatArray, RowArray
from companion.night.choose.candidates import Candidates
from companion.night.sight.grades import GRADES, Grade
from companion.sky import Kind, kind_text

_TO_CHOOSE = tuple(kind for kind in Kind if kind is not Kind.SUN)
SEEABLE = frozenset({Grade.EASY, Grade.FAIR, Grade.HARD, Grade.DOUBTFUL})


@dataclass(frozen=True, slots=True)
class Filters:
    """Empty sets and None let everything through; all that are given must hold.

    ``azimuths_deg`` runs clockwise from the first to the second, over north where need be;
    directions and altitudes are those at a target's best time. ``keys`` names the only targets
    to consider. ``seen`` True wants what has been seen before, False what has not.
    """

    kinds: frozenset[Kind] = frozenset()
    constellations: frozenset[str] = frozenset()
    azimuths_deg: tuple[float, float] | None = None
    lowest_deg: float = 0.0
    highest_deg: float = 90.0
    grades: frozenset[Grade] = SEEABLE
    seen: bool | None = None
    keys: frozenset[str] | None = None

    def __post_init__(self) -> None:
        if not 0.0 <= self.lowest_deg <= self.highest_deg <= 90.0:
            raise AdviceError(
                f"Altitudes from {self.lowest_deg:g}° to {self.highest_deg:g}° are not a range.",
                "Give a lowest and a highest altitude within 0° to 90°.",
            )

    def rows(self, candidates: Candidates, seen_keys: frozenset[str]) -> RowArray:
        """Rows that pass what needs no computing."""
        passes = np.ones(len(candidates), dtype=bool)
        if self.kinds:
            passes &= np.array([kind in self.kinds for kind in candidates.kinds], dtype=bool)
        if self.constellations:
            passes &= np.isin(candidates.constellations, sorted(self.constellations))
        if self.keys is not None:
            passes &= _in(candidates.keys, self.keys)
        if self.seen is not None:
            passes &= _in(candidates.keys, seen_keys) == self.seen
        return np.flatnonzero(passes)

    def pass_at_best(
        self, grade: RowArray, altitude_deg: FloatArray, azimuth_deg: FloatArray
    ) -> BoolArray:
        """Say which pass by grade, altitude and direction at their best; shapes (n,)."""
        wanted = np.array([one in self.grades for one in GRADES])
        passes = wanted[grade]
        passes &= (altitude_deg >= self.lowest_deg) & (altitude_deg <= self.highest_deg)
        if self.azimuths_deg is not None:
            first, last = self.azimuths_deg
            passes &= (azimuth_deg - first) % 360.0 <= (last - first) % 360.0
        return np.asarray(passes)


def _in(keys: tuple[str, ...], chosen: frozenset[str]) -> BoolArray:
    return np.fromiter((key in chosen for key in keys), dtype=bool, count=len(keys))


def kinds_named(text: str) -> frozenset[Kind]:
    """Give the kinds that words separated by commas mean: ``galaxies, planet, double``.

    Raises
    ------
    AdviceError
        If a word means none.
    """
    found: set[Kind] = set()
    for word in filter(None, (part.strip().casefold() for part in text.split(","))):
        stem = word.removesuffix("ies") if word.endswith("ies") else word.removesuffix("s")
        named = {kind_text(kind).casefold(): kind for kind in _TO_CHOOSE}
        hits = {named[one] for one in (word, stem) if one in named}
        hits = hits or {kind for name, kind in named.items() if name.startswith((word, stem))}
        if word in {"cluster", "clusters"}:
            hits = {Kind.OPEN_CLUSTER, Kind.GLOBULAR, Kind.CLUSTER_NEBULA}
        if not hits:
            raise AdviceError(
                f"“{word[:40]}” is not a kind of target.",
                f"Choose from: {', '.join(map(kind_text, _TO_CHOOSE))}.",
            )
        found |= hits
    return frozenset(found)
