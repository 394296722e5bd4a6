"""Altitude and azimuth against astropy, ERFA, JPL Horizons and the US Naval Observatory."""

import warnings
from datetime import UTC, datetime, timedelta
from typing import Any

import astropy.units as u
import erfa
import numpy as np
import pytest
from astropy.coordinates import AltAz, EarthLocation, SkyCoord
from astropy.time import Time
from astropy.utils import iers
from numpy.typing import NDArray

from companion.sky import (
    Ephemeris,
    Kind,
    Site,
    Target,
    TargetTable,
    separation_deg,
    unit_vectors,
)

COUNT = 1000
AIM_ARCSEC = 1.0


def arcsec_between(az1: Any, alt1: Any, az2: Any, alt2: Any) -> NDArray[np.float64]:
    return separation_deg(unit_vectors(az1, alt1), unit_vectors(az2, alt2)) * 3600.0


@pytest.fixture(scope="module")
def cases() -> list[tuple[Site, datetime, Target]]:
    """Random sites, times within the known Earth rotation, and stars with proper motion."""
    random = np.random.default_rng(20261010)
    start = datetime(1995, 1, 1, tzinfo=UTC)
    made = []
    for number in range(COUNT):
        site = Site(
            "",
            float(np.degrees(np.arcsin(random.uniform(-1, 1)))),
            float(random.uniform(-180, 180)),
            float(random.uniform(0, 4000)),
        )
        utc = start + timedelta(days=float(random.uniform(0, 365.25 * 31.8)))
        target = Target(
            f"own:{number}",
            "",
            Kind.STAR,
            float(random.uniform(0, 360)),
            float(np.degrees(np.arcsin(random.uniform(-1, 1)))),
            pm_ra_mas_per_yr=float(random.normal(0, 100)),
            pm_dec_mas_per_yr=float(random.normal(0, 100)),
            parallax_mas=float(random.uniform(0.1, 100)),
            epoch_year=2000.0,
        )
        made.append((site, utc, target))
    return made


@pytest.fixture(scope="module")
def ours(
    ephemeris: Ephemeris, cases: list[tuple[Site, datetime, Target]]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    seen = [
        ephemeris.moment(site, utc).horizontal(TargetTable.of([target], utc))
        for site, utc, target in cases
    ]
    return (
        np.array([float(place.azimuth_deg[0]) for place in seen]),
        np.array([float(place.altitude_airless_deg[0]) for place in seen]),
    )


def test_a_thousand_places_agree_with_astropy(
    cases: list[tuple[Site, datetime, Target]],
    ours: tuple[NDArray[np.float64], NDArray[np.float64]],
    record_property: Any,
) -> None:
    """astropy's ICRS to AltAz (IAU 2006/2000A by ERFA, its IERS tables), no refraction."""
    sites, utcs, targets = zip(*cases, strict=True)
    with warnings.catch_warnings(), iers.conf.set_temp("auto_download", False):
        warnings.simplefilter("ignore")
        iers.conf.auto_max_age = None
        times = Time([utc.replace(tzinfo=None) for utc in utcs], scale="utc")
        here = EarthLocation.from_geodetic(
            [site.longitude_deg for site in sites] * u.deg,
            [site.latitude_deg for site in sites] * u.deg,
            [site.elevation_m for site in sites] * u.m,
        )
        stars = SkyCoord(
            ra=[target.ra_deg for target in targets] * u.deg,
            dec=[target.dec_deg for target in targets] * u.deg,
            distance=[1000.0 / target.parallax_mas for target in targets] * u.pc,
            pm_ra_cosdec=[target.pm_ra_mas_per_yr for target in targets] * u.mas / u.yr,
            pm_dec=[target.pm_dec_mas_per_yr for target in targets] * u.mas / u.yr,
            obstime=Time(2000.0, format="jyear", scale="tdb"),
        ).apply_space_motion(new_obstime=times)
        theirs = stars.transform_to(AltAz(obstime=times, location=here))
    off = arcsec_between(*ours, theirs.az.deg, theirs.alt.deg)
    print(f"worst {off.max():.3f}″, median {np.median(off):.3f}″ against astropy")
    record_property("worst_arcsec", float(off.max()))
    assert off.max() <= AIM_ARCSEC


def test_a_thousand_places_agree_with_erfa(
    cases: list[tuple[Site, datetime, Target]],
    ours: tuple[NDArray[np.float64], NDArray[np.float64]],
) -> None:
    """ERFA's ``atco13`` (IAU SOFA), pressure zero, with Earth rotation of IERS Bulletin A."""
    table = iers.IERS_A.open(iers.IERS_A_FILE)
    off = np.array(
        [
            arcsec_between(*_erfa(table, site, utc, target), azimuth, altitude)
            for (site, utc, target), azimuth, altitude in zip(cases, *ours, strict=True)
        ]
    )
    print(f"worst {off.max():.3f}″, median {np.median(off):.3f}″ against ERFA")
    assert off.max() <= AIM_ARCSEC


def _erfa(table: Any, site: Site, utc: datetime, target: Target) -> tuple[float, float]:
    assert target.ra_deg is not None
    assert target.dec_deg is not None
    jd1, jd2 = erfa.dtf2d(
        "UTC", utc.year, utc.month, utc.day, utc.hour, utc.minute,
        utc.second + utc.microsecond / 1e6,
    )  # fmt: skip
    dut1 = float(table.ut1_utc(jd1, jd2).to_value(u.s))
    xp, yp = (float(value.to_value(u.rad)) for value in table.pm_xy(jd1, jd2))
    mas = np.radians(1.0 / 3.6e6)
    azimuth, zenith, *_rest = erfa.atco13(
        np.radians(target.ra_deg),
        np.radians(target.dec_deg),
        target.pm_ra_mas_per_yr * mas / np.cos(np.radians(target.dec_deg)),
        target.pm_dec_mas_per_yr * mas,
        target.parallax_mas / 1000.0,
        0.0,
        jd1,
        jd2,
        dut1,
        np.radians(site.longitude_deg),
        np.radians(site.latitude_deg),
        site.elevation_m,
        xp,
        yp,
        0.0,
        0.0,
        0.0,
        0.55,
    )
    return float(np.degrees(azimuth)), 90.0 - float(np.degrees(zenith))


def test_mars_agrees_with_horizons(ephemeris: Ephemeris) -> None:
    """JPL Horizons, as in the tests of skyfield's source distribution: airless, with rates."""
    site = Site("", 35.1844866, 248.3473 - 360.0, 2106.9)
    utc = datetime(2021, 2, 3, tzinfo=UTC)
    mars = TargetTable.of([Target("body:mars", "Mars", Kind.PLANET, body="mars")], utc)
    moment = ephemeris.moment(site, utc)
    seen, rates = moment.horizontal(mars), moment.rates(mars)
    assert seen.altitude_airless_deg[0] == pytest.approx(65.2758, abs=1.0 / 3600)
    assert seen.azimuth_deg[0] == pytest.approx(131.8839, abs=2.0 / 3600)
    across = rates.azimuth_arcsec_per_s[0] * np.cos(np.radians(65.2758)) * 60
    assert across == pytest.approx(663.55, rel=5e-4)
    assert rates.altitude_arcsec_per_s[0] * 60 == pytest.approx(548.66, rel=5e-4)


def test_venus_agrees_with_the_naval_observatory(ephemeris: Ephemeris) -> None:
    """Meeus, *Astronomical Algorithms*, 2nd ed., example 13.b: airless, from the Earth's centre."""
    site = Site("US Naval Observatory", 38 + 55 / 60 + 17 / 3600, -(77 + 3 / 60 + 56 / 3600))
    utc = datetime(1987, 4, 10, 19, 21, tzinfo=UTC)
    venus = TargetTable.of([Target("body:venus", "Venus", Kind.PLANET, body="venus")], utc)
    seen = ephemeris.moment(site, utc).horizontal(venus)
    # The example leaves out the parallax of Venus, at most 8″, and gives three decimals.
    assert seen.azimuth_deg[0] == pytest.approx(68.034 + 180.0, abs=0.003)
    assert seen.altitude_airless_deg[0] == pytest.approx(15.125, abs=0.003)


def test_the_moon_agrees_with_the_naval_observatory(ephemeris: Ephemeris) -> None:
    """Apparent topocentric places of the USNO from ``apptopo_moon.txt`` of ``ephem``'s tests."""
    from pathlib import Path

    import ephem

    site = Site("Atlanta", 33.76, -84.41, 322.0)
    lines = (Path(ephem.__file__).parent / "tests/usno/apptopo_moon.txt").read_text().splitlines()
    checked = 0
    for line in lines:
        if not line.startswith("2008"):
            continue
        utc = datetime.strptime(line[:20], "%Y %b %d %H:%M:%S").replace(tzinfo=UTC)
        utc += timedelta(seconds=0.455)  # the table is in UT1; UT1 - UTC was about -0.455 s
        hours, minutes, seconds = (float(part) for part in line[25:42].split())
        sign = -1.0 if line[44] == "-" else 1.0
        degrees, arcmin, arcsec = (float(p) for p in line[45:62].split())
        ra_deg = 15.0 * (hours + minutes / 60 + seconds / 3600)
        dec_deg = sign * (degrees + arcmin / 60 + arcsec / 3600)
        seen = ephemeris.moment(site, utc).body("moon")
        # From ICRS axes to true equator and equinox of date by ERFA's classical matrix.
        tt = 2451545.0 + (utc - datetime(2000, 1, 1, 12, tzinfo=UTC)).total_seconds() / 86400.0
        matrix = erfa.pnm06a(tt + 65.184 / 86400.0, 0.0)
        vector = matrix @ unit_vectors(seen.ra_deg, seen.dec_deg)
        off = float(separation_deg(vector, unit_vectors(ra_deg, dec_deg))) * 3600
        assert off < 1.0, line
        checked += 1
    assert checked == 12
