"""What steps say of the Moon on evenings of a month, against astropy's Moon (ERFA)."""

from datetime import UTC, datetime, timedelta

import astropy.units as u
import numpy as np
import pytest
from astropy.coordinates import AltAz, EarthLocation, get_body
from astropy.time import Time
from astropy.utils import iers

from companion.night import Conditions
from companion.road.evening import Evening
from companion.road.steps import TELLERS
from companion.road.telling import Telling, Waiting
from companion.sky import LOON_BARRENS, Ephemeris, load_catalogue

MONTH = [datetime(2026, 10, 12, 1, 0, tzinfo=UTC) + timedelta(hours=24.5 * n) for n in range(30)]
TWILIGHT = [datetime(2026, 10, 12, 22, 0, tzinfo=UTC) + timedelta(days=n) for n in range(3)]
STEPS = ("moon", "moon-moves", "moon-seas", "moon-shadow")


def evening_of(ephemeris: Ephemeris, utc: datetime) -> Evening:
    return Evening(
        load_catalogue(), ephemeris.moment(LOON_BARRENS, utc), Conditions.at(LOON_BARRENS)
    )


def moon_by_astropy(utc: datetime) -> tuple[float, float]:
    """Give the Moon's altitude without air, in degrees, and how much of its disc is lit."""
    iers.conf.auto_download, iers.conf.auto_max_age = False, None
    site = LOON_BARRENS
    place = EarthLocation.from_geodetic(
        site.longitude_deg * u.deg, site.latitude_deg * u.deg, site.elevation_m * u.m
    )
    when = Time(utc)
    moon, sun = (get_body(body, when, place) for body in ("moon", "sun"))
    apart = moon.separation(sun, origin_mismatch="ignore")
    # Meeus, Astronomical Algorithms, 2nd ed., 48.3, without the Moon's own small parallax.
    phase = np.arctan2(
        sun.distance * np.sin(apart), moon.distance - sun.distance * np.cos(apart)
    ).to_value(u.rad)
    return moon.transform_to(AltAz(obstime=when, location=place)).alt.deg, (1 + np.cos(phase)) / 2


@pytest.mark.parametrize("utc", MONTH + TWILIGHT, ids=lambda utc: f"{utc:%d.%m.}")
def test_why_the_moon_is_not_looked_at_is_true(ephemeris: Ephemeris, utc: datetime) -> None:
    altitude_deg, lit = moon_by_astropy(utc)
    evening = evening_of(ephemeris, utc)
    for key in STEPS:
        told = TELLERS[key](evening)
        if isinstance(told, Telling):
            assert altitude_deg > 4.9
            assert told.altitude_deg == pytest.approx(altitude_deg, abs=0.3)  # air lifts it
        elif "not up" in told.why:
            assert altitude_deg < 0.0
        elif "too low" in told.why:
            assert -0.7 < altitude_deg < 5.1
        elif "too thin" in told.why:
            assert altitude_deg > 4.9
            assert lit < 0.3
        elif "too full" in told.why:
            assert altitude_deg > 4.9
            assert lit > 0.89
            assert key == "moon-shadow"
        else:
            assert told.why == "No star stands near the Moon to measure by."


@pytest.mark.parametrize("utc", MONTH[::3], ids=lambda utc: f"{utc:%d.%m.}")
@pytest.mark.parametrize("key", STEPS)
def test_when_it_is_promised_it_can_be_done(ephemeris: Ephemeris, utc: datetime, key: str) -> None:
    told = TELLERS[key](evening_of(ephemeris, utc))
    if isinstance(told, Waiting):
        assert told.until_utc is not None
        then = TELLERS[key](evening_of(ephemeris, told.until_utc))
        assert isinstance(then, Telling), (told.until_utc, then)


def test_a_full_moon_is_said_to_be_too_full(ephemeris: Ephemeris) -> None:
    """Full on 26 October 2026, 04:12 UTC (from memory; its lit share is astropy's above)."""
    full = datetime(2026, 10, 26, 1, 0, tzinfo=UTC)
    altitude_deg, lit = moon_by_astropy(full)
    assert altitude_deg > 20.0
    assert lit > 0.99
    told = TELLERS["moon-shadow"](evening_of(ephemeris, full))
    assert isinstance(told, Waiting)
    assert told.why == "The Moon is too full for it now: its shadows are short."
    assert told.until_utc is not None
    assert 0.12 < moon_by_astropy(told.until_utc)[1] < 0.9
