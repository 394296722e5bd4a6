"""Orders of ten nights recomputed from nothing but astropy and the laws as they were published.

Altitudes: astropy's AltAz (SOFA) and its own Sun, without the program's ephemeris. Airmass: Kasten
& Young 1989, Applied Optics 28, 4735. Brightness perceived: Stevens 1961, Science 133, 80, exponent
0.5 for points (from memory). What is bright enough gains what the air leaves of its light; the
twilight law and the limits are checked elsewhere. Sites at 69.7° and 89° N in midsummer: the Sun
does not set, and nothing may be recommended.
"""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from astropy import units
from astropy.coordinates import AltAz, EarthLocation, SkyCoord, get_sun
from astropy.time import Time
from astropy.utils import iers

from companion.night import (
    Candidates,
    Conditions,
    NightOrder,
    Session,
    TonightRequest,
    Wish,
    find_instrument,
    night_grid,
    order_queue,
    rank_tonight,
)
from companion.sky import DRY_PAN, LOON_BARRENS, Ephemeris, Kind, Site, load_catalogue

FAR_NORTH = Site("the far north", 69.7, 19.0, 0.0, time_zone="Europe/Oslo")
NEAR_THE_POLE = Site("near the pole", 89.0, 0.0, 0.0, time_zone="UTC")
NIGHTS = (
    *((LOON_BARRENS, datetime(2026, month, 12, 23, 30, tzinfo=UTC)) for month in (1, 4, 8, 10, 12)),
    *((DRY_PAN, datetime(2026, month, 12, 19, 0, tzinfo=UTC)) for month in (2, 6, 9, 11)),
    (NEAR_THE_POLE, datetime(2026, 12, 12, 18, 0, tzinfo=UTC)),
)
NEVER_DARK = (
    (FAR_NORTH, datetime(2026, 6, 21, 22, 0, tzinfo=UTC)),
    (NEAR_THE_POLE, datetime(2026, 6, 21, 22, 0, tzinfo=UTC)),
)


def ordered(ephemeris: Ephemeris, site: Site, utc: datetime, hours: float = 4.0) -> NightOrder:
    bright = load_catalogue().bright_stars(2.2)
    targets = [star for star in bright if star.kind is Kind.STAR][::3]
    return order_queue(
        ephemeris,
        night_grid(ephemeris, site, utc),
        [Wish(target) for target in targets],
        Session(utc, utc + timedelta(hours=hours)),
        instrument=find_instrument("150"),
        conditions=Conditions.at(site),
    )


def astropy_altitudes(site: Site, sky: SkyCoord, times: list[datetime]) -> np.ndarray:
    """Refracted altitudes in degrees, as astropy has them."""
    place = EarthLocation.from_geodetic(site.longitude_deg, site.latitude_deg, site.elevation_m)
    frame = AltAz(
        obstime=Time(times),
        location=place,
        pressure=1010.0 * units.hPa,
        temperature=10.0 * units.deg_C,
        obswl=0.55 * units.micron,
    )
    return np.asarray(sky.transform_to(frame).alt.deg)


@pytest.fixture(autouse=True)
def no_download() -> None:
    iers.conf.auto_download, iers.conf.auto_max_age = False, None


def gain(altitude_deg: np.ndarray, site: Site) -> np.ndarray:
    """What the air leaves of a bright star, perceived."""
    airmass = 1.0 / (
        np.sin(np.radians(altitude_deg)) + 0.50572 * (altitude_deg + 6.07995) ** -1.6364
    )
    # Schaefer 1993, Vistas in Astronomy 36, 311 (from memory): ozone, molecules, dust.
    k = 0.031 + 0.1066 * np.exp(-site.elevation_m / 8200) + 0.12 * np.exp(-site.elevation_m / 1500)
    return np.asarray(10.0 ** (-0.4 * 0.5 * k * (airmass - 1.0)))


@pytest.mark.parametrize(("site", "utc"), NIGHTS, ids=lambda one: str(one)[:24])
def test_an_order_is_what_astropy_makes_of_it(
    ephemeris: Ephemeris, site: Site, utc: datetime
) -> None:
    order = ordered(ephemeris, site, utc)
    assert order.stops
    catalogue = load_catalogue()
    for stop in order.stops:
        star = catalogue.star(int(stop.target.key.removeprefix("hip:")))
        sky = SkyCoord(star.ra_deg * units.deg, star.dec_deg * units.deg)
        middle = stop.start_utc + (stop.end_utc - stop.start_utc) / 2
        begins, at_middle, ends = astropy_altitudes(
            site, sky, [stop.start_utc, middle, stop.end_utc]
        )
        assert stop.altitude_deg == pytest.approx(begins, abs=0.05)
        assert min(begins, ends) > 9.9
        assert stop.gain == pytest.approx(float(gain(np.array(at_middle), site)), abs=0.01)
        times = Time([stop.start_utc, stop.end_utc])
        place = EarthLocation.from_geodetic(site.longitude_deg, site.latitude_deg)
        sun = get_sun(times).transform_to(AltAz(obstime=times, location=place)).alt.deg
        assert sun.max() < -0.8


@pytest.mark.parametrize(("site", "utc"), NIGHTS[:9:8], ids=lambda one: str(one)[:24])
def test_no_other_time_of_the_evening_gives_a_lone_star_more(
    ephemeris: Ephemeris, site: Site, utc: datetime
) -> None:
    """For one star the best moment follows by hand: gain less a tenth of the best an hour."""
    hours = 3.0
    length_s = hours * 3600.0
    for lost_or_kept in ordered(ephemeris, site, utc, hours).stops[:2]:
        target = lost_or_kept.target
        session = Session(utc, utc + timedelta(hours=hours), setup_minutes=0.0)
        (stop,) = order_queue(
            ephemeris,
            night_grid(ephemeris, site, utc),
            [Wish(target)],
            session,
            instrument=find_instrument("150"),
            conditions=Conditions.at(site),
        ).stops
        sky = SkyCoord(target.ra_deg * units.deg, target.dec_deg * units.deg)
        waits_s = np.arange(0.0, length_s - 480.0, 60.0)
        times = [utc + timedelta(seconds=float(wait) + 240.0) for wait in waits_s]
        altitude = astropy_altitudes(site, sky, times)
        shows = np.where(altitude > 10.0, gain(np.maximum(altitude, 1.0), site), 0.0)
        worth = shows - shows.max() * waits_s / 36000.0
        ours = shows - shows.max() * (stop.waits_s / 36000.0)
        at = int(np.abs(waits_s - stop.waits_s).argmin())
        assert ours[at] > worth.max() - 0.02


@pytest.mark.parametrize(("site", "utc"), NEVER_DARK, ids=lambda one: str(one)[:24])
def test_where_the_sun_does_not_set_nothing_is_recommended(
    ephemeris: Ephemeris, site: Site, utc: datetime
) -> None:
    noon = utc.replace(hour=12)
    times = Time([noon + timedelta(minutes=10 * step) for step in range(145)])
    place = EarthLocation.from_geodetic(site.longitude_deg, site.latitude_deg)
    sun = get_sun(times).transform_to(AltAz(obstime=times, location=place)).alt.deg
    assert sun.min() > 0.0
    order = ordered(ephemeris, site, utc, 8.0)
    assert order.stops == ()
    assert {lost.code.value for lost in order.lost} == {"no_window"}
    request = TonightRequest(site, utc, find_instrument("150"), Conditions.at(site))
    assert rank_tonight(ephemeris, Candidates.of(load_catalogue()), request).rows == ()
