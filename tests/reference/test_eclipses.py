"""Eclipses against the published canon, and local contacts against positions by astropy."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
import skyfield_data
from astropy import units
from astropy.coordinates import EarthLocation, get_body, solar_system_ephemeris
from astropy.time import Time
from astropy.utils import iers

from companion.events import ComingRequest, Event, EventKind, what_comes
from companion.night import Conditions, find_instrument
from companion.sky import LOON_BARRENS, Ephemeris, Site, load_catalogue

# Espenak & Meeus, Five Millennium Canon of Lunar Eclipses (NASA TP-2009-214172): greatest eclipse
# (TD), kind, umbral magnitude, of penumbral ones the penumbral. From memory.
LUNAR = (
    ("2024-03-25 07:13:59", "penumbral", 0.956),
    ("2024-09-18 02:45:25", "partial", 0.085),
    ("2025-03-14 06:59:56", "total", 1.178),
    ("2025-09-07 18:12:58", "total", 1.362),
    ("2026-03-03 11:34:52", "total", 1.151),
    ("2026-08-28 04:14:04", "partial", 0.930),
    ("2027-02-20 23:14:06", "penumbral", 0.927),
    ("2027-07-18 16:04:09", "penumbral", 0.001),
    ("2027-08-17 07:14:59", "penumbral", 0.546),
    ("2028-01-12 04:14:13", "partial", 0.066),
    ("2028-07-06 18:20:57", "partial", 0.389),
    ("2028-12-31 16:53:15", "total", 1.246),
    ("2029-06-26 03:23:22", "total", 1.844),
    ("2029-12-20 22:43:12", "total", 1.117),
    ("2030-06-15 18:34:34", "partial", 0.502),
    ("2030-12-09 22:28:51", "penumbral", 0.942),
    ("2031-05-07 03:52:02", "penumbral", 0.882),
    ("2031-06-05 11:45:17", "penumbral", 0.129),
    ("2031-10-30 07:46:45", "penumbral", 0.716),
    ("2032-04-25 15:14:51", "total", 1.191),
    ("2032-10-18 19:03:40", "total", 1.103),
)
# Espenak & Meeus, Five Millennium Canon of Solar Eclipses (NASA TP-2006-214141): days. From memory.
SOLAR = (
    "2024-04-08", "2024-10-02", "2025-03-29", "2025-09-21", "2026-02-17", "2026-08-12",
    "2027-02-06", "2027-08-02", "2028-01-26", "2028-07-22", "2029-01-14", "2029-06-12",
    "2029-07-11", "2029-12-05", "2030-06-01", "2030-11-25", "2031-05-21", "2031-11-14",
    "2032-05-09", "2032-11-03",
)  # fmt: skip
TT_AHEAD = timedelta(seconds=69.184)  # of UTC, with the leap seconds known now


def eclipses(
    ephemeris: Ephemeris, kind: EventKind, first: datetime, last: datetime, site: Site
) -> tuple[Event, ...]:
    request = ComingRequest(
        site, first, last, find_instrument("eye"), Conditions.at(site), frozenset({kind})
    )
    return what_comes(ephemeris, load_catalogue(), request)


START, END = datetime(2024, 1, 1, tzinfo=UTC), datetime(2033, 1, 1, tzinfo=UTC)


def test_lunar_eclipses_are_those_of_the_canon(ephemeris: Ephemeris) -> None:
    found = eclipses(ephemeris, EventKind.LUNAR_ECLIPSE, START, END, LOON_BARRENS)
    assert [(f"{e.utc:%Y-%m-%d}", e.code) for e in found] == [
        (t[:10], kind) for t, kind, _ in LUNAR
    ]
    for event, (told, kind, depth) in zip(found, LUNAR, strict=True):
        canon = datetime.fromisoformat(told).replace(tzinfo=UTC) - TT_AHEAD
        # The canon's shadow and Moon are a little other than ours; greatest hangs on neither.
        assert abs(event.utc - canon) < timedelta(seconds=15), told
        key = "penumbral_magnitude" if kind == "penumbral" else "umbral_magnitude"
        assert event.numbers[key] == pytest.approx(depth, abs=0.005), told


def test_solar_eclipses_are_those_of_the_canon(ephemeris: Ephemeris) -> None:
    found = eclipses(ephemeris, EventKind.SOLAR_ECLIPSE, START, END, LOON_BARRENS)
    assert [f"{event.utc:%Y-%m-%d}" for event in found] == list(SOLAR)


PLACES = (
    (Site("Dallas", 32.78, -96.80, 140.0), "2024-04-08", "total"),
    (Site("Loon Barrens", 45.20, -62.30, 120.0), "2026-08-12", "partial"),
    (Site("Luxor", 25.70, 32.64, 80.0), "2027-08-02", "total"),
    (Site("Dry Pan", -32.4, 20.8, 1500.0), "2027-02-06", "partial"),
)


@pytest.mark.parametrize(("site", "day", "code"), PLACES)
def test_local_contacts_are_where_astropy_has_the_discs_touch(
    ephemeris: Ephemeris, site: Site, day: str, code: str
) -> None:
    """The same radii, positions by astropy from the same DE421: within 1.5″, some seconds."""
    first = datetime.fromisoformat(day).replace(tzinfo=UTC)
    (event,) = eclipses(ephemeris, EventKind.SOLAR_ECLIPSE, first, first + timedelta(days=1), site)
    assert event.code == code
    outer = [event.contacts["first"], event.contacts["fourth"]]
    inner = [event.contacts[c] for c in ("second", "third") if c in event.contacts]
    assert len(inner) == (2 if code == "total" else 0)
    for moment, sign in [*((m, 1.0) for m in outer), *((m, -1.0) for m in inner)]:
        apart, sun, moon = _discs_arcsec(site, moment)
        assert apart == pytest.approx(abs(sun + sign * moon), abs=1.5), moment


def _discs_arcsec(site: Site, moment: datetime) -> tuple[float, float, float]:
    kernel = Path(skyfield_data.__file__).parent / "data" / "de421.bsp"
    here = EarthLocation.from_geodetic(site.longitude_deg, site.latitude_deg, site.elevation_m)
    quiet = iers.conf.set_temp("auto_download", False), iers.conf.set_temp("auto_max_age", None)
    with quiet[0], quiet[1], solar_system_ephemeris.set(kernel.as_uri()):
        sun, moon = (get_body(name, Time(moment), here) for name in ("sun", "moon"))
    radii = [
        ((km * units.km) / body.distance).to_value(units.dimensionless_unscaled) * 206264.806
        for km, body in ((695700.0, sun), (1737.4, moon))
    ]
    return float(sun.separation(moon).arcsec), radii[0], radii[1]
