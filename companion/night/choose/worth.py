"""How much there is to see in a target, 0 to 10: a rough order of taste, no measurement.

Common practice, no source: one table says what observers show each other by eye, in binoculars and
in a telescope, what visitors ask to see again, and why. What is not in it follows by kind and
brightness, below everything that is.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

import numpy as np

from companion.arrays import BoolArray, FloatArray
from companion.finding import InstrumentKind
from companion.night.choose.reasons import Reason
from companion.sky import Catalogue, Kind, Target, resource


class Way(StrEnum):
    """For whom or through what a target is judged, as the table names it."""

    EYE = "eye"
    BINOCULARS = "binoculars"
    TELESCOPE = "telescope"
    VISITORS = "visitors"


_WAYS = {InstrumentKind.EYE: Way.EYE, InstrumentKind.BINOCULARS: Way.BINOCULARS}
# Of what is not in the table, by eye, in binoculars and in a telescope.
_BASE = {
    Kind.GALAXY: (0.5, 0.8, 1.0),
    Kind.OPEN_CLUSTER: (1.5, 2.0, 1.6),
    Kind.GLOBULAR: (0.5, 1.5, 2.0),
    Kind.CLUSTER_NEBULA: (1.0, 1.8, 1.8),
    Kind.NEBULA: (0.5, 1.2, 1.5),
    Kind.PLANETARY: (0.0, 0.5, 2.2),
    Kind.REMNANT: (0.0, 1.0, 1.8),
    Kind.GROUP: (4.0, 1.5, 0.5),
    Kind.DOUBLE: (2.5, 3.0, 3.2),
    Kind.VARIABLE: (2.5, 2.0, 1.5),
    Kind.COMET: (5.0, 6.0, 5.0),
    Kind.STAR: (1.0, 0.5, 0.3),
}
_OTHER = (0.3, 0.3, 0.3)
_COLUMN = {Way.EYE: 0, Way.BINOCULARS: 1, Way.TELESCOPE: 2}
_COLOURED = 1.5
# Brighter by this many magnitudes counts one more; the middles are usual sights of each way.
_MAG_PER_POINT, _MOST_FOR_LIGHT = 2.5, 1.5
_MIDDLE_MAG = (3.0, 6.0, 8.5)
_MOST_UNLISTED = 4.5
_VISITORS_MORE = 2.5  # what somebody who knows how to look beats visitors by, at most


def way_of(instrument: InstrumentKind) -> Way:
    """Give the way that an instrument looks."""
    return _WAYS.get(instrument, Way.TELESCOPE)


@dataclass(frozen=True, slots=True, eq=False)
class Worth:
    """What n targets are worth, by way; arrays of shape (n,), NaN for visitors where nothing."""

    of_way: Mapping[Way, FloatArray]
    reasons: tuple[Reason, ...]
    listed_by_eye: BoolArray

    @classmethod
    def of(cls, targets: tuple[Target, ...], catalogue: Catalogue) -> "Worth":
        """Look the targets up; what the table does not have follows by kind and brightness."""
        table = _table()
        coloured = {f"hip:{hip}" for hip in catalogue.names.colours}
        rows = [table.get(target.key, {}) for target in targets]
        ways = {
            way: np.array(
                [
                    _valued(row, way, target, coloured)
                    for row, target in zip(rows, targets, strict=True)
                ],
                dtype=np.float64,
            )
            for way in _COLUMN
        }
        ways[Way.VISITORS] = np.array([_number(row, Way.VISITORS) for row in rows])
        return cls(
            of_way=ways,
            reasons=tuple(Reason(str(row.get("reason", ""))) for row in rows),
            listed_by_eye=np.array([Way.EYE in row for row in rows], dtype=bool),
        )

    def values(self, way: Way, instrument: Way) -> FloatArray:
        """Give the worth of all: visitors see less in small instruments than observers do."""
        if way is not Way.VISITORS:
            return self.of_way[way]
        return np.minimum(self.of_way[way], self.of_way[instrument] + _VISITORS_MORE)


@lru_cache(maxsize=1)
def _table() -> Mapping[str, Mapping[str, float | str]]:
    """Read ``resources/worth.json``: by key, a number for each way that has one, and a reason."""
    read: dict[str, dict[str, float | str]] = json.loads(
        resource("worth.json").read_text(encoding="utf-8")
    )
    return read


def _number(row: Mapping[str, float | str], way: Way) -> float:
    return float(row.get(way, np.nan))


def _valued(row: Mapping[str, float | str], way: Way, target: Target, coloured: set[str]) -> float:
    if way in row:
        return _number(row, way)
    if row:  # known, and nobody looks at it in this way
        return 0.0
    column = _COLUMN[way]
    value = _BASE.get(target.kind, _OTHER)[column]
    if target.key in coloured:
        value += _COLOURED
    if target.magnitude is not None:
        light = (_MIDDLE_MAG[column] - target.magnitude) / _MAG_PER_POINT
        value += min(max(light, -_MOST_FOR_LIGHT), _MOST_FOR_LIGHT)
    return min(max(value, 0.0), _MOST_UNLISTED)
