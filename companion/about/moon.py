"""The Moon as it hangs there: phase, age, libration, axis, the Sun's point."""

import math
from dataclasses import dataclass
from datetime import datetime, timedelta

from companion.about.orientation import (
    Point,
    bright_limb_deg,
    elongation_deg,
    lit_fraction,
    phase_angle_deg,
    point_below,
    position_angle_of,
)
from companion.advice import AdviceError
from companion.arrays import FloatArray
from companion.sky import Aspect, Ephemeris, body_axes

MEAN_RADIUS_KM = 1737.4
_SYNODIC_DAYS = 29.530588861  # mean, Meeus ch. 49
_OBLIQUITY_RAD = math.radians(23.4393)  # of the ecliptic; its change in a century shifts no phase
_SETTLED_DAYS = 1e-5  # about a second
_MOST_STEPS = 12


@dataclass(frozen=True, slots=True)
class MoonLook:
    """How the Moon is turned for one observer; degrees, north through east.

    The ``facing`` point is the libration: where we look straight down on the ground. Error of the
    libration and of the Sun's point: 0.01°, of the axis used.
    """

    facing: Point
    subsolar: Point
    axis_position_angle_deg: float  # -180 to 180
    bright_limb_angle_deg: float
    distance_km: float
    diameter_arcsec: float
    lit: float
    elongation_deg: float
    waxing: bool

    @property
    def colongitude_deg(self) -> float:
        """Longitude of the morning terminator counted westward, 0 to 360 (Meeus, ch. 53)."""
        return (90.0 - self.subsolar.longitude_deg) % 360.0


def moon_look(aspect: Aspect) -> MoonLook:
    """Give how the Moon is turned for the observer of an aspect."""
    axes = body_axes("moon", aspect.days)
    angle = position_angle_of(aspect, axes[2])
    limb = bright_limb_deg(aspect)
    return MoonLook(
        facing=point_below(axes, -aspect.to_body_km),
        subsolar=point_below(axes, -aspect.from_sun_km),
        axis_position_angle_deg=(angle + 180.0) % 360.0 - 180.0,
        bright_limb_angle_deg=limb,
        distance_km=aspect.distance_km,
        diameter_arcsec=math.degrees(2.0 * math.asin(MEAN_RADIUS_KM / aspect.distance_km)) * 3600.0,
        lit=lit_fraction(phase_angle_deg(aspect)),
        elongation_deg=elongation_deg(aspect),
        waxing=_ahead_deg(aspect) < 180.0,
    )


def age_days(ephemeris: Ephemeris, utc: datetime) -> float | None:
    """Give the days since the last new Moon; None where the ephemeris begins later than that.

    New is when Moon and Sun have one ecliptic longitude, seen from the Earth's centre.
    """
    at = utc
    try:
        for _ in range(_MOST_STEPS):
            ahead = _ahead_deg(ephemeris.aspect("moon", at))
            # The last new Moon lies back; once near it, correct to the nearer side.
            ahead = ahead if at == utc else (ahead + 180.0) % 360.0 - 180.0
            step = ahead / 360.0 * _SYNODIC_DAYS
            at -= timedelta(days=step)
            if abs(step) < _SETTLED_DAYS:
                break
    except AdviceError:
        return None
    # Around new Moon the age is 0, not a hair below.
    return max((utc - at).total_seconds() / 86400.0, 0.0)


def _ahead_deg(aspect: Aspect) -> float:
    """Give how far the Moon is ahead of the Sun in ecliptic longitude, 0 to 360."""
    moon, sun = aspect.to_body_km, aspect.to_body_km - aspect.from_sun_km
    return (_longitude_deg(moon) - _longitude_deg(sun)) % 360.0


def _longitude_deg(vector: FloatArray) -> float:
    x, y, z = (float(part) for part in vector)
    turned = y * math.cos(_OBLIQUITY_RAD) + z * math.sin(_OBLIQUITY_RAD)
    return math.degrees(math.atan2(turned, x))
