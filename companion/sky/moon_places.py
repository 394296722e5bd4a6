"""A place on the Moon as a target: it moves as the Moon does, a little beside its middle."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cache
from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.sky.axes import body_axes
from companion.sky.moon_features import MoonFeatures, load_moon_features
from companion.sky.movers import MoverFacts, Vantage
from companion.sky.solar_system import FIRST_UTC, LAST_UTC, SOLAR_SYSTEM
from companion.sky.spelling import fold
from companion.sky.target import Kind, Target

FAMILY: Final = "moon:"  # of the keys, and of the codes of what moves
_MOON: Final = SOLAR_SYSTEM[1]
_RADIUS_AU: Final = 1737.4 / 149597870.7
_J2000 = datetime(2000, 1, 1, 12, tzinfo=UTC)
_TDB_AHEAD_S = 69.2  # of UTC since 2017; a minute turns the Moon by 0.009°, a third of a kilometre
_LIGHT_S = 1.28
_LEAST_BEGINNING = 3


@dataclass(frozen=True, slots=True)
class MoonPlace:
    """One feature of the Moon as something that moves; what is known of it is the Moon's."""

    target: Target
    spot: tuple[float, float, float]  # unit vector on the Moon's own axes

    @property
    def holds(self) -> tuple[datetime, datetime]:
        """What the ephemeris covers."""
        return FIRST_UTC, LAST_UTC

    @property
    def greatest_speed_arcsec_per_s(self) -> float:
        """The Moon's own; its turning adds nothing to speak of."""
        return _MOON.greatest_speed_arcsec_per_s

    def places(self, vantage: Vantage, utcs: Sequence[datetime]) -> FloatArray:
        """Give apparent places (n, 3) in au, ICRS axes."""
        spots = [np.array(self.spot) @ body_axes("moon", _days(utc)) for utc in utcs]
        return np.asarray(_MOON.places(vantage, utcs) + _RADIUS_AU * np.array(spots))

    def facts(self, vantage: Vantage, utc: datetime) -> MoverFacts:
        """Give brightness, size and phase of the Moon."""
        return _MOON.facts(vantage, utc)


def _days(utc: datetime) -> float:
    """Give the days (TDB) since J2000 at which the light left."""
    return ((utc - _J2000).total_seconds() + _TDB_AHEAD_S - _LIGHT_S) / 86400.0


def moon_place(body: str) -> MoonPlace | None:
    """Give the feature of a code such as "moon:Copernicus"; None where there is none."""
    row = moon_row(body)
    if row is None:
        return None
    spot = load_moon_features().vectors[row]
    return MoonPlace(moon_target(row), (float(spot[0]), float(spot[1]), float(spot[2])))


def moon_row(body: str) -> int | None:
    """Give the row of the feature of a code; None where it is none."""
    return _rows().get(body.removeprefix(FAMILY)) if body.startswith(FAMILY) else None


def moon_target(row: int) -> Target:
    """Make the target of a feature."""
    features = load_moon_features()
    name, size = features.names[row], float(features.diameter_km[row])
    kind = features.kind_of(row).replace("_", " ")
    across = f", {size:.0f} km" if size >= 1.0 else ""
    code = f"{FAMILY}{name}"
    return Target(code, name, Kind.MOON, body=code, note=f"{kind} on the Moon{across}")


@cache
def _rows() -> dict[str, int]:
    return {name: row for row, name in enumerate(load_moon_features().names)}


class MoonNames:
    """Finds features by their names, written with or without accents and "crater"."""

    def __init__(self, features: MoonFeatures) -> None:
        self._features = features
        self._rows: dict[str, int] = {}
        for row in range(len(features)):
            self._rows.setdefault(fold(features.names[row]), row)
        self._named = sorted(text for text, row in self._rows.items() if not features.lettered[row])

    def called(self, query: str) -> int | None:
        """Give the row of the feature that is called so."""
        words = query.split()
        for left_out in (set(), {"crater", "moon", "lunar"}):
            row = self._rows.get(" ".join(word for word in words if word not in left_out))
            if row is not None:
                return row
        return None

    def beginning(self, query: str, most: int) -> list[int]:
        """Give the rows of named features that begin so, the largest first."""
        if len(query) < _LEAST_BEGINNING:
            return []
        found = [self._rows[text] for text in self._named if text.startswith(query)]
        return sorted(found)[:most]  # the table has the largest first

    def fame(self, row: int) -> float:
        """Give how well a feature is known, by its size: less than any star with a name."""
        return min(math.log10(1.0 + float(self._features.diameter_km[row])), 3.0)
