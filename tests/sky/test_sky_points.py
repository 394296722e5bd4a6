"""Zenith, poles and the antisolar point against ERFA and against what they are by definition."""

from datetime import UTC, datetime, timedelta

import erfa
import numpy as np
import pytest

from companion.advice import AdviceError
from companion.sky import (
    DRY_PAN,
    LOON_BARRENS,
    SUN,
    Ephemeris,
    Site,
    TargetTable,
    find_crossings,
    load_catalogue,
    load_search,
)
from companion.sky.sky_points import SKY_POINTS, ZENITH, SkyPoint

UTC_NIGHT = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
SITES = (LOON_BARRENS, DRY_PAN)


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("zenith", "point:zenith"),
        ("the zenith", "point:zenith"),
        ("north pole", "point:north-pole"),
        ("South celestial pole", "point:south-pole"),
        ("celestial south pole", "point:south-pole"),
        ("NCP", "point:north-pole"),
        ("antisolar point", "point:antisolar"),
        ("Sun's antipode", "point:antisolar"),
        ("point:zenith", "point:zenith"),
    ],
)
def test_points_are_found_by_name(text: str, key: str) -> None:
    assert load_search().resolve(text).key == key


def test_the_pole_may_be_either_and_nadir_is_none() -> None:
    for text in ("pole", "celestial pole", "nadir"):
        with pytest.raises(AdviceError):
            load_search().understand(text)


@pytest.mark.parametrize("site", SITES, ids=lambda site: site.name)
@pytest.mark.parametrize("hours", [0.0, 0.01, 5.3, 4000.0])
def test_points_stand_where_they_must(ephemeris: Ephemeris, site: Site, hours: float) -> None:
    utc = UTC_NIGHT + timedelta(hours=hours)
    moment = ephemeris.moment(site, utc)
    table = TargetTable.of([*(point.target for point in SKY_POINTS), SUN], utc)
    seen, vectors = moment.horizontal(table), moment.apparent(table)
    zenith, north, south, antisolar, sun = seen.altitude_airless_deg.tolist()
    assert zenith == pytest.approx(90.0, abs=0.01)
    assert (north, south) == pytest.approx((site.latitude_deg, -site.latitude_deg), abs=1e-3)
    assert antisolar == pytest.approx(-sun, abs=1e-6)
    assert np.linalg.norm(vectors[3] + vectors[4]) < 1e-8
    # The celestial intermediate pole (IAU 2006/2000A), half an arcsecond of polar motion apart.
    x, y, _s = erfa.xys06a(2400000.5, utc.timestamp() / 86400.0 + 40587.0)
    pole = np.array([x, y, np.sqrt(1.0 - x * x - y * y)])
    assert np.degrees(np.linalg.norm(vectors[1] - pole)) * 3600.0 < 1.0


@pytest.mark.parametrize("site", SITES, ids=lambda site: site.name)
def test_zenith_and_poles_stand_still(ephemeris: Ephemeris, site: Site) -> None:
    moment = ephemeris.moment(site, UTC_NIGHT)
    for point in SKY_POINTS[:3]:
        rates = moment.rates(TargetTable.of([point.target], UTC_NIGHT))
        assert abs(rates.azimuth_arcsec_per_s[0]) < 0.5
        assert abs(rates.altitude_arcsec_per_s[0]) < 0.01
        found = find_crossings(ephemeris, site, point.target, UTC_NIGHT)
        assert (found.rises_utc, found.sets_utc, found.transit_utc) == (None, None, None)
        assert found.never in {"never sets here", "never rises here"}


def test_a_point_is_no_body_of_the_solar_system_and_its_key_is_known() -> None:
    catalogue = load_catalogue()
    for point in SKY_POINTS:
        assert catalogue.target(point.target.key) == point.target
        assert point.target not in catalogue.bodies


def test_a_point_has_to_say_where_it_is() -> None:
    with pytest.raises(TypeError, match="places"):
        SkyPoint(ZENITH.target)  # type: ignore[abstract]
