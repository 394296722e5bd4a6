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


class WorthFor(StrEnum):
    """For whom or through what a target is judged, as the table names it."""

    EYE = "eye"
    BINOCULARS = "binoculars"
    TELESCOPE = "telescope"
    VISITORS = "visitors"


_THROUGH = {InstrumentKind.EYE: WorthFor.EYE, InstrumentKind.BINOCULARS: WorthFor.BINOCULARS}
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
_COLUMN = {WorthFor.EYE: 0, WorthFor.BINOCULARS: 1, WorthFor.TELESCOPE: 2}
_COLOURED = 1.5
# Brighter by this many magnitudes counts one more; the middles are usual sights through each.
_MAG_PER_POINT, _MOST_FOR_LIGHT = 2.5, 1.5
_MIDDLE_MAG = (3.0, 6.0, 8.5)
_MOST_UNLISTED = 4.5
_VISITORS_MORE = 2.5  # what somebody who knows how to look beats visitors by, at most


def worth_through(instrument: InstrumentKind) -> WorthFor:
    """Give whom a target is judged for when one looks through an instrument."""
    return _THROUGH.get(instrument, WorthFor.TELESCOPE)


@dataclass(frozen=True, slots=True, eq=False)
class Worth:
    """What n targets are worth, by whom; arrays of shape (n,), NaN for visitors where nothing."""

    of_whom: Mapping[WorthFor, FloatArray]
    reasons: tuple[Reason, ...]
    listed_by_eye: BoolArray

    @classmethod
    def of(cls, targets: tuple[Target, ...], catalogue: Catalogue) -> "Worth":
        """Look the targets up; what the table does not have follows by kind and brightness."""
        table = _table()
        coloured = {f"hip:{hip}" for hip in catalogue.names.colours}
        rows = [table.get(target.key, {}) for target in targets]
        worths = {
            whom: np.array(
                [
                    _valued(row, whom, target, coloured)
                    for row, target in zip(rows, targets, strict=True)
                ],
                dtype=np.float64,
            )
            for whom in _COLUMN
        }
        worths[WorthFor.VISITORS] = np.array([_number(row, WorthFor.VISITORS) for row in rows])
        return cls(
            of_whom=worths,
            reasons=tuple(Reason(str(row.get("reason", ""))) for row in rows),
            listed_by_eye=np.array([WorthFor.EYE in row for row in rows], dtype=bool),
        )

    def values(self, whom: WorthFor, instrument: WorthFor) -> FloatArray:
        """Give the worth of all: visitors see less in small instruments than observers do."""
        if whom is not WorthFor.VISITORS:
            return self.of_whom[whom]
        return np.minimum(self.of_whom[whom], self.of_whom[instrument] + _VISITORS_MORE)


@lru_cache(maxsize=1)
def _table() -> Mapping[str, Mapping[str, float | str]]:
    """Read ``resources/worth.json``: by key, numbers by whom they are for, and a reason."""
    read: dict[str, dict[str, float | str]] = json.loads(
        resource("worth.json").read_text(encoding="utf-8")
    )
    return read


def _number(row: Mapping[str, float | str], whom: WorthFor) -> float:
    return float(row.get(whom, np.nan))


def _valued(
    row: Mapping[str, float | str], whom: WorthFor, target: Target, coloured: set[str]
) -> float:
    if whom in row:
        return _number(row, whom)
    if row:  # known, and nobody looks at it so
        return 0.0
    column = _COLUMN[whom]
    value = _BASE.get(target.kind, _OTHER)[column]
    if target.key in coloured:
        value += _COLOURED
    if target.magnitude is not None:
        light = (_MIDDLE_MAG[column] - target.magnitude) / _MAG_PER_POINT
        value += min(max(light, -_MOST_FOR_LIGHT), _MOST_FOR_LIGHT)
    return min(max(value, 0.0), _MOST_UNLISTED)
