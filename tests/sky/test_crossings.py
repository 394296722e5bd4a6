from datetime import UTC, datetime, timedelta

import pytest

from companion.sky import (
    DRY_PAN,
    LOON_BARRENS,
    MOON,
    POLARIS,
    SUN,
    Diurnal,
    Ephemeris,
    Kind,
    Phase,
    Site,
    Target,
    TargetTable,
    find_crossings,
    next_phase,
    phase_of,
)

UTC_NOW = datetime(2026, 11, 25, 22, 0, tzinfo=UTC)
VEGA = Target("hip:91262", "Vega", Kind.STAR, 279.2347, 38.7837)
SATURN = Target("body:saturn", "Saturn", Kind.PLANET, body="saturn")


@pytest.mark.parametrize("target", [VEGA, SATURN, MOON, SUN])
@pytest.mark.parametrize("site", [LOON_BARRENS, DRY_PAN])
def test_the_altitude_at_each_event_is_the_one_sought(
    ephemeris: Ephemeris, target: Target, site: Site
) -> None:
    events = find_crossings(ephemeris, site, target, UTC_NOW, low_limit_deg=10.0)

    def altitude(utc: datetime | None) -> float:
        assert utc is not None
        assert utc >= UTC_NOW
        table = TargetTable.of([target], utc)
        return float(ephemeris.moment(site, utc).horizontal(table).altitude_deg[0])

    assert altitude(events.sinks_utc) == pytest.approx(10.0, abs=0.001)
    assert altitude(events.climbs_utc) == pytest.approx(10.0, abs=0.001)
    around = [altitude(events.transit_utc)]
    around += [
        altitude(events.transit_utc + timedelta(minutes=m)) for m in (-20, 20) if events.transit_utc
    ]
    assert max(around) == around[0]


def test_what_never_sets_and_never_rises(ephemeris: Ephemeris) -> None:
    up = find_crossings(ephemeris, LOON_BARRENS, POLARIS, UTC_NOW)
    down = find_crossings(ephemeris, DRY_PAN, POLARIS, UTC_NOW)
    assert (up.never, up.rises_utc, up.sets_utc) == ("never sets here", None, None)
    assert down.never == "never rises here"


@pytest.mark.parametrize("latitude_deg", [90.0, -90.0])
def test_at_the_poles_nothing_fixed_rises_or_sets(
    ephemeris: Ephemeris, latitude_deg: float
) -> None:
    site = Site("", latitude_deg, 0.0)
    events = find_crossings(ephemeris, site, VEGA, UTC_NOW)
    assert events.never == ("never sets here" if latitude_deg > 0 else "never rises here")


def test_polar_night_and_day_are_said(ephemeris: Ephemeris) -> None:
    far_north, far_south = Site("", 89.0, 0.0), Site("", -89.0, 0.0)
    assert next_phase(ephemeris, far_north, UTC_NOW).words == "no twilight today"
    assert next_phase(ephemeris, far_south, UTC_NOW).words == "the Sun does not set today"
    assert find_crossings(ephemeris, far_south, SUN, UTC_NOW).never == "does not set today"


@pytest.mark.parametrize(
    ("altitude_deg", "phase"),
    [
        (0.0, Phase.DAY),
        (-3.0, Phase.CIVIL),
        (-9.0, Phase.NAUTICAL),
        (-15.0, Phase.ASTRONOMICAL),
        (-19.0, Phase.DARK),
    ],
)
def test_phases(altitude_deg: float, phase: Phase) -> None:
    assert phase_of(altitude_deg) is phase


def test_the_night_goes_through_its_phases_in_order(ephemeris: Ephemeris) -> None:
    utc, seen = datetime(2026, 11, 25, 18, 0, tzinfo=UTC), []
    for _ in range(8):
        coming = next_phase(ephemeris, LOON_BARRENS, utc)
        assert coming.utc is not None
        seen.append(coming.phase)
        utc = coming.utc + timedelta(seconds=2)
    down = [Phase.CIVIL, Phase.NAUTICAL, Phase.ASTRONOMICAL, Phase.DARK]
    assert seen == [*down, Phase.ASTRONOMICAL, Phase.NAUTICAL, Phase.CIVIL, Phase.DAY]


def test_time_left_of_many_rows_agrees_with_the_single_search(ephemeris: Ephemeris) -> None:
    table = TargetTable.of([VEGA], UTC_NOW)
    seen = ephemeris.moment(LOON_BARRENS, UTC_NOW).horizontal(table)
    diurnal = Diurnal.of(LOON_BARRENS.latitude_deg, seen.azimuth_deg, seen.altitude_airless_deg)
    left = float(diurnal.seconds_until_below(-34 / 60)[0])
    events = find_crossings(ephemeris, LOON_BARRENS, VEGA, UTC_NOW)
    assert events.sets_utc is not None
    assert left == pytest.approx((events.sets_utc - UTC_NOW).total_seconds(), abs=2.0)
