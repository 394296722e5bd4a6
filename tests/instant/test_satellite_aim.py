"""The live aim at a satellite with a lead, against skyfield's own satellite.

Dials turned by hand are set ahead of it: the numbers are for the moment at which the lead is over.
"""

from datetime import UTC, datetime, timedelta

import pytest
from skyfield.api import EarthSatellite, wgs84

from companion.events import mover_of, read_elements
from companion.instant import Choices, SnapshotBuilder
from companion.sky import LOON_BARRENS, Ephemeris

# The example by which the format is usually shown (from memory).
STATION = """STATION
1 25544U 98067A   08264.51782528 -.00002182  00000-0 -11606-4 0  2927
2 25544  51.6416 247.4627 0006703 130.5360 325.0288 15.72125391563537"""


@pytest.mark.parametrize("lead_s", [0.0, 10.0, 45.0])
@pytest.mark.parametrize("before_s", [120.0, 30.0, 0.0])
def test_the_aim_is_where_the_satellite_will_be(lead_s: float, before_s: float) -> None:
    ephemeris = Ephemeris.load()
    mover = mover_of(read_elements(STATION).elements[0])
    ephemeris.carry([mover])
    name, first, second = STATION.splitlines()
    satellite = EarthSatellite(first, second, name, ephemeris.earth.timescale)
    place = wgs84.latlon(45.20, -62.30, 120.0)
    window = [ephemeris.earth.time(datetime(2008, 9, day, tzinfo=UTC)) for day in (20, 22)]
    times, kinds = satellite.find_events(place, *window, altitude_degrees=40.0)
    highest = next(time for time, kind in zip(times, kinds, strict=True) if kind == 1)
    utc = highest.utc_datetime() - timedelta(seconds=before_s)
    choices = Choices(1, LOON_BARRENS, target=mover.target, lead_s=lead_s)
    snapshot = SnapshotBuilder(ephemeris).build(choices, utc)
    assert snapshot.aim is not None
    then = ephemeris.earth.time(utc + timedelta(seconds=lead_s))
    altitude, azimuth, _far = (
        (satellite - place).at(then).altaz(temperature_C=10.0, pressure_mbar=995.0)
    )
    assert snapshot.aim.altitude_deg == pytest.approx(altitude.degrees, abs=0.03)
    off = (snapshot.aim.azimuth_deg - azimuth.degrees + 180.0) % 360.0 - 180.0
    assert abs(off) < 0.06
    ephemeris.close()
