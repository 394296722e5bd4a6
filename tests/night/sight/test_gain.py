"""What the eye gains: against the law written out, and as observers expect it."""

from datetime import UTC, datetime

import numpy as np
import pytest

from companion.night.hours.grid import NightGrid, night_grid
from companion.night.hours.plan import Curve, plan_night
from companion.night.sight.air import airmass
from companion.night.sight.gain import visible_part
from companion.night.sight.instruments import find_instrument
from companion.night.sight.observer import Conditions
from companion.sky import DRY_PAN, LOON_BARRENS, Ephemeris, SearchIndex


def curves(
    ephemeris: Ephemeris, grid: NightGrid, search: SearchIndex, names: str, instrument: str = "150"
) -> dict[str, Curve]:
    targets = [search.resolve(name) for name in names.split(", ")]
    plans = plan_night(
        ephemeris,
        grid,
        targets,
        instrument=find_instrument(instrument),
        conditions=Conditions.at(grid.site),
    )
    return {plan.target.name: plan.curve for plan in plans}


def at_altitude(grid: NightGrid, curve: Curve, altitude_deg: float) -> float:
    """Give the gain in the darkest steps nearest to an altitude."""
    dark = grid.sun.altitude_airless_deg < -18.0
    far = np.where(dark, np.abs(curve.altitude_deg - altitude_deg), np.inf)
    assert far.min() < 2.0
    return float(curve.gain[far.argmin()])


def test_the_law_is_as_written() -> None:
    luck = np.random.default_rng(1)
    people = luck.normal(0.0, 0.4, 200_000)
    for margin in (-0.5, 0.0, 0.5, 1.0, 2.0, 4.0):
        for exponent in (0.33, 0.5):
            excess = np.maximum(1.0 - 10.0 ** (-0.4 * (margin + people)), 0.0)
            told = visible_part(np.array([margin]), exponent)[0]
            assert told == pytest.approx(float((excess**exponent).mean()), abs=0.012)
    assert visible_part(np.array([-3.0, np.inf]), 0.5).tolist() == [0.0, 1.0]


def test_a_bright_star_gains_what_the_air_leaves(
    ephemeris: Ephemeris, search: SearchIndex, autumn: NightGrid
) -> None:
    vega = curves(ephemeris, autumn, search, "vega")["Vega"]
    k = Conditions.at(autumn.site).extinction_mag
    up = vega.altitude_deg > 12.0
    light = 10.0 ** (-0.4 * 0.5 * k * (airmass(vega.altitude_deg[up]) - 1.0))
    assert vega.gain[up] == pytest.approx(light, abs=0.005)


def test_higher_is_better_and_a_low_planet_is_poor(
    ephemeris: Ephemeris, search: SearchIndex
) -> None:
    grid = night_grid(ephemeris, LOON_BARRENS, datetime(2026, 12, 10, 23, tzinfo=UTC))
    found = curves(ephemeris, grid, search, "jupiter, m 42, m 33, castor")
    for curve in found.values():
        up = (curve.altitude_deg > 10.0) & (grid.sun.altitude_airless_deg < -18.0)
        by_height = np.argsort(curve.altitude_deg[up])
        assert np.corrcoef(curve.altitude_deg[up], curve.gain[up])[0, 1] > 0.7
        assert curve.gain[up][by_height[-1]] > curve.gain[up][by_height[0]]
        assert 0.0 <= curve.gain.min() < curve.gain.max() <= 1.0
    low, high = (at_altitude(grid, found["Jupiter"], deg) for deg in (11.0, 57.0))
    assert (low < 0.35, high > 0.8) == (True, True)
    low, high = (at_altitude(grid, found["M 42"], deg) for deg in (11.0, 39.0))
    assert 0.6 < low < 0.8
    assert high > 0.9


def test_by_eye_no_detail_is_lost_to_the_blur(ephemeris: Ephemeris, search: SearchIndex) -> None:
    grid = night_grid(ephemeris, LOON_BARRENS, datetime(2026, 12, 10, 23, tzinfo=UTC))
    eye = curves(ephemeris, grid, search, "jupiter", "eye")["Jupiter"]
    scope = curves(ephemeris, grid, search, "jupiter")["Jupiter"]
    assert at_altitude(grid, eye, 15.0) > 1.5 * at_altitude(grid, scope, 15.0)


def test_moonlight_and_twilight_take_from_what_is_faint(
    ephemeris: Ephemeris, search: SearchIndex
) -> None:
    dark = night_grid(ephemeris, DRY_PAN, datetime(2026, 3, 19, 20, tzinfo=UTC))
    moonlit = night_grid(ephemeris, DRY_PAN, datetime(2026, 4, 1, 20, tzinfo=UTC))
    names = "m 83, alphard"
    one, other = (curves(ephemeris, grid, search, names) for grid in (dark, moonlit))
    faint = [at_altitude(g, c["M 83"], 60.0) for g, c in ((dark, one), (moonlit, other))]
    bright = [at_altitude(g, c["Alphard"], 60.0) for g, c in ((dark, one), (moonlit, other))]
    assert faint[1] < 0.6 * faint[0]
    assert bright[1] > 0.98 * bright[0]
