"""What shows in twilight and by day, against what is known of the first stars and of Venus."""

from collections.abc import Iterator
from datetime import UTC, datetime
from itertools import pairwise

import numpy as np
import pytest

from companion.night import (
    Candidates,
    Conditions,
    Observer,
    TonightRequest,
    find_instrument,
    night_grid,
    plan_night,
    rank_tonight,
)
from companion.night.sight.instruments import eye
from companion.night.sight.skylight import Lights, sky_light
from companion.night.sight.star_limit import star_limit
from companion.night.sight.views import views_of
from companion.sky import Ephemeris, Site, load_catalogue

EXTINCTION = 0.25
EYE = views_of(eye(), Observer())[0]
TROMSO = Site("69.7 north", 69.7, 18.9, time_zone="UTC")
MIDSUMMER = datetime(2026, 6, 21, 22, 0, tzinfo=UTC)


@pytest.fixture(scope="module")
def ephemeris() -> Iterator[Ephemeris]:
    loaded = Ephemeris.load()
    yield loaded
    loaded.close()


def _limit(sun_altitude_deg: float, from_sun_deg: float = 90.0) -> float:
    """Faintest star that the eye finds 60° up, the air's loss counted."""
    light = sky_light(
        Lights(sun_altitude_deg, -50.0, 90.0),
        zenith_mag=21.5,
        extinction_mag=EXTINCTION,
        altitude_deg=60.0,
        moon_distance_deg=90.0,
        sun_distance_deg=from_sun_deg,
    )
    return float(star_limit(EYE, light.total, Observer())) - EXTINCTION * 1.15


@pytest.mark.parametrize(
    ("sun_deg", "seen_mag", "unseen_mag"),
    [
        # Venus at her brightest (-4.9 to -4.6) is just found by day; no star is, Jupiter is not.
        (40.0, -4.9, -2.9),
        # About sunset Jupiter at his brightest (-2.9) comes out; Sirius (-1.5) does not yet.
        (-1.0, -2.9, -1.4),
        # The first stars, Vega and Arcturus (0.0), with the Sun 4° to 5° down.
        (-5.0, 0.0, 2.0),
        # USNO: at the end of civil twilight (6°) the brightest stars can be seen.
        (-6.0, 0.9, 3.0),
        # About the end of nautical twilight (12°) those of the fourth magnitude.
        (-12.0, 4.0, 5.5),
    ],
)
def test_what_comes_out_when(sun_deg: float, seen_mag: float, unseen_mag: float) -> None:
    """Common practice, no source, but for the line of the USNO (its definitions of twilight)."""
    assert seen_mag < _limit(sun_deg) + 0.3  # just found, give or take the uncertainty
    assert unseen_mag > _limit(sun_deg)


def test_the_limit_never_rises_with_the_light() -> None:
    limits = [_limit(float(sun)) for sun in np.arange(-20.0, 60.0, 0.5)]
    assert all(b <= a + 0.02 for a, b in pairwise(limits))


@pytest.mark.parametrize("name", ["eye", "10x50", "150"])
def test_nothing_is_recommended_while_the_sun_is_up(ephemeris: Ephemeris, name: str) -> None:
    request = TonightRequest(TROMSO, MIDSUMMER, find_instrument(name), Conditions())
    assert rank_tonight(ephemeris, Candidates.of(load_catalogue()), request).rows == ()


def test_no_window_opens_by_day(ephemeris: Ephemeris) -> None:
    site = Site("Loon Barrens", 45.2, -62.3, 120.0, time_zone="America/Halifax")
    grid = night_grid(ephemeris, site, datetime(2026, 11, 26, 23, 0, tzinfo=UTC))
    catalogue = load_catalogue()
    targets = [
        catalogue.target(key)
        for key in ("ngc:Mel022", "ngc:NGC0224", "body:jupiter", "body:moon", "hip:91262")
    ]
    plans = plan_night(
        ephemeris, grid, targets, instrument=find_instrument("150"), conditions=Conditions()
    )
    sun = np.interp
    for plan in plans:
        assert plan.windows
        for window in plan.windows:
            for utc in window:
                height = sun(grid.offset_s(utc), grid.offsets_s, grid.sun.altitude_airless_deg)
                patch = plan.target.body == "" and plan.target.key != "hip:91262"
                assert height < (-8.5 if patch else -0.5), plan.target.name
