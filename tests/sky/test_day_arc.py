"""The smooth arc of a day against the exact moments that it stands for."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from companion.advice import AdviceError
from companion.sky import (
    DRY_PAN,
    LOON_BARRENS,
    MOON,
    SUN,
    Diurnal,
    Ephemeris,
    Kind,
    Site,
    Target,
    TargetTable,
)
from companion.sky.day_arc import DayArc

UTC_NOW = datetime(2026, 11, 25, 22, 0, tzinfo=UTC)
SPAN_S = 27.0 * 3600.0
VEGA = Target("hip:91262", "Vega", Kind.STAR, 279.2347, 38.7837, parallax_mas=130.0)
MERCURY = Target("body:mercury", "Mercury", Kind.PLANET, body="mercury")
NEAR_THE_POLE = Site("", 89.9, 30.0)


def exact(ephemeris: Ephemeris, site: Site, target: Target, utc: datetime) -> tuple[float, float]:
    place = ephemeris.moment(site, utc).horizontal(TargetTable.of([target], UTC_NOW))
    turn = Diurnal.of(site.latitude_deg, place.azimuth_deg, place.altitude_airless_deg)
    return float(place.altitude_airless_deg[0]), float(turn.hour_angle_deg[0])


@pytest.mark.parametrize("site", [LOON_BARRENS, DRY_PAN, NEAR_THE_POLE])
@pytest.mark.parametrize("target", [VEGA, MERCURY, SUN, MOON])
def test_an_arc_is_what_each_moment_gives(ephemeris: Ephemeris, site: Site, target: Target) -> None:
    arc = DayArc(ephemeris, site, target, UTC_NOW, SPAN_S)
    for moment_s in np.random.default_rng(7).uniform(0.0, SPAN_S, 25).tolist():
        altitude_deg, hour_angle_deg = exact(
            ephemeris, site, target, UTC_NOW + timedelta(seconds=moment_s)
        )
        # A hundredth of an arcsecond: what the anchors of a body are good to, in turn.
        assert arc.at(moment_s)[0] == pytest.approx(altitude_deg, abs=3e-6)
        off = (arc.at(moment_s)[1] - hour_angle_deg + 180.0) % 360.0 - 180.0
        assert off == pytest.approx(0.0, abs=3e-6)


def test_at_a_known_point_it_is_the_point(ephemeris: Ephemeris) -> None:
    arc = DayArc(ephemeris, LOON_BARRENS, VEGA, UTC_NOW, SPAN_S)
    middle_of_points_s = SPAN_S / 2.0 * (1.0 + np.cos(np.pi / 32.0))
    near = arc.at(float(middle_of_points_s) - 1e-3)
    assert arc.at(float(middle_of_points_s)) == pytest.approx(near, abs=1e-5)


def test_directions_are_those_of_single_moments(ephemeris: Ephemeris) -> None:
    table = TargetTable.of([VEGA, MOON], UTC_NOW)
    utcs = [UTC_NOW + timedelta(hours=hours) for hours in (0.0, 5.5, 26.0)]
    found = ephemeris.directions(DRY_PAN, utcs, table)
    assert found.shape == (3, 2, 3)
    for utc, vectors in zip(utcs, found, strict=True):
        place = ephemeris.moment(DRY_PAN, utc).horizontal(table)
        north, east, up = vectors.T
        assert np.degrees(np.arctan2(east, north)) % 360.0 == pytest.approx(
            place.azimuth_deg, abs=1e-6
        )
        assert np.degrees(np.arcsin(up)) == pytest.approx(place.altitude_airless_deg, abs=1e-6)


def test_an_arc_past_the_ephemeris_is_refused(ephemeris: Ephemeris) -> None:
    with pytest.raises(AdviceError, match="outside the ephemeris"):
        DayArc(ephemeris, LOON_BARRENS, VEGA, datetime(2053, 10, 8, tzinfo=UTC), SPAN_S)
