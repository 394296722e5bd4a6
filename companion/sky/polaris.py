"""Polaris as a better north than a compass: where it stands, and how much better it is."""

import math
from dataclasses import dataclass

from companion.sky.magnetic import MagneticField, MagneticZone
from companion.sky.moment import Moment
from companion.sky.table import TargetTable
from companion.sky.target import Kind, Target
from companion.sky.vectors import wrap_180

# Hipparcos (van Leeuwen 2007), epoch 1991.25.
POLARIS = Target(
    "hip:11767",
    "Polaris",
    Kind.STAR,
    ra_deg=37.9546,
    dec_deg=89.26411,
    pm_ra_mas_per_yr=44.48,
    pm_dec_mas_per_yr=-11.85,
    parallax_mas=7.54,
    epoch_year=1991.25,
    magnitude=1.97,
    constellation="UMi",
)
LOWEST_DEG = 5.0  # under it trees, haze and refraction spoil the sight (common practice, no source)
_COMPASS_READING_SIGMA_DEG = 1.0  # of a good hand compass (common practice, no source)
_SIGHT_SIGMA_DEG = 0.1  # of a star brought to the cross of a finder (common practice, no source)


@dataclass(frozen=True, slots=True)
class PolarisLook:
    """Polaris at one moment."""

    azimuth_deg: float  # from true north, east positive, -180 to 180
    altitude_deg: float
    usable: bool  # high enough to be sighted
    gain: float | None  # times better than the compass; None in the blackout zone or unusable


def polaris_look(moment: Moment, field: MagneticField) -> PolarisLook:
    """Give Polaris' place, computed like that of any star, and its gain over the compass.

    Both errors are one sigma of the azimuth: for the compass the magnetic model's and the
    reading's, for Polaris the sight across the sky divided by cos(altitude).
    """
    seen = moment.horizontal(TargetTable.of([POLARIS], moment.utc))
    altitude_deg = float(seen.altitude_deg[0])
    usable = altitude_deg >= LOWEST_DEG
    gain = None
    if usable and field.zone is not MagneticZone.BLACKOUT:
        compass = math.hypot(field.declination_sigma_deg, _COMPASS_READING_SIGMA_DEG)
        sight = _SIGHT_SIGMA_DEG / max(math.cos(math.radians(altitude_deg)), 1e-3)
        gain = compass / sight
    return PolarisLook(float(wrap_180(seen.azimuth_deg[0])), altitude_deg, usable, gain)
