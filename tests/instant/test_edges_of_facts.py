"""What a snapshot says of Sun, Moon, points that stand still and the horizon, on both sides."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from companion.instant import AimFacts, Choices, Snapshot, SnapshotBuilder, Trend
from companion.sky import LOON_BARRENS, Ephemeris, Site, TargetTable, load_catalogue

UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
BASE = Choices(stamp=1, site=LOON_BARRENS)


@pytest.fixture
def builder(ephemeris: Ephemeris) -> SnapshotBuilder:
    return SnapshotBuilder(ephemeris)


def _aim(
    builder: SnapshotBuilder, key: str, site: Site = LOON_BARRENS, low_limit_deg: float = 10.0
) -> AimFacts:
    target = load_catalogue().target(key)
    choices = Choices(1, site, target=target, low_limit_deg=low_limit_deg)
    aim = builder.build(choices, UTC_NOW).aim
    assert aim is not None
    return aim


def test_nothing_is_as_far_from_itself_as_from_another(builder: SnapshotBuilder) -> None:
    """The Sun has a distance from the Moon, the Moon from the Sun, and neither from itself."""
    sun, moon, vega = (_aim(builder, key) for key in ("body:sun", "body:moon", "hip:91262"))
    assert (sun.sun_distance_deg, moon.moon_distance_deg) == (None, None)
    assert sun.moon_distance_deg == pytest.approx(moon.sun_distance_deg, abs=0.01)
    assert vega.moon_distance_deg is not None
    assert vega.sun_distance_deg is not None


def test_what_is_up_sinks_and_what_is_down_rises(builder: SnapshotBuilder) -> None:
    vega, mercury = _aim(builder, "hip:91262"), _aim(builder, "body:mercury")
    assert vega.altitude_deg > 60.0
    assert vega.sinks_utc is not None
    assert vega.sinks_utc > UTC_NOW
    assert vega.rises_utc is None
    assert mercury.altitude_deg < 0.0
    assert mercury.rises_utc is not None
    assert mercury.sinks_utc is None
    # Where a wall hides all below 80°, Vega has no time left.
    assert _aim(builder, "hip:91262", low_limit_deg=80.0).sinks_utc is None


@pytest.mark.parametrize(
    ("latitude_deg", "altitude_deg", "trend"),
    [(0.2, 0.65, Trend.STILL), (-0.2, 0.3, Trend.STILL), (-2.0, -2.0, Trend.BELOW)],
)
def test_a_pole_at_the_horizon_stands_still_while_it_is_up(
    builder: SnapshotBuilder, latitude_deg: float, altitude_deg: float, trend: Trend
) -> None:
    """The air lifts it by half a degree: it is up a little south of the equator, too."""
    pole = _aim(builder, "point:north-pole", Site("at the equator", latitude_deg, 0.0))
    assert pole.altitude_deg == pytest.approx(altitude_deg, abs=0.15)
    assert pole.trend is trend


def _while_it_stands_low(ephemeris: Ephemeris, body: str, utc: datetime) -> datetime:
    """Give the first minute from some moment on at which a body stands half a degree high."""
    for minute in range(24 * 60):
        at = utc + timedelta(minutes=minute)
        if 0.3 < ephemeris.moment(LOON_BARRENS, at).body(body).altitude_deg < 0.7:
            return at
    raise AssertionError(body)


def test_the_lowest_sun_casts_a_shadow_and_the_lowest_moon_sets(
    builder: SnapshotBuilder, ephemeris: Ephemeris
) -> None:
    utc = _while_it_stands_low(ephemeris, "sun", datetime(2026, 10, 10, 20, tzinfo=UTC))
    assert builder.build(BASE, utc).north.shadow_azimuth_deg is not None
    minutes_later = utc + timedelta(minutes=12)
    assert builder.build(BASE, minutes_later).north.shadow_azimuth_deg is None
    utc = _while_it_stands_low(ephemeris, "moon", datetime(2026, 10, 10, 20, tzinfo=UTC))
    dark = builder.build(BASE, utc).dark
    assert dark.moon_up
    assert dark.moon_next == "sets"


@pytest.mark.parametrize(("above_deg", "named"), [(0.0, True), (0.8, True), (1.5, False)])
def test_without_an_instrument_readings_point_to_what_is_within_a_degree(
    builder: SnapshotBuilder, ephemeris: Ephemeris, above_deg: float, named: bool
) -> None:
    m13 = load_catalogue().target("ngc:NGC6205")
    seen = ephemeris.moment(LOON_BARRENS, UTC_NOW).horizontal(TargetTable.of([m13], UTC_NOW))
    pointed = float(seen.azimuth_deg[0]), float(seen.altitude_deg[0]) + above_deg
    found = builder.build(replace(BASE, pointed_deg=pointed), UTC_NOW).pointed
    assert found is not None
    away = dict(found.objects)
    assert ("M 13" in away) is named
    if named:
        assert away["M 13"] == pytest.approx(above_deg, abs=0.02)


def test_what_nobody_chose_changes_nothing(builder: SnapshotBuilder) -> None:
    """Without a correction the clock counts as it is; an age is told only from a given instant."""
    assert BASE.moment(UTC_NOW) == UTC_NOW
    late = replace(BASE, clock_correction_s=-90.0)
    assert late.moment(UTC_NOW) == datetime(2026, 10, 10, 23, 12, 30, tzinfo=UTC)
    assert BASE.lead_at(UTC_NOW) == 0.0
    made: list[Snapshot] = [builder.build(BASE, UTC_NOW), builder.build(BASE, UTC_NOW, 12.5)]
    assert [one.made_monotonic_s for one in made] == [0.0, 12.5]
