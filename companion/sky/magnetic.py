"""True north from the compass: the World Magnetic Model 2025.

Chulliat et al., *The US/UK World Magnetic Model for 2025-2030: Technical Report* (NOAA NCEI, 2025):
declination, its one-sigma error, and the zones near the magnetic poles where a compass fails.
"""

import math
from dataclasses import dataclass
from datetime import UTC, datetime
from enum import StrEnum
from functools import lru_cache

from pygeomag import GeoMag

from companion.sky.site import Site

VALID_FROM_YEAR = 2025.0
VALID_TO_YEAR = 2030.0
MODEL = "WMM2025, valid 2025.0 to 2030.0"
_BLACKOUT_NT = 2000.0
_CAUTION_NT = 6000.0


class MagneticZone(StrEnum):
    """How far a compass can be trusted; the value is the word shown."""

    PLAIN = "plain"
    CAUTION = "caution"
    BLACKOUT = "blackout"


@dataclass(frozen=True, slots=True)
class MagneticField:
    """The Earth's field at a site and a date."""

    declination_deg: float  # east positive
    declination_sigma_deg: float
    inclination_deg: float
    horizontal_nt: float
    yearly_change_deg: float
    zone: MagneticZone
    expired: bool  # outside the years that the model is valid for


def magnetic_field(site: Site, utc: datetime) -> MagneticField:
    """Give the field; outside 2025.0 to 2030.0 it is extrapolated and marked as expired."""
    year = round(year_of(utc), 3)
    return field_at(site.latitude_deg, site.longitude_deg, site.elevation_m, year)


def year_of(utc: datetime) -> float:
    """Give a moment as a decimal year."""
    start = datetime(utc.year, 1, 1, tzinfo=UTC)
    length = datetime(utc.year + 1, 1, 1, tzinfo=UTC) - start
    return utc.year + (utc - start) / length


def declination_sigma_deg(horizontal_nt: float) -> float:
    """Give the one-sigma error of the declination (WMM2025 technical report, error model)."""
    return math.hypot(0.26, 5417.0 / max(horizontal_nt, 1.0))


@lru_cache(maxsize=1)
def _model() -> GeoMag:
    return GeoMag(coefficients_file="wmm/WMM_2025.COF")


@lru_cache(maxsize=64)
def field_at(
    latitude_deg: float, longitude_deg: float, elevation_m: float, year: float
) -> MagneticField:
    """Give the field at a place on the WGS 84 ellipsoid, up to 850 km high, in a decimal year.

    The model is evaluated a year apart for the change; the window asks twice a second.
    """
    now, later = (
        _model().calculate(
            glat=latitude_deg,
            glon=longitude_deg,
            alt=elevation_m / 1000.0,
            time=when,
            allow_date_outside_lifespan=True,
        )
        for when in (year, year + 1.0)
    )
    horizontal_nt = float(now.h)
    change = (float(later.d) - float(now.d) + 180.0) % 360.0 - 180.0
    return MagneticField(
        declination_deg=float(now.d),
        declination_sigma_deg=declination_sigma_deg(horizontal_nt),
        inclination_deg=float(now.i),
        horizontal_nt=horizontal_nt,
        yearly_change_deg=change,
        zone=_zone(horizontal_nt),
        expired=not VALID_FROM_YEAR <= year <= VALID_TO_YEAR,
    )


def _zone(horizontal_nt: float) -> MagneticZone:
    if horizontal_nt < _BLACKOUT_NT:
        return MagneticZone.BLACKOUT
    return MagneticZone.CAUTION if horizontal_nt < _CAUTION_NT else MagneticZone.PLAIN
