"""Moon, moons and meridians against libraries that the program does not use for them.

Over a thousand dates that a fixed seed draws from what the ephemeris covers. Each test says the
worst difference when it is run with ``-s``.
"""

import math
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from random import Random

import astronomy
import ephem
import numpy as np
import pytest

from companion.about.jupiter_moons import NAMES, moon_places_km
from companion.about.moon import moon_look
from companion.about.orientation import disk_axes
from companion.about.planet import central_meridian, planet_turn
from companion.about.rings import ring_look
from companion.about.saturn_moons import saturn_moons
from companion.sky import Ephemeris, body_axes

COUNT = 1000
FIRST, DAYS = datetime(1900, 1, 1, tzinfo=UTC), 55_800


def dates(count: int = COUNT, first: datetime = FIRST, days: float = DAYS) -> Iterator[datetime]:
    random = Random(53)  # noqa: S311 - dates, no secrets
    return (first + timedelta(days=random.random() * days) for _ in range(count))


def time_of(ephemeris: Ephemeris, utc: datetime) -> astronomy.Time:
    """By dynamical time: each library has a rotation of the Earth of its own."""
    return astronomy.Time.FromTerrestrialTime(float(ephemeris.earth.time(utc).tt) - 2451545.0)


def ephem_date(ephemeris: Ephemeris, utc: datetime) -> ephem.Date:
    days = float(ephemeris.earth.time(utc).tt) - 2415020.0
    return ephem.Date(days - ephem.delta_t(ephem.Date(days)) / 86400.0)


def apart(a: float, b: float) -> float:
    return abs((a - b + 180.0) % 360.0 - 180.0)


@pytest.mark.slow
def test_the_moon_over_a_thousand_dates(ephemeris: Ephemeris) -> None:
    """Libration and the Sun's point; nothing of the other libraries is ours.

    ``astronomy-engine`` and ``ephem`` have libration by Meeus, ch. 53, on axes 0.022° aside in
    latitude; the Sun's point follows from ``astronomy-engine``'s Sun, Moon and axis of the Moon.
    """
    worst = np.zeros(6)
    for utc in dates():
        look = moon_look(ephemeris.aspect("moon", utc))
        facing, time = look.facing, time_of(ephemeris, utc)
        theirs, moon = astronomy.Libration(time), ephem.Moon(ephem_date(ephemeris, utc))
        here = astronomy.GeoVector(astronomy.Body.Moon, time, True)
        sun = astronomy.GeoVector(astronomy.Body.Sun, time, True)
        to_sun = np.array([sun.x - here.x, sun.y - here.y, sun.z - here.z])
        latitude, longitude = under(to_sun, astronomy.RotationAxis(astronomy.Body.Moon, time))
        worst = np.maximum(
            worst,
            [
                apart(facing.longitude_deg, theirs.elon),
                apart(facing.latitude_deg + 0.022, theirs.elat),
                apart(look.subsolar.longitude_deg, longitude),
                apart(look.subsolar.latitude_deg, latitude),
                apart(facing.longitude_deg, math.degrees(moon.libration_long)),
                apart(facing.latitude_deg + 0.022, math.degrees(moon.libration_lat)),
            ],
        )
    print("\nlibration and the Sun's point, worst:", np.round(worst, 4))
    assert worst[:4].max() < 0.01
    assert worst[4:].max() < 0.03  # ephem's own series is cut shorter


def under(vector: np.ndarray, axis: astronomy.AxisInfo) -> tuple[float, float]:
    """Planetocentric latitude and east longitude below a direction, from another's axis."""
    ra, dec, spin = math.radians(axis.ra * 15.0), math.radians(axis.dec), math.radians(axis.spin)
    pole = np.array([math.cos(dec) * math.cos(ra), math.cos(dec) * math.sin(ra), math.sin(dec)])
    node = np.array([-math.sin(ra), math.cos(ra), 0.0])
    beside = np.cross(pole, node)
    x = vector @ (math.cos(spin) * node + math.sin(spin) * beside)
    y = vector @ (math.cos(spin) * beside - math.sin(spin) * node)
    size = float(np.linalg.norm(vector))
    return math.degrees(math.asin(float(vector @ pole) / size)), math.degrees(math.atan2(y, x))


@pytest.mark.parametrize(("body", "system"), [("jupiter", "III"), ("mars", "I"), ("saturn", "")])
def test_axes_as_another_library_has_them(ephemeris: Ephemeris, body: str, system: str) -> None:
    """``astronomy-engine`` has the poles and meridians of the IAU's report of 2015."""
    worst = np.zeros(2)
    for utc in dates(100):
        aspect = ephemeris.aspect(body, utc)
        light = timedelta(seconds=aspect.light_time_s)
        which = astronomy.Body[body.capitalize()]
        axis = astronomy.RotationAxis(which, time_of(ephemeris, utc - light))
        latitude, longitude = under(-aspect.to_body_km, axis)
        axes = body_axes(body, aspect.days, system)
        ours = -aspect.to_body_km @ axes.T
        worst = np.maximum(
            worst,
            [
                apart(math.degrees(math.atan2(ours[1], ours[0])), longitude),
                apart(planet_turn(aspect).facing_latitude_deg, latitude),
            ],
        )
    print(f"\n{body} meridian and latitude, worst:", np.round(worst, 4))
    assert worst[1] < 0.02
    assert worst[0] < (0.2 if body == "mars" else 0.05)


def test_jupiters_meridian_counts_its_lit_part(ephemeris: Ephemeris) -> None:
    """Meeus, ch. 43: at most 0.57° at quadrature, nothing at opposition."""
    for utc in dates(50):
        aspect = ephemeris.aspect("jupiter", utc)
        axes = body_axes("jupiter", aspect.days, "II")
        seen = -aspect.to_body_km @ axes.T
        middle = -math.degrees(math.atan2(seen[1], seen[0])) % 360.0
        assert apart(central_meridian(aspect, "II"), middle) < 0.6


@pytest.mark.slow
def test_moons_of_jupiter_over_a_thousand_dates(ephemeris: Ephemeris) -> None:
    """Against ``ephem`` from 1999 to 2040, for which it has theories of the Bureau des Longitudes.

    It gives them without perspective, towards the pole of J2000, in a radius of Jupiter of its own:
    the ratio is taken out, moon by moon. Its moons take a date as dynamical time.
    """
    ours, theirs = [], []
    for utc in dates(COUNT, datetime(1999, 1, 1, tzinfo=UTC), 15_000.0):
        aspect = ephemeris.aspect("jupiter", utc)
        radius = math.degrees(aspect.radius_km / aspect.distance_km) * 3600.0
        dynamical = ephem.Date(float(ephemeris.earth.time(utc).tt) - 2415020.0)
        east, north, _sight = disk_axes(replace(aspect, north=np.array([0.0, 0.0, 1.0])))
        for name, place in zip(NAMES, moon_places_km(aspect), strict=True):
            other = getattr(ephem, name)(dynamical)
            ours.append(np.array([place @ east, place @ north]) / aspect.radius_km * radius)
            theirs.append((other.x * radius, -other.y * radius))
    a, b = np.array(ours).reshape(-1, 4, 2), np.array(theirs).reshape(-1, 4, 2)
    scale = (a * b).sum(axis=(0, 2)) / (b * b).sum(axis=(0, 2))
    worst = np.abs(a - scale[:, None] * b).max(axis=0)
    print("\nmoons of Jupiter, worst:", np.round(worst, 3).tolist(), "scale", scale.round(5))
    assert scale == pytest.approx(np.ones(4), abs=0.003)
    assert worst.max() < 0.7  # of 10 minutes of arc, the width of Callisto's orbit


def test_moons_of_saturn_lie_where_their_orbits_are(ephemeris: Ephemeris) -> None:
    """In the plane of the ring each keeps to its orbit: axis and eccentricity by JPL (from memory).

    Kilometres: Titan 1,221,870 and 0.0288, Rhea 527,070 and 0.001, Dione 377,420 and 0.002. Tilts
    of the orbits against the ring, up to 0.35°, count for up to 3 percent of the depth.
    """
    orbits = {
        "Titan": (1_221_870.0, 0.0288),
        "Rhea": (527_070.0, 0.001),
        "Dione": (377_420.0, 0.002),
    }
    worst = dict.fromkeys(orbits, 0.0)
    for utc in dates(300, datetime(1999, 1, 1, tzinfo=UTC), 14_900.0):
        aspect = ephemeris.aspect("saturn", utc)
        ring = ring_look(aspect)
        if abs(ring.opening_deg) < 10.0:
            continue  # from so low over the plane the depth cannot be read off
        angle = math.radians(ring.angle_deg)
        for moon in saturn_moons(aspect):
            if moon.name not in orbits:
                continue
            axis_km, eccentricity = orbits[moon.name]
            east, north = moon.east_arcsec, moon.north_arcsec
            along = east * math.cos(angle) - north * math.sin(angle)
            across = east * math.sin(angle) + north * math.cos(angle)
            deep = across / math.sin(math.radians(ring.opening_deg))
            away_km = math.hypot(along, deep) / 206_265.0 * aspect.distance_km
            off = max(abs(away_km / axis_km - 1.0) - eccentricity, 0.0)
            worst[moon.name] = max(worst[moon.name], off)
    print("\nmoons of Saturn, parts of their orbits, worst:", worst)
    assert max(worst.values()) < 0.03


def test_no_moons_of_saturn_where_the_tables_end(ephemeris: Ephemeris) -> None:
    for year in (1950, 1998, 2040, 2050):
        assert saturn_moons(ephemeris.aspect("saturn", datetime(year, 3, 1, tzinfo=UTC))) == ()
