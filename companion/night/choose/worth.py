"""How much there is to see in a target, 0 to 10: a rough order of taste, no measurement.

Common practice, no source: what visitors ask to see again comes first, then what has a name or a
number that people collect, then the rest by brightness.
"""

import numpy as np
from numpy.typing import NDArray

from companion.sky import Catalogue, Kind, Target

FloatArray = NDArray[np.float64]

_BODIES = {
    "saturn": 10.0, "moon": 9.8, "jupiter": 9.6, "mars": 7.0, "venus": 7.0,
    "mercury": 5.5, "uranus": 5.0, "neptune": 4.0, "pluto": 1.0,
}  # fmt: skip
_BASE = {
    Kind.GALAXY: 1.0,
    Kind.OPEN_CLUSTER: 1.6,
    Kind.GLOBULAR: 2.0,
    Kind.CLUSTER_NEBULA: 1.8,
    Kind.NEBULA: 1.8,
    Kind.PLANETARY: 2.2,
    Kind.REMNANT: 2.2,
    Kind.GROUP: 3.0,
    Kind.DOUBLE: 3.5,
    Kind.VARIABLE: 2.5,
    Kind.COMET: 5.0,
}
_OTHER = 0.5
_MESSIER, _CALDWELL, _NAMED, _COLOURED = 4.5, 3.0, 1.5, 2.5
# Brighter by this many magnitudes counts one more; the middle is a usual showpiece.
_MAG_PER_POINT, _MIDDLE_MAG, _MOST_FOR_LIGHT = 2.5, 8.5, 2.0


def worth_of(targets: tuple[Target, ...], catalogue: Catalogue) -> FloatArray:
    """Give the worth of each target, shape (n,)."""
    coloured = {f"hip:{hip}" for hip in catalogue.names.colours}
    return np.array([_worth(target, coloured) for target in targets], dtype=np.float64)


def _worth(target: Target, coloured: set[str]) -> float:
    if target.body:
        return _BODIES.get(target.body, 0.0)
    value = _BASE.get(target.kind, _OTHER) + _known_by(target)
    if target.key in coloured:
        value += _COLOURED
    if target.magnitude is not None:
        light = (_MIDDLE_MAG - target.magnitude) / _MAG_PER_POINT
        value += min(max(light, -_MOST_FOR_LIGHT), _MOST_FOR_LIGHT)
    return min(max(value, 0.0), 9.5)


def _known_by(target: Target) -> float:
    """Count numbers that people collect, and a name."""
    called = (target.name, *target.aliases)
    if any(name.startswith("M ") and name[2:].isdigit() for name in called):
        return _MESSIER
    if any(name.startswith("C ") and name[2:].isdigit() for name in called):
        return _CALDWELL
    named = target.key.startswith("ngc:") and any(not _is_number(name) for name in called)
    return _NAMED if named else 0.0


def _is_number(name: str) -> bool:
    return any(character.isdigit() for character in name)
