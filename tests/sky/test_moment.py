from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from companion.advice import AdviceError
from companion.sky import (
    LOON_BARRENS,
    MOON,
    POLARIS,
    SUN,
    Ephemeris,
    Kind,
    Site,
    Target,
    TargetTable,
    separation_deg,
    unit_vectors,
)

UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
TARGETS = [
    MOON,
    SUN,
    POLARIS,
    Target("body:mars", "Mars", Kind.PLANET, body="mars"),
    *(Target(f"own:{i}", "", Kind.PLACE, i * 7.3 % 360, i * 1.7 - 85) for i in range(100)),
]


def test_rates_agree_with_differences(ephemeris: Ephemeris) -> None:
    table = TargetTable.of(TARGETS, UTC_NOW)
    early, late = (
        ephemeris.moment(LOON_BARRENS, UTC_NOW + timedelta(seconds=s)).horizontal(table)
        for s in (-1, 1)
    )
    rates = ephemeris.moment(LOON_BARRENS, UTC_NOW).rates(table)
    azimuth = (late.azimuth_deg - early.azimuth_deg + 180) % 360 - 180
    usable = np.abs(early.altitude_airless_deg + 1) > 0.1  # where refraction begins is no rate
    assert rates.azimuth_arcsec_per_s == pytest.approx(azimuth * 1800, rel=1e-4, abs=1e-3)
    assert rates.altitude_arcsec_per_s[usable] == pytest.approx(
        ((late.altitude_deg - early.altitude_deg) * 1800)[usable], rel=1e-3, abs=5e-3
    )


def test_anchors_stay_close_to_the_direct_computation(ephemeris: Ephemeris) -> None:
    table = TargetTable.of([MOON], UTC_NOW)
    worst = 0.0
    for second in range(0, 240, 20):
        utc = UTC_NOW + timedelta(seconds=second)
        moved = ephemeris.moment(LOON_BARRENS, utc).apparent(table)
        fresh = Ephemeris.load()
        worst = max(
            worst, separation_deg(moved, fresh.moment(LOON_BARRENS, utc).apparent(table))[0]
        )
        fresh.close()
    assert worst * 3600 < 0.2


@pytest.mark.parametrize("latitude_deg", [90.0, -90.0, 89.0, 0.0])
def test_directions_stay_right_at_the_poles_and_the_equator(
    ephemeris: Ephemeris, latitude_deg: float
) -> None:
    moment = ephemeris.moment(Site("", latitude_deg, 0.0), UTC_NOW)
    table = TargetTable.of(TARGETS, UTC_NOW)
    seen = moment.horizontal(table)
    assert np.all(np.isfinite(seen.azimuth_deg))
    assert np.all((seen.azimuth_deg >= 0) & (seen.azimuth_deg < 360))
    assert np.all(np.abs(seen.altitude_deg) <= 90.0)
    rates = moment.rates(table)
    assert np.all(np.isfinite(rates.azimuth_arcsec_per_s))


def test_what_is_seen_leads_back_to_the_sky(ephemeris: Ephemeris) -> None:
    moment = ephemeris.moment(LOON_BARRENS, UTC_NOW)
    ra, dec = np.array([10.0, 120.0, 300.0]), np.array([60.0, 80.0, 5.0])
    seen = moment.horizontal_of(unit_vectors(ra, dec))
    assert np.all(seen.altitude_deg > 0)
    back = moment.icrs_of(seen.azimuth_deg, seen.altitude_deg)
    off = separation_deg(unit_vectors(*back), unit_vectors(ra, dec))
    assert np.max(off) * 3600 < 0.01


def test_many_targets_equal_single_ones(ephemeris: Ephemeris) -> None:
    moment = ephemeris.moment(LOON_BARRENS, UTC_NOW)
    together = moment.horizontal(TargetTable.of(TARGETS, UTC_NOW)).azimuth_deg
    alone = [float(moment.horizontal(TargetTable.of([t], UTC_NOW)).azimuth_deg[0]) for t in TARGETS]
    assert together == pytest.approx(alone, abs=1e-9)


@pytest.mark.parametrize("year", [1850, 2200])
def test_years_outside_the_ephemeris_are_refused_in_words(ephemeris: Ephemeris, year: int) -> None:
    with pytest.raises(AdviceError, match="1899-07-30 to 2053-10-08"):
        ephemeris.moment(LOON_BARRENS, datetime(year, 1, 1, tzinfo=UTC))


def test_an_unknown_rotation_of_the_earth_is_said(ephemeris: Ephemeris) -> None:
    assert ephemeris.earth_note(UTC_NOW) == ""
    assert "azimuths may be off by up to" in ephemeris.earth_note(datetime(2040, 1, 1, tzinfo=UTC))
