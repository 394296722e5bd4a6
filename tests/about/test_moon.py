"""The Moon's page: phases, features, far side, new Moon, south, small and large instruments."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from companion.about import About, AboutQuestion, about
from companion.about.moon import moon_look
from companion.about.moon_ground import ground_of
from companion.about.record import Kept
from companion.finding import Instrument, InstrumentKind
from companion.night import Conditions, find_instrument
from companion.sky import (
    DRY_PAN,
    LOON_BARRENS,
    MOON,
    Ephemeris,
    Site,
    load_moon_features,
)

QUARTER = datetime(2026, 10, 18, 23, 14, tzinfo=UTC)
NEW = datetime(2026, 10, 10, 16, 0, tzinfo=UTC)
FULL = datetime(2026, 10, 26, 4, 0, tzinfo=UTC)


def ask(
    ephemeris: Ephemeris,
    utc: datetime,
    instrument: str | Instrument = "10x50",
    site: Site = LOON_BARRENS,
) -> About:
    used = find_instrument(instrument) if isinstance(instrument, str) else instrument
    return about(ephemeris, AboutQuestion(MOON, site, utc, used, Conditions()))


def telescope(aperture_mm: float) -> Instrument:
    return Instrument("tube", InstrumentKind.TELESCOPE, aperture_mm, focal_mm=8.0 * aperture_mm)


def test_the_first_quarter(ephemeris: Ephemeris) -> None:
    page = ask(ephemeris, QUARTER)
    assert page.says[0] == "The Moon is at first quarter, 53 percent lit, 8.3 days after new Moon."
    assert page.figures.true_size_km == pytest.approx(3474.8)
    assert page.figures.light_time_s == pytest.approx(1.3, abs=0.1)


def test_under_a_rising_sun_the_terminator_has_the_sun_at_its_horizon(ephemeris: Ephemeris) -> None:
    page = ask(ephemeris, QUARTER).moon
    assert page is not None
    ground = page.ground
    on_equator = np.abs(ground.features.latitude_deg) < 2.0
    morning = -(page.here.colongitude_deg + 180.0) % 360.0 - 180.0
    near = on_equator & (np.abs(ground.features.longitude_deg - morning) < 0.5)
    assert near.any()
    assert np.abs(ground.sun_altitude_deg[near]) == pytest.approx(0.0, abs=0.6)


def test_larger_instruments_show_more_craters(ephemeris: Ephemeris) -> None:
    counts = []
    for used in ("eye", "10x50", "80", "150"):
        page = ask(ephemeris, QUARTER, used).moon
        assert page is not None
        counts.append(page.ground.crater_count)
    assert counts[0] == 0
    assert 100 < counts[1] < 1000
    assert counts == sorted(counts)


@pytest.mark.parametrize("aperture_mm", [20.0, 1000.0])
def test_the_smallest_and_the_largest_instrument(ephemeris: Ephemeris, aperture_mm: float) -> None:
    page = ask(ephemeris, QUARTER, telescope(aperture_mm)).moon
    assert page is not None
    assert page.ground.crater_count > 50
    # The air, not the mirror, limits the large one.
    assert page.ground.resolved.sum() < len(page.ground.features)


def test_what_is_turned_away_is_not_resolved(ephemeris: Ephemeris) -> None:
    page = ask(ephemeris, QUARTER, "150").moon
    assert page is not None
    away = page.ground.seen_altitude_deg < 0.0
    assert away.any()
    assert not page.ground.resolved[away].any()
    assert not page.ground.shadowed[away].any()


def test_of_long_features_nothing_is_said(ephemeris: Ephemeris) -> None:
    page = ask(ephemeris, QUARTER, "150").moon
    assert page is not None
    rilles = page.ground.long
    assert rilles.sum() == 180
    assert not page.ground.resolved[rilles].any()


def test_the_tour_runs_from_north_to_south_along_the_morning(ephemeris: Ephemeris) -> None:
    page = ask(ephemeris, QUARTER, "150").moon
    assert page is not None
    rows = list(page.ground.tour())
    assert 3 <= len(rows) <= 12
    assert (np.diff(page.ground.north[rows]) < 0.0).all()
    assert (page.ground.sun_altitude_deg[rows] > 0.0).all()
    assert (page.ground.sun_altitude_deg[rows] < 12.0).all()
    assert not page.ground.features.lettered[rows].any()


def test_the_new_moon_is_not_to_be_seen(ephemeris: Ephemeris) -> None:
    page = ask(ephemeris, NEW)
    assert page.says[0].startswith("The Moon is new, 0 percent lit, ")
    assert page.says[-1] == "It is too close to the Sun to be seen."
    assert page.moon is not None
    assert page.moon.age_days is not None
    assert page.moon.age_days < 0.1


def test_below_the_horizon_nothing_is_promised(ephemeris: Ephemeris) -> None:
    page = ask(ephemeris, datetime(2026, 10, 18, 9, 0, tzinfo=UTC))
    assert page.says[-1] == "It is below the horizon now."
    assert page.look_for == ()


def test_the_full_moon_has_few_shadows(ephemeris: Ephemeris) -> None:
    full, half = (ask(ephemeris, utc, "150").moon for utc in (FULL, QUARTER))
    assert full is not None
    assert half is not None
    assert full.ground.shadow_count < half.ground.shadow_count / 2


def test_the_south_sees_it_upside_down(ephemeris: Ephemeris) -> None:
    page = ask(ephemeris, datetime(2026, 10, 18, 19, 0, tzinfo=UTC), "150", DRY_PAN)
    assert "seen from the south, the Moon's north is below" in page.look_for


def test_parallax_turns_the_libration(ephemeris: Ephemeris) -> None:
    """From the ground it differs from the centre's by up to a degree (Meeus, ch. 53)."""
    page = ask(ephemeris, QUARTER).moon
    assert page is not None
    apart = abs(page.here.facing.latitude_deg - page.geocentric.facing.latitude_deg)
    assert 0.1 < apart < 1.1


def test_the_age_is_left_out_where_the_ephemeris_begins(ephemeris: Ephemeris) -> None:
    page = ask(ephemeris, datetime(1899, 8, 2, tzinfo=UTC)).moon
    assert page is not None
    assert page.age_days is None
    assert ask(ephemeris, datetime(2053, 10, 7, tzinfo=UTC)).moon is not None


def test_places_on_the_disk_lie_within_it(ephemeris: Ephemeris) -> None:
    aspect = ephemeris.aspect("moon", QUARTER, LOON_BARRENS)
    ground = ground_of(aspect, load_moon_features(), 5.0, 50.0)
    seen = ground.seen_altitude_deg > 0.0
    assert np.hypot(ground.east, ground.north)[seen].max() < 1.001
    # Mare Crisium stands towards the Moon's own east, our celestial west.
    crisium = ground.features.names.index("Mare Crisium")
    assert ground.east[crisium] < -0.6
    turned = moon_look(replace(aspect, north=-aspect.north))
    assert abs(turned.axis_position_angle_deg) > 90.0


def test_asked_again_within_the_hour_it_says_the_same(ephemeris: Ephemeris) -> None:
    kept: Kept = {}
    for seconds in (0.0, 30.0, 1800.0):
        utc = QUARTER + timedelta(seconds=seconds)
        question = AboutQuestion(MOON, LOON_BARRENS, utc, find_instrument("10x50"), Conditions())
        again = about(ephemeris, question, kept).moon
        anew = about(ephemeris, question).moon
        assert again is not None
        assert anew is not None
        assert again.age_days == pytest.approx(anew.age_days, abs=1e-4)
