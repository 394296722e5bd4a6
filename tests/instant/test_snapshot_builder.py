import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from companion.advice import AdviceError
from companion.instant import Choices, CompassZone, SnapshotBuilder, Trend
from companion.sky import (
    DRY_PAN,
    LOON_BARRENS,
    POLARIS,
    Ephemeris,
    Kind,
    Site,
    Target,
    TargetTable,
    load_catalogue,
)

UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
SATURN = Target("body:saturn", "Saturn", Kind.PLANET, body="saturn")
VEGA = Target("hip:91262", "Vega", Kind.STAR, 279.2347, 38.7837, constellation="Lyr")
MERCURY = Target("body:mercury", "Mercury", Kind.PLANET, body="mercury")
QUEUE = (SATURN, VEGA, POLARIS, MERCURY)
BASE = Choices(stamp=7, site=LOON_BARRENS, target=SATURN, last_target=VEGA, queue=QUEUE)


@pytest.fixture
def builder(ephemeris: Ephemeris) -> SnapshotBuilder:
    return SnapshotBuilder(ephemeris)


def test_the_aim_is_where_the_sky_says(builder: SnapshotBuilder, ephemeris: Ephemeris) -> None:
    snapshot = builder.build(BASE, UTC_NOW)
    aim = snapshot.aim
    assert aim is not None
    table = TargetTable.of([SATURN], UTC_NOW)
    seen = ephemeris.moment(LOON_BARRENS, UTC_NOW).horizontal(table)
    assert aim.altitude_deg == pytest.approx(float(seen.altitude_deg[0]), abs=1e-6)
    assert aim.azimuth_deg == pytest.approx(float(seen.azimuth_deg[0]), abs=1e-6)
    assert aim.trend is Trend.RISING
    assert aim.constellation == "Cetus"
    assert aim.detail.startswith("rings tilted")
    assert aim.size.endswith("″")
    assert snapshot.stamp == 7
    assert f"{snapshot.local:%H:%M %Z}" == "20:14 ADT"


def test_the_turn_goes_from_the_last_target(builder: SnapshotBuilder) -> None:
    snapshot = builder.build(BASE, UTC_NOW)
    assert snapshot.aim is not None
    turn = snapshot.aim.turn
    assert turn is not None
    rows = {row.key: row for row in snapshot.rows}
    vega, saturn = rows["hip:91262"], rows["body:saturn"]
    expected = (saturn.azimuth_deg - vega.azimuth_deg + 180) % 360 - 180
    assert turn.from_name == "Vega"
    assert turn.azimuth_deg == pytest.approx(expected, abs=1e-6)
    assert turn.altitude_deg == pytest.approx(saturn.altitude_deg - vega.altitude_deg, abs=1e-6)
    assert turn.fists == pytest.approx(abs(expected) / 10)


def test_rows_know_their_time(builder: SnapshotBuilder) -> None:
    snapshot = builder.build(BASE, UTC_NOW)
    rows = {row.key: row for row in snapshot.rows}
    assert [row.key for row in snapshot.rows] == [target.key for target in QUEUE]
    assert rows[POLARIS.key].time_left_s is None  # never sinks under 10° there
    assert rows["hip:91262"].time_left_s is not None
    later = builder.build(BASE, UTC_NOW + timedelta(minutes=10))
    left = {row.key: row.time_left_s for row in later.rows}["hip:91262"]
    assert left is not None
    assert rows["hip:91262"].time_left_s - left == pytest.approx(600, abs=1)
    assert rows["body:mercury"].altitude_deg < 0
    assert rows["body:mercury"].rises_in_s is not None


def test_the_compass_is_corrected(builder: SnapshotBuilder) -> None:
    plain = builder.build(BASE, UTC_NOW)
    deviated = builder.build(replace(BASE, compass_deviation_deg=2.0), UTC_NOW)
    assert plain.aim is not None
    assert deviated.aim is not None
    declination = plain.north.declination_deg
    assert declination is not None
    # About 16° west at Loon Barrens by WMM2025.
    assert declination == pytest.approx(-16.3, abs=0.3)
    assert plain.aim.compass_deg == pytest.approx((plain.aim.azimuth_deg - declination) % 360)
    assert (plain.aim.compass_deg or 0) - (deviated.aim.compass_deg or 0) == pytest.approx(2.0)
    assert plain.north.compass_for_true_north_deg == pytest.approx(-declination % 360)


def test_in_the_blackout_zone_no_compass_number_is_given(builder: SnapshotBuilder) -> None:
    near_magnetic_pole = Site("", 86.0, 140.0)
    snapshot = builder.build(replace(BASE, site=near_magnetic_pole), UTC_NOW)
    assert snapshot.north.zone is CompassZone.BLACKOUT
    assert snapshot.north.declination_deg is None
    assert snapshot.aim is not None
    assert snapshot.aim.compass_deg is None


def test_polaris_is_no_help_in_the_south(builder: SnapshotBuilder) -> None:
    north, south = (
        builder.build(replace(BASE, site=site), UTC_NOW).north for site in (LOON_BARRENS, DRY_PAN)
    )
    assert north.polaris_altitude_deg == pytest.approx(45.2, abs=0.9)
    assert north.polaris_gain is not None
    assert north.polaris_gain > 3
    assert (south.polaris_altitude_deg, south.polaris_gain) == (None, None)


def test_a_shadow_falls_away_from_the_sun(builder: SnapshotBuilder) -> None:
    """At noon in the north it points north, in the south south; at night there is none."""
    for site, noon, falls_deg in (
        (LOON_BARRENS, datetime(2026, 10, 10, 15, 56, tzinfo=UTC), 0.0),
        (DRY_PAN, datetime(2026, 6, 20, 10, 38, tzinfo=UTC), 180.0),
    ):
        north = builder.build(replace(BASE, site=site), noon).north
        assert north.shadow_azimuth_deg is not None
        off = (north.shadow_azimuth_deg - falls_deg + 180.0) % 360.0 - 180.0
        assert off == pytest.approx(0.0, abs=1.0)
    assert builder.build(BASE, UTC_NOW).north.shadow_azimuth_deg is None


def test_what_never_rises_is_not_waited_for(builder: SnapshotBuilder) -> None:
    far_south = Target("own:1", "far south", Kind.PLACE, 100.0, -70.0)
    far_north = Target("own:2", "far north", Kind.PLACE, 100.0, 70.0)
    choices = replace(BASE, target=far_south, queue=(far_south, far_north))
    snapshot = builder.build(choices, UTC_NOW)
    south, north = snapshot.rows
    assert (south.rises_in_s, south.time_left_s) == (None, 0.0)
    assert (north.rises_in_s, north.time_left_s) == (None, None)
    assert snapshot.aim is not None
    assert snapshot.aim.rises_utc is None
    assert snapshot.aim.never


def test_near_the_sun_by_day_there_is_danger(builder: SnapshotBuilder) -> None:
    noon = datetime(2026, 10, 10, 16, 0, tzinfo=UTC)
    venus = Target("body:venus", "Venus", Kind.PLANET, body="venus")
    choices = replace(BASE, target=venus, queue=(venus, MERCURY, POLARIS))
    snapshot = builder.build(choices, noon)
    assert snapshot.aim is not None
    distance = snapshot.aim.sun_distance_deg
    assert distance is not None
    assert snapshot.aim.sun_danger == (distance < 20.0)
    conjunction = datetime(2026, 10, 24, 16, 0, tzinfo=UTC)  # Venus passes between Sun and Earth
    danger = builder.build(choices, conjunction)
    assert danger.aim is not None
    assert danger.aim.sun_danger
    assert danger.rows[0].sun_danger
    night = builder.build(choices, datetime(2026, 10, 24, 4, 0, tzinfo=UTC))
    assert night.aim is not None
    assert not night.aim.sun_danger


def test_the_lead_is_that_of_the_sky_seconds_later(builder: SnapshotBuilder) -> None:
    ahead = builder.build(replace(BASE, lead_s=60.0), UTC_NOW)
    later = builder.build(BASE, UTC_NOW + timedelta(seconds=60))
    assert ahead.aim is not None
    assert later.aim is not None
    assert ahead.aim.azimuth_deg == pytest.approx(later.aim.azimuth_deg, abs=1e-5)
    assert ahead.utc == UTC_NOW


def test_numbers_ahead_stand_still_and_count_down(builder: SnapshotBuilder) -> None:
    counting = replace(BASE, lead_s=60.0, lead_since_utc=UTC_NOW)
    first, second, renewed = (
        builder.build(counting, UTC_NOW + timedelta(seconds=seconds)).aim for seconds in (5, 40, 61)
    )
    assert first is not None
    assert second is not None
    assert renewed is not None
    assert [one.lead_s for one in (first, second, renewed)] == pytest.approx([55.0, 20.0, 59.0])
    assert first.azimuth_deg == pytest.approx(second.azimuth_deg, abs=1e-5)
    assert abs(renewed.azimuth_deg - first.azimuth_deg) > 0.01


def test_the_darkness_is_told(builder: SnapshotBuilder) -> None:
    dark = builder.build(BASE, UTC_NOW).dark
    assert (dark.phase, dark.next_phase) == ("dark", "astronomical twilight")
    assert dark.next_phase_utc is not None
    assert not dark.moon_up
    assert dark.moon_next == "rises"


@pytest.mark.parametrize("latitude_deg", [90.0, 89.0, -90.0])
def test_the_poles_are_places_like_others(builder: SnapshotBuilder, latitude_deg: float) -> None:
    site = Site("", latitude_deg, 0.0)
    snapshot = builder.build(replace(BASE, site=site), UTC_NOW)
    assert len(snapshot.rows) == len(QUEUE)
    assert snapshot.dark.next_phase


def test_a_wrong_clock_is_doubted(builder: SnapshotBuilder) -> None:
    early = builder.build(BASE, datetime(2001, 1, 1, tzinfo=UTC))
    assert any("before this program was made" in doubt for doubt in early.doubts)
    late = builder.build(BASE, datetime(2031, 1, 1, tzinfo=UTC))
    assert any("magnetic model" in doubt for doubt in late.doubts)
    assert any("Earth's rotation" in doubt for doubt in late.doubts)
    preview = replace(BASE, preview_utc=datetime(2001, 1, 1, tzinfo=UTC))
    assert not builder.build(preview, datetime(2001, 1, 1, tzinfo=UTC)).doubts[:-1]


def test_a_moment_outside_the_ephemeris_is_refused(builder: SnapshotBuilder) -> None:
    with pytest.raises(AdviceError):
        builder.build(BASE, datetime(2200, 1, 1, tzinfo=UTC))


def test_nothing_chosen_gives_a_whole_snapshot(builder: SnapshotBuilder) -> None:
    snapshot = builder.build(Choices(stamp=1, site=DRY_PAN), UTC_NOW)
    assert snapshot.aim is None
    assert snapshot.rows == ()
    assert {light.body for light in snapshot.lights} >= {"sun", "moon", "saturn"}


def test_a_turn_past_the_sun_is_said_with_a_way_round(ephemeris: Ephemeris) -> None:
    # Noon at Loon Barrens in late November: the Sun stands low in the south; from the eastern to
    # the western sky the short way leads over it.
    noon = datetime(2026, 11, 26, 16, 0, tzinfo=UTC)
    east = Target("icrs:1", "east", Kind.PLACE, *_icrs(ephemeris, noon, 140.0, 20.0))
    west = Target("icrs:2", "west", Kind.PLACE, *_icrs(ephemeris, noon, 220.0, 20.0))
    choices = Choices(stamp=1, site=LOON_BARRENS, target=west, last_target=east)
    aim = SnapshotBuilder(ephemeris).build(choices, noon).aim
    assert aim is not None
    assert not aim.sun_danger
    assert aim.turn is not None
    assert aim.turn.past_sun is not None
    assert aim.turn.past_sun.nearest_deg < 20.0
    assert "altitude" in aim.turn.past_sun.corner_text
    night = SnapshotBuilder(ephemeris).build(choices, noon + timedelta(hours=10)).aim
    assert night is not None
    assert night.turn is not None
    assert night.turn.past_sun is None


def _icrs(
    ephemeris: Ephemeris, utc: datetime, azimuth_deg: float, altitude_deg: float
) -> tuple[float, float]:
    ra, dec = ephemeris.moment(LOON_BARRENS, utc).icrs_of(azimuth_deg, altitude_deg)
    return float(ra[0]), float(dec[0])


@pytest.mark.parametrize("key", ["point:zenith", "point:north-pole", "point:antisolar"])
def test_a_point_of_the_sky_can_be_aimed_at(builder: SnapshotBuilder, key: str) -> None:
    point = load_catalogue().target(key)
    snapshot = builder.build(replace(BASE, target=point, queue=(*QUEUE, point)), UTC_NOW)
    assert snapshot.aim is not None
    assert snapshot.aim.magnitude is None
    assert (snapshot.aim.size, snapshot.aim.detail) == ("", "")
    assert 15.0 < snapshot.aim.altitude_deg < 90.1
    still = key != "point:antisolar"
    assert (snapshot.aim.trend is Trend.STILL) is still
    assert snapshot.aim.handling is not None
    assert snapshot.aim.handling.blind == ""
    assert (snapshot.rows[-1].time_left_s is None) is still


def _apart_deg(one: tuple[float, float], other: tuple[float, float]) -> float:
    """Give the angle between two directions (azimuth, altitude), by their unit vectors."""
    vectors = []
    for azimuth, altitude in np.radians([one, other]).tolist():
        flat = math.cos(altitude)
        vectors.append((flat * math.cos(azimuth), flat * math.sin(azimuth), math.sin(altitude)))
    return math.degrees(math.acos(sum(a * b for a, b in zip(*vectors, strict=True))))


def test_distances_of_rows_are_angles_on_the_sky(
    builder: SnapshotBuilder, ephemeris: Ephemeris
) -> None:
    snapshot = builder.build(BASE, UTC_NOW)
    moon = ephemeris.moment(LOON_BARRENS, UTC_NOW).body("moon")
    saturn = next(row for row in snapshot.rows if row.key == SATURN.key)
    for row in snapshot.rows:
        here = (row.azimuth_deg, row.altitude_deg)
        assert row.moon_distance_deg == pytest.approx(
            _apart_deg(here, (moon.azimuth_deg, moon.altitude_deg)), abs=0.02
        )
        assert row.turn_deg == pytest.approx(
            _apart_deg(here, (saturn.azimuth_deg, saturn.altitude_deg)), abs=0.02
        )


@pytest.mark.parametrize("minutes", range(0, 24 * 60, 40))
def test_a_slow_star_rises_and_sets_as_its_altitude_says(
    builder: SnapshotBuilder, minutes: int
) -> None:
    """Kochab, 16° from the pole; where it hardly moves nothing is said of it."""
    utc = UTC_NOW + timedelta(minutes=minutes)
    choices = replace(BASE, target=load_catalogue().star(72607), queue=())
    now, soon = (builder.build(choices, utc + timedelta(minutes=m)).aim for m in (0, 1))
    assert now is not None
    assert soon is not None
    rises = soon.altitude_deg > now.altitude_deg
    assert now.trend in {Trend.STILL, Trend.RISING if rises else Trend.SETTING}
