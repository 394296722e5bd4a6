from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from companion.finding import Eyepiece, Finder, Instrument, InstrumentKind, Viewing
from companion.instant import Choices, SnapshotBuilder
from companion.mount import Dial, Mount
from companion.sky import LOON_BARRENS, POLARIS, Ephemeris, load_catalogue

UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
SCOPE = Instrument(
    "150 mm f/8",
    InstrumentKind.TELESCOPE,
    150.0,
    focal_mm=1200.0,
    eyepieces=(Eyepiece("25 mm", 25.0, 48.0),),
    finder=Finder("finder", 6.0, 8.0, 50.0),
    viewing=Viewing.TURNED,
)
VEGA = load_catalogue().star(91262)


def choices(**fields: object) -> Choices:
    base = Choices(stamp=1, site=LOON_BARRENS, target=VEGA, instrument=SCOPE)
    return replace(base, **fields)  # type: ignore[arg-type]  # fields of Choices


def test_a_star_stays_as_long_as_the_sky_turns(ephemeris: Ephemeris) -> None:
    aim = SnapshotBuilder(ephemeris).build(choices(), UTC_NOW).aim
    assert aim is not None
    finder, eyepiece = aim.handling.stays
    assert (finder.look, eyepiece.look) == ("finder", "25 mm")
    # 48° ÷ 48 is a field of 1°, half of which takes 2 minutes ÷ cos(declination 38.8°).
    assert eyepiece.field_deg == pytest.approx(1.0)
    assert eyepiece.seconds == pytest.approx(0.5 * 3600 / 15.041 / 0.7795, rel=0.01)
    assert finder.seconds == pytest.approx(6 * (eyepiece.seconds or 0), rel=1e-6)


def test_the_drift_is_that_of_the_view(ephemeris: Ephemeris) -> None:
    aim = SnapshotBuilder(ephemeris).build(choices(), UTC_NOW).aim
    assert aim is not None
    finder, eyepiece = aim.handling.stays
    # Vega sinks in the west, to the right: upside down it leaves up and to the left.
    assert finder.direction == "down and right"
    assert eyepiece.direction == "up and left"
    assert eyepiece.viewing == "turned upside down"


def test_near_the_zenith_it_says_when_to_come_back(ephemeris: Ephemeris) -> None:
    moment = ephemeris.moment(LOON_BARRENS, UTC_NOW)
    ra, dec = moment.icrs_of(180.0, 89.9)
    target = load_catalogue().target(f"icrs:{float(ra[0]):.5f}{float(dec[0]):+.5f}")
    aim = SnapshotBuilder(ephemeris).build(choices(target=target), UTC_NOW).aim
    assert aim is not None
    assert "Near the zenith" in aim.handling.blind
    calm = SnapshotBuilder(ephemeris).build(choices(), UTC_NOW).aim
    assert calm is not None
    assert calm.handling.blind == ""


def test_a_low_tripod_and_a_cable_are_minded(ephemeris: Ephemeris) -> None:
    mount = Mount("stiff", Dial(high_deg=180.0), reach_high_deg=60.0)
    made = choices(mount=mount, last_target=POLARIS)
    aim = SnapshotBuilder(ephemeris).build(made, UTC_NOW).aim
    assert aim is not None
    assert "higher than the tube can be brought" in aim.handling.reach


def test_readings_lead_back_to_the_sky(ephemeris: Ephemeris) -> None:
    builder = SnapshotBuilder(ephemeris)
    aim = builder.build(choices(), UTC_NOW).aim
    assert aim is not None
    there = choices(pointed_deg=(aim.azimuth_deg, aim.altitude_deg))
    pointed = builder.build(there, UTC_NOW).pointed
    assert pointed is not None
    assert (pointed.star, pointed.constellation) == ("Vega", "Lyra")
    assert pointed.star_distance_deg < 0.01
    assert pointed.ra_deg == pytest.approx(279.235, abs=0.01)
    turned = Mount("turned", Dial(clockwise=False, zero_deg=90.0))
    on_dial = choices(mount=turned, pointed_deg=((90.0 - aim.azimuth_deg) % 360, aim.altitude_deg))
    by_dial = builder.build(on_dial, UTC_NOW + timedelta(seconds=1)).pointed
    assert by_dial is not None
    assert by_dial.star == "Vega"
    wide = replace(SCOPE, finder=Finder("finder", 15.0))
    around = builder.build(replace(there, instrument=wide), UTC_NOW).pointed
    assert around is not None
    assert "M 57" in [name for name, _distance in around.objects]
    assert builder.build(choices(), UTC_NOW).pointed is None
