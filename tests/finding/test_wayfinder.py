import math
from dataclasses import replace
from datetime import UTC, datetime

import numpy as np
import pytest
from numpy.typing import NDArray

from companion.finding import (
    Optics,
    Viewing,
    WayFinder,
    finder_limit,
    floor_deg,
    hops_to,
    ways_to,
)
from companion.sky import LOON_BARRENS, Catalogue, Ephemeris, SearchIndex

FloatArray = NDArray[np.float64]
NIGHT = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
FINDER = Optics("finder", 8.0, 6.0, 6.25, 7.5, Viewing.TURNED)


def test_a_finder_sees_more_but_nothing_by_day() -> None:
    assert finder_limit(6.0, FINDER) == pytest.approx(6.0 + 5 * math.log10(50 / 7))
    assert finder_limit(6.0, replace(FINDER, exit_pupil_mm=0.5)) == 6.0
    assert finder_limit(-3.5, FINDER) == -math.inf


def test_the_sites_horizon_hides_stars(catalogue: Catalogue, ephemeris: Ephemeris) -> None:
    ready = WayFinder(catalogue, NIGHT)
    walled = replace(LOON_BARRENS, horizon=((0.0, 40.0), (180.0, 5.0)))
    free = ready.guide_stars(ephemeris.moment(LOON_BARRENS, NIGHT), 6.0)
    hidden = ready.guide_stars(ephemeris.moment(walled, NIGHT), 6.0)
    assert set(hidden.hip.tolist()) < set(free.hip.tolist())
    assert "Capella" in free.names
    assert "Capella" not in hidden.names
    shown = ready.field_stars(ephemeris.moment(walled, NIGHT))
    capella = (catalogue.star(24608),)
    (behind,) = ready.places(ephemeris.moment(walled, NIGHT), capella)
    assert "below the horizon" in ways_to(free, behind).advice
    assert "below the horizon" in hops_to(shown, behind, FINDER).advice
    assert len(shown.hip) < len(ready.field_stars(ephemeris.moment(LOON_BARRENS, NIGHT)).hip)


def test_stars_lead_where_this_sky_shows_them(catalogue: Catalogue, ephemeris: Ephemeris) -> None:
    """A magnitude brighter than what the eye finds there, and never fainter than 4.5."""
    ready, moment = WayFinder(catalogue, NIGHT), ephemeris.moment(LOON_BARRENS, NIGHT)

    def brighter_in_the_east(azimuth_deg: FloatArray, altitude_deg: FloatArray) -> FloatArray:
        assert azimuth_deg.shape == altitude_deg.shape
        return np.where(azimuth_deg < 180.0, 2.5, 8.0)

    stars = ready.guide_stars(moment, brighter_in_the_east)
    east = stars.vectors[:, 1] < 0.0
    assert 1.2 < stars.magnitude[east].max() <= 1.5
    assert 4.2 < stars.magnitude[~east].max() <= 4.5


def test_the_floor_runs_around_the_horizon() -> None:
    line = floor_deg(((90.0, 20.0), (270.0, 10.0)), [90.0, 180.0, 0.0, 359.99])
    assert line == pytest.approx([20.0, 15.0, 15.0, 15.0], abs=0.01)
    assert floor_deg((), np.zeros(3)) == pytest.approx(8.0)


def test_bodies_bring_their_own_brightness(
    catalogue: Catalogue, ephemeris: Ephemeris, search: SearchIndex
) -> None:
    ready = WayFinder(catalogue, NIGHT)
    targets = (search.resolve("Saturn"), search.resolve("M 31"))
    saturn, galaxy = ready.places(ephemeris.moment(LOON_BARRENS, NIGHT), targets)
    assert saturn.magnitude is not None
    assert saturn.magnitude < 1.5
    assert galaxy.magnitude == targets[1].magnitude
    assert ready.places(ephemeris.moment(LOON_BARRENS, NIGHT), ()) == ()
