"""What everything that moves among the stars has in common: planets, the Moon, and what may come.

A mover is one record: what it is, where it stands for an observer at a moment, how bright and
large it is then, how fast it can move, and for which times its elements hold. Whoever asks for a
place or a brightness never asks which kind of mover it is.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Protocol

import numpy as np

from companion.advice import AdviceError
from companion.arrays import FloatArray
from companion.sky.target import Target

LONGEST_STEP_S = 240.0  # between anchors of whatever moves up to 1″ a second, the Moon included
_OFFSETS = np.array([-1.0, 0.0, 1.0, 2.0])


@dataclass(frozen=True, slots=True)
class MoverFacts:
    """What changes slowly: brightness, size and phase. What does not apply is None."""

    magnitude: float | None
    diameter_arcsec: float  # of the equator; 0 for points
    lit_fraction: float
    elongation_deg: float
    distance_au: float
    ring_tilt_deg: float | None = None  # positive with the north face seen


class Vantage(Protocol):
    """An observer on the ground who can look at what the loaded ephemeris holds."""

    @property
    def latitude_deg(self) -> float:
        """Geodetic latitude."""
        ...

    def ground(self, utcs: Sequence[datetime]) -> FloatArray:
        """Give what turns north, east, up into ICRS axes at each moment, (n, 3, 3)."""
        ...

    def observe(self, segment: str, utcs: Sequence[datetime]) -> FloatArray:
        """Give apparent places (n, 3) of a part of the ephemeris, in au, on ICRS axes."""
        ...

    def observe_orbit(
        self, from_sun_au: Callable[[FloatArray], FloatArray], utcs: Sequence[datetime]
    ) -> FloatArray:
        """Give apparent places (n, 3) in au of what stands so from the Sun at days of TDB."""
        ...

    def observe_satellite(self, satrec: object, utcs: Sequence[datetime]) -> FloatArray:
        """Give places (n, 3) in km of what SGP4 propagates, NaN where it has come down."""
        ...

    def stands_km(self, utcs: Sequence[datetime]) -> FloatArray:
        """Give where the observer stands from the middle of the Earth, (n, 3), ICRS axes."""
        ...

    def facts_of(self, segment: str, radius_km: float, utc: datetime) -> "Disc":
        """Give where a part of the ephemeris stands from here and from the Sun."""
        ...


@dataclass(frozen=True, slots=True)
class Disc:
    """A body seen from here, before anything is said of its brightness."""

    to_body_au: FloatArray  # (3,), ICRS axes
    from_sun_au: FloatArray  # (3,)
    phase_rad: float  # angle Sun, body, observer
    elongation_rad: float
    distance_au: float
    diameter_arcsec: float
    planet_magnitude: float | None  # Mallama & Hilton 2018, for planets only
    centuries: float  # Julian, TDB, since J2000


class Mover(Protocol):
    """One thing that moves among the stars."""

    @property
    def target(self) -> Target:
        """What it is; ``target.body`` is the code under which it is asked for."""
        ...

    @property
    def greatest_speed_arcsec_per_s(self) -> float:
        """How fast it can move among the stars at most, parallax included."""
        ...

    @property
    def holds(self) -> tuple[datetime, datetime]:
        """The first and the last moment for which its elements can be used."""
        ...

    def places(self, vantage: Vantage, utcs: Sequence[datetime]) -> FloatArray:
        """Give apparent places (n, 3) on ICRS axes; only their directions count."""
        ...

    def facts(self, vantage: Vantage, utc: datetime) -> MoverFacts:
        """Give brightness, size and phase at one moment."""
        ...


def check_holds(mover: Mover, utc: datetime) -> None:
    """Refuse a moment for which the elements of a mover do not hold.

    Raises
    ------
    AdviceError
        If it lies outside.
    """
    first, last = mover.holds
    if not first <= utc <= last:
        raise AdviceError(
            f"Nothing is known of where {mover.target.name} stands on {utc:%Y-%m-%d}: its "
            f"elements hold from {first:%Y-%m-%d} to {last:%Y-%m-%d}.",
            "Give a time within those dates.",
        )


def step_s(mover: Mover) -> float:
    """Give how far apart the anchors of a mover are."""
    return LONGEST_STEP_S / math.sqrt(max(mover.greatest_speed_arcsec_per_s, 1.0))


class Anchors:
    """Apparent directions (ICRS, unit vectors) of one mover around one moment.

    A cubic through four anchors, Lagrange's form. The steps between them shrink with the root of
    the greatest speed: what is fast is near, and its speed changes within what it needs to pass.
    """

    def __init__(self, mover: Mover, vantage: Vantage, utc: datetime) -> None:
        self.step_s = step_s(mover)
        self._start = utc
        moments = [utc + timedelta(seconds=float(k) * self.step_s) for k in _OFFSETS]
        places = mover.places(vantage, moments)
        self._places = places / np.linalg.norm(places, axis=1)[:, None]
        self.facts = mover.facts(vantage, utc)

    def covers(self, utc: datetime) -> bool:
        """Tell whether the moment lies between the two middle anchors."""
        return 0.0 <= (utc - self._start).total_seconds() <= self.step_s

    def follows(self, utc: datetime) -> bool:
        """Tell whether the moment comes soon after these anchors ran out."""
        return 0.0 <= (utc - self._start).total_seconds() <= 2.0 * self.step_s

    def place(self, utc: datetime) -> FloatArray:
        """Give the apparent unit vector (3,)."""
        x = (utc - self._start).total_seconds() / self.step_s
        weights = np.array(
            [math.prod((x - b) / (a - b) for b in _OFFSETS if b != a) for a in _OFFSETS]
        )
        vector = weights @ self._places
        return np.asarray(vector / np.linalg.norm(vector))

    def motion_per_s(self, utc: datetime) -> FloatArray:
        """Give how fast the unit vector changes (3,), per second."""
        reach_s = min(1.0, self.step_s / 2.0)
        reach = timedelta(seconds=reach_s)
        return (self.place(utc + reach) - self.place(utc - reach)) / (2.0 * reach_s)
