"""What printed pages show: their time, and where the target stands through its window."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from functools import cache

import numpy as np
import pytest
from astropy import units
from astropy.coordinates import AltAz, EarthLocation, SkyCoord
from astropy.time import Time

from companion.advice import AdviceError
from companion.charts import PageTime, SkyPage, sky_pages
from companion.instant import Choices
from companion.mount import Mount, Sighting
from companion.sky import LOON_BARRENS, load_catalogue, zone_of

DUSK = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
NOON = datetime(2026, 10, 10, 16, 30, tzinfo=UTC)
SATURN, M31 = "body:saturn", "ngc:NGC0224"
BASE = Choices(1, LOON_BARRENS)


@cache
def page_of(key: str, utc: datetime = DUSK, planned: datetime | None = None) -> SkyPage:
    target = load_catalogue().target(key)
    assert target is not None
    turn = {} if planned is None else {key: planned}
    (page,) = sky_pages(BASE, [target], utc, turn)
    return page


def test_each_target_has_its_own_page() -> None:
    targets = [load_catalogue().star(hip) for hip in (91262, 95947)]
    pages = sky_pages(BASE, targets, DUSK, {})
    assert [page.sky.target.name for page in pages if page.sky.target] == ["Vega", "Albireo"]


def test_a_page_is_for_its_planned_time() -> None:
    turn = DUSK + timedelta(hours=2)
    page = page_of(M31, planned=turn)
    assert (page.time, page.sky.utc) == (PageTime.PLANNED, turn)
    assert any(hour.utc == turn for hour in page.hours)


def test_a_turn_that_is_over_does_not_count() -> None:
    page = page_of(M31, planned=DUSK - timedelta(hours=1))
    assert (page.time, page.sky.utc) == (PageTime.NOW, DUSK)


def test_by_day_it_is_for_when_it_shows_best() -> None:
    page = page_of(M31, NOON)
    assert page.time is PageTime.BEST
    assert page.sky.sun_altitude_deg < -6.0
    assert page.sky.utc > NOON


def test_what_cannot_be_seen_says_so() -> None:
    southern = page_of("hip:60718")  # the foot of the Cross
    assert southern.time is PageTime.UNSEEN
    assert southern.sky.utc == DUSK
    assert southern.words == "does not rise here"
    assert southern.hours == ()


def test_the_times_are_round_and_lie_within_the_window() -> None:
    page = page_of(SATURN, NOON)
    times = [hour.utc for hour in page.hours if hour.utc != page.sky.utc]
    local = [utc.astimezone(zone_of(LOON_BARRENS.time_zone)) for utc in times]
    assert 4 <= len(times) <= 12
    assert all(one.second == 0 and one.minute % 10 == 0 for one in local)
    assert list(page.hours) == sorted(page.hours, key=lambda hour: hour.utc)
    assert all(hour.altitude_deg > 0.0 for hour in page.hours)
    assert times[0] > NOON


def test_the_table_agrees_with_an_independent_library() -> None:
    """Against astropy's apparent places, its own refraction left out above 25° (it is 2′ there)."""
    page = page_of(M31, planned=DUSK + timedelta(hours=2))
    target = load_catalogue().target(M31)
    assert target is not None
    here = EarthLocation(
        lat=LOON_BARRENS.latitude_deg * units.deg,
        lon=LOON_BARRENS.longitude_deg * units.deg,
        height=LOON_BARRENS.elevation_m * units.m,
    )
    star = SkyCoord(target.ra_deg * units.deg, target.dec_deg * units.deg)
    for hour in page.hours:
        frame = AltAz(obstime=Time(hour.utc.replace(tzinfo=None)), location=here)
        seen = star.transform_to(frame)
        assert hour.altitude_deg == pytest.approx(seen.alt.deg, abs=0.05)
        assert hour.azimuth_deg == pytest.approx(seen.az.deg, abs=0.02 / np.cos(seen.alt.rad))
    assert page.ra_deg == pytest.approx(target.ra_deg, abs=1e-6)
    assert page.dec_deg == pytest.approx(target.dec_deg, abs=1e-6)


def test_an_aligned_mount_tells_its_own_numbers() -> None:
    vega = load_catalogue().star(91262)
    plain = page_of("hip:91262")
    assert plain.sky.target is not None
    own = next(hour for hour in plain.hours if hour.utc == DUSK)
    dials = (own.azimuth_deg + 30.0) % 360.0, own.altitude_deg
    seen = Sighting(DUSK, vega.name, vega.key, own.azimuth_deg, own.altitude_deg, *dials)
    choices = replace(BASE, mount=Mount("m"), sightings=(seen,))
    (page,) = sky_pages(choices, [vega], DUSK, {})
    assert all(hour.dials is None for hour in plain.hours)
    for hour in page.hours:
        assert hour.dials is not None
        azimuth = float(hour.dials.azimuth.rstrip("°").replace("½", ".5"))
        off = (azimuth - hour.azimuth_deg - 30.0 + 180.0) % 360.0 - 180.0
        assert abs(off) < 2.0


def test_near_the_sun_no_number_is_given() -> None:
    """Venus passes the Sun in October 2026; at noon of that day she is at 6°."""
    page = page_of("body:venus", datetime(2026, 10, 22, 16, 30, tzinfo=UTC))
    assert page.sky.caution or page.sky.sun_altitude_deg < 0.0
    for hour in page.hours:
        assert hour.utc.astimezone(zone_of(LOON_BARRENS.time_zone)).hour not in range(9, 17)


def test_outside_the_ephemeris_it_says_so() -> None:
    with pytest.raises(AdviceError, match="ephemeris"):
        sky_pages(BASE, [load_catalogue().star(91262)], datetime(2200, 1, 1, tzinfo=UTC), {})
