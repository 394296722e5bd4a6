"""Points that no object marks: zenith, celestial poles, the point opposite the Sun.

Zenith and poles stand still over the ground while the stars turn under them; the poles are those
of date, which 2000's coordinates miss by 9′ by now.
"""

import math
from abc import ABC, abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from companion.arrays import FloatArray
from companion.sky.diurnal import TURN_DEG_PER_S
from companion.sky.movers import MoverFacts, Vantage
from companion.sky.solar_system import FIRST_UTC, LAST_UTC
from companion.sky.target import Kind, Target

FAME = 9.0  # after the planets
# The zenith has no azimuth; 20″ to the north of it the azimuth is 0° and does not flicker.
_BESIDE = 1e-4


@dataclass(frozen=True, slots=True)
class SkyPoint(ABC):
    """One such point: what all of them have in common."""

    target: Target

    @property
    def holds(self) -> tuple[datetime, datetime]:
        """What the ephemeris covers."""
        return FIRST_UTC, LAST_UTC

    @property
    def greatest_speed_arcsec_per_s(self) -> float:
        """As fast as the stars turn, for what they turn under."""
        return TURN_DEG_PER_S * 3600.0

    def facts(self, vantage: Vantage, utc: datetime) -> MoverFacts:
        """Give how far from the Sun it stands; there is nothing to see."""
        here, sun = self.places(vantage, [utc])[0], vantage.observe("sun", [utc])[0]
        cosine = float(here @ sun / (np.linalg.norm(here) * np.linalg.norm(sun)))
        return MoverFacts(
            magnitude=None,
            diameter_arcsec=0.0,
            lit_fraction=1.0,
            elongation_deg=math.degrees(math.acos(max(-1.0, min(1.0, cosine)))),
            distance_au=math.inf,
        )

    @abstractmethod
    def places(self, vantage: Vantage, utcs: Sequence[datetime]) -> FloatArray:
        """Give directions (n, 3) on ICRS axes."""


class _Zenith(SkyPoint):
    __slots__ = ()

    def places(self, vantage: Vantage, utcs: Sequence[datetime]) -> FloatArray:
        return vantage.ground(utcs) @ (_BESIDE, 0.0, 1.0)


@dataclass(frozen=True, slots=True)
class _Pole(SkyPoint):
    sign: float = 1.0  # -1 for the south

    def places(self, vantage: Vantage, utcs: Sequence[datetime]) -> FloatArray:
        latitude = math.radians(vantage.latitude_deg)
        toward = np.array([math.cos(latitude), 0.0, math.sin(latitude)])
        return vantage.ground(utcs) @ (self.sign * toward)


class _Opposite(SkyPoint):
    __slots__ = ()

    def places(self, vantage: Vantage, utcs: Sequence[datetime]) -> FloatArray:
        return -vantage.observe("sun", utcs)


def _target(code: str, name: str, *aliases: str, note: str = "") -> Target:
    return Target(f"point:{code}", name, Kind.PLACE, body=code, aliases=aliases, note=note)


ZENITH = _Zenith(_target("zenith", "Zenith", note="straight overhead: any azimuth will do"))
NORTH_POLE = _Pole(
    _target(
        "north-pole", "North celestial pole", "North pole", "Celestial north pole", "NCP",
        note="where the axis of the Earth points; Polaris stands beside it",
    )
)  # fmt: skip
SOUTH_POLE = _Pole(
    _target(
        "south-pole", "South celestial pole", "South pole", "Celestial south pole", "SCP",
        note="where the axis of the Earth points; no bright star marks it",
    ),
    -1.0,
)  # fmt: skip
ANTISOLAR = _Opposite(
    _target(
        "antisolar", "Antisolar point", "Sun's antipode", "Antisun", "Gegenschein",
        note="opposite the Sun: the middle of the gegenschein and of the Earth's shadow",
    )
)  # fmt: skip
SKY_POINTS: tuple[SkyPoint, ...] = (ZENITH, NORTH_POLE, SOUTH_POLE, ANTISOLAR)
_STILL = frozenset(point.target.key for point in (ZENITH, NORTH_POLE, SOUTH_POLE))


def stands_still(target: Target) -> bool:
    """Tell whether it keeps its place over the ground, so that it neither rises nor sets."""
    return target.key in _STILL
