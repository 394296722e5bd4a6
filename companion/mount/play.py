"""The play of a dial, measured by bringing one star to the centre from both sides.

Knows no numpy, so that the window can use it at once.
"""

import math
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Final

from companion.advice import AdviceError
from companion.mount.dial import angle_of
from companion.mount.mount_check import MOST_PLAY_DEG
from companion.mount.records import Dial, Mount
from companion.sky import angle_text

HIGHEST_DEG: Final = 65.0  # above it a star hardly out of the centre is off by much in azimuth
LONGEST: Final = timedelta(minutes=10)
_FARTHEST_DEG: Final = 5.0  # that a star may move meanwhile: more is another star
_AGAIN: Final = "Read the dial again from both sides, of the same star."
_KEPT: Final = "The play before is kept."


@dataclass(frozen=True, slots=True)
class OneSide:
    """What a dial showed, and where the star stood then: its true azimuth and altitude."""

    utc: datetime
    reading_deg: float
    azimuth_deg: float
    altitude_deg: float


@dataclass(frozen=True, slots=True)
class Play:
    """How far the readings from both sides differ.

    ``kept_deg`` is what is told of the dial: with the errors of the two readings, in which more
    play may hide than was seen. ``sigma_deg`` is the error of the difference.
    """

    seen_deg: float
    sigma_deg: float
    kept_deg: float

    @property
    def words(self) -> str:
        """Say what was found and what is kept."""
        seen, kept = angle_text(self.seen_deg), angle_text(self.kept_deg)
        half = angle_text(self.kept_deg / 2.0)
        found = f"From both sides the dial differs by {seen}, ±{angle_text(self.seen_deg / 2.0)}."
        return f"{found} Kept: {kept}, ±{half}, with what two readings can hide."


def play_of(mount: Mount, what: str, first: OneSide, second: OneSide) -> Play:
    """Compare the readings of one star that was centred from one side, then from the other.

    What the star moved meanwhile is allowed for. The difference of two readings has the error of
    both (JCGM 100:2008, 5.1.2); the mean square of the play is what was seen, squared, and the
    square of that error.

    Parameters
    ----------
    mount : Mount
        With its dials.
    what : str
        "azimuth" or "altitude": the dial.
    first, second : OneSide
        In the order in which they were read.

    Raises
    ------
    AdviceError
        If the readings make no sense: nothing is to be kept then.
    """
    azimuth = what == "azimuth"
    moved_deg = _moved(first, second, azimuth=azimuth)
    if not timedelta() <= second.utc - first.utc <= LONGEST or abs(moved_deg) > _FARTHEST_DEG:
        raise AdviceError("Too much time lies between the two readings.", _AGAIN, _KEPT)
    if azimuth and max(first.altitude_deg, second.altitude_deg) > HIGHEST_DEG:
        raise AdviceError(
            f"A star above {HIGHEST_DEG:g}° says little of the azimuth dial.",
            "Take a lower one.",
            _KEPT,
        )
    dial = mount.azimuth if azimuth else mount.altitude
    turned_deg = angle_of(dial, second.reading_deg) - angle_of(dial, first.reading_deg)
    seen_deg = abs((turned_deg - moved_deg + 180.0) % 360.0 - 180.0)
    sigma_deg = _sigma(mount, dial, first.altitude_deg if azimuth else 0.0)
    kept_deg = math.hypot(seen_deg, sigma_deg)
    if kept_deg > MOST_PLAY_DEG:
        raise AdviceError(
            f"The two readings differ by {angle_text(seen_deg)}: no dial has so much play.",
            f"One of them may be misread, or of another star. {_AGAIN}",
            _KEPT,
        )
    return Play(seen_deg, sigma_deg, kept_deg)


def with_play(mount: Mount, what: str, play_deg: float | None) -> Mount:
    """Give the mount with the play of one dial, rounded to what matters; None for not measured."""
    rounded = None if play_deg is None else round(play_deg, 3)
    if what == "azimuth":
        return replace(mount, azimuth=replace(mount.azimuth, play_deg=rounded))
    return replace(mount, altitude=replace(mount.altitude, play_deg=rounded))


def _moved(first: OneSide, second: OneSide, *, azimuth: bool) -> float:
    """Give how far the star moved between the two readings."""
    if not azimuth:
        return second.altitude_deg - first.altitude_deg
    return (second.azimuth_deg - first.azimuth_deg + 180.0) % 360.0 - 180.0


def _sigma(mount: Mount, dial: Dial, altitude_deg: float) -> float:
    """Give the error of the difference of two readings: steps and centring, twice each."""
    rounding_deg = dial.step_deg / math.sqrt(12.0)
    centring_deg = mount.centring_sigma_deg / math.cos(math.radians(altitude_deg))
    return math.sqrt(2.0) * math.hypot(rounding_deg, centring_deg)
