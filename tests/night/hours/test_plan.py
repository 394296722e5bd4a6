"""The night of single targets, from the tropics to the pole."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from companion.finding import Instrument
from companion.night.hours.grid import NightGrid, night_grid
from companion.night.hours.places import Places
from companion.night.hours.plan import NightPlan, plan_night
from companion.night.sight.instruments import find_instrument
from companion.night.sight.observer import Conditions
from companion.sky import (
    LOON_BARRENS,
    Ephemeris,
    SearchIndex,
    Site,
    find_crossings,
    horizontal_separation_deg,
    load_catalogue,
)

NAMES = ("saturn", "m 13", "m 31", "vega", "polaris", "m 7", "canopus", "uranus", "moon", "sun")


def plans(
    ephemeris: Ephemeris,
    search: SearchIndex,
    grid: NightGrid,
    names: tuple[str, ...] = NAMES,
    instrument: Instrument | None = None,
) -> dict[str, NightPlan]:
    found = plan_night(
        ephemeris,
        grid,
        [search.resolve(name) for name in names],
        instrument=instrument or find_instrument("150"),
        conditions=Conditions.at(grid.site),
        doubles=load_catalogue().names.doubles,
    )
    return dict(zip(names, found, strict=True))


def test_windows_open_and_close_where_they_should(
    ephemeris: Ephemeris, search: SearchIndex, autumn: NightGrid
) -> None:
    found = plans(ephemeris, search, autumn)
    for plan in found.values():
        for opens, closes in plan.windows:
            assert opens < closes
        if plan.best_utc is not None:
            early = min(opens for opens, _ in plan.windows) - timedelta(minutes=5)
            late = max(closes for _, closes in plan.windows) + timedelta(minutes=5)
            assert early <= plan.best_utc <= late
    saturn = found["saturn"]
    closes = saturn.windows[-1][1]
    events = find_crossings(ephemeris, LOON_BARRENS, saturn.target, autumn.middle_utc, 10.0)
    assert events.sinks_utc is not None
    assert abs(closes - events.sinks_utc) < timedelta(seconds=60)
    assert events.transit_utc is not None
    assert saturn.sets_utc is not None
    assert abs(saturn.transit_utc - events.transit_utc) < timedelta(days=1, seconds=60)
    # Its companion of the ninth magnitude waits for the sky to darken; then it never sets.
    assert found["polaris"].words.endswith("46° up in the north")
    assert len(found["polaris"].windows) == 1
    assert found["m 7"].words == "never over 10° tonight, 9° at most"
    assert found["canopus"].words == "does not rise here"
    assert found["sun"].words == "up by day only"
    assert found["sun"].windows == ()


def test_curves_agree_with_the_judgement_at_the_best_time(
    ephemeris: Ephemeris, search: SearchIndex, autumn: NightGrid
) -> None:
    for plan in plans(ephemeris, search, autumn, ("m 13", "m 31", "uranus", "albireo")).values():
        assert plan.best_utc is not None
        assert plan.visibility.margin_mag is not None
        step = int(np.argmin(np.abs(autumn.offsets_s - autumn.offset_s(plan.best_utc))))
        best = plan.curve.margin_mag[step]
        # The curve takes the eyepiece that reaches farthest, the judgement the one that suits.
        assert -0.1 < best - plan.visibility.margin_mag < 6.0
        assert best == pytest.approx(np.nanmax(plan.curve.margin_mag[autumn.night]), abs=0.05)


def test_transits_agree_with_the_ephemeris(
    ephemeris: Ephemeris, search: SearchIndex, autumn: NightGrid
) -> None:
    start = autumn.utc(autumn.offsets_s[0])
    for name in ("m 31", "vega", "moon", "uranus"):
        plan = plans(ephemeris, search, autumn, (name,))[name]
        events = find_crossings(ephemeris, LOON_BARRENS, plan.target, start)
        assert events.transit_utc is not None
        off_s = abs((plan.transit_utc - events.transit_utc).total_seconds())
        day_s = 89400.0 if name == "moon" else 86164.0  # it comes back after some 24h50
        assert min(off_s, abs(off_s - day_s)) < (900.0 if name == "moon" else 30.0)


def test_the_horizon_shortens_the_window(
    ephemeris: Ephemeris, search: SearchIndex, autumn: NightGrid
) -> None:
    wall = ((0.0, 0.0), (180.0, 0.0), (200.0, 40.0), (340.0, 40.0))
    walled = night_grid(ephemeris, replace(LOON_BARRENS, horizon=wall), autumn.middle_utc)
    free = plans(ephemeris, search, autumn, ("vega",))["vega"]
    behind = plans(ephemeris, search, walled, ("vega",))["vega"]
    assert behind.windows[-1][1] < free.windows[-1][1] - timedelta(hours=1)
    assert behind.curve.horizon_deg.max() > 30.0
    roofed = night_grid(
        ephemeris, replace(LOON_BARRENS, horizon=((10.0, 89.5),)), autumn.middle_utc
    )
    assert (
        plans(ephemeris, search, roofed, ("vega",))["vega"].words == "behind your horizon all night"
    )


@pytest.mark.parametrize(("month", "word"), [(6, "polar day"), (12, "polar night")])
def test_polar_nights_are_planned(
    ephemeris: Ephemeris, search: SearchIndex, month: int, word: str
) -> None:
    site = Site("far north", 69.65, 18.96, 10.0, "Europe/Oslo")
    grid = night_grid(ephemeris, site, datetime(2026, month, 21, 12, tzinfo=UTC))
    found = plans(ephemeris, search, grid)
    assert np.isfinite(found["vega"].curve.altitude_deg).all()
    if word == "polar day":
        assert all(plan.windows == () for plan in found.values())
        assert found["vega"].words == found["sun"].words == "by day only: the Sun does not set"
        assert "never look there" in found["sun"].visibility.words
        assert "too faint" in found["m 31"].visibility.words
    else:
        assert found["vega"].words.startswith("all night, best")
        assert found["m 31"].windows
        assert found["sun"].windows == ()


def test_a_circumpolar_target_may_have_two_windows(
    ephemeris: Ephemeris, search: SearchIndex
) -> None:
    grid = night_grid(ephemeris, LOON_BARRENS, datetime(2026, 12, 21, tzinfo=UTC))
    plan = plans(ephemeris, search, grid, ("m 51", "vega"), find_instrument("eye"))["vega"]
    assert len(plan.windows) == 2
    assert " and " in plan.words


def test_no_targets_give_no_plans(ephemeris: Ephemeris, autumn: NightGrid) -> None:
    assert (
        plan_night(
            ephemeris, autumn, [], instrument=find_instrument("eye"), conditions=Conditions()
        )
        == ()
    )


@pytest.mark.parametrize("day", [13, 14, 15, 16])
def test_no_window_is_open_near_the_risen_sun(
    ephemeris: Ephemeris, search: SearchIndex, day: int
) -> None:
    # The new Moon of 15 June 2026 passes the Sun where the Sun does not set.
    site = Site("far north", 69.65, 18.96, 10.0, "Europe/Oslo")
    grid = night_grid(ephemeris, site, datetime(2026, 6, day, 12, tzinfo=UTC))
    assert grid.sun_never_sets
    for plan in plans(ephemeris, search, grid, ("moon", "mercury", "venus", "jupiter")).values():
        for opens, closes in plan.windows:
            for utc in (opens, opens + (closes - opens) / 2, closes):
                moment = ephemeris.moment(site, utc)
                one, sun = moment.body(plan.target.body), moment.body("sun")
                apart = horizontal_separation_deg(
                    one.azimuth_deg, one.altitude_deg, sun.azimuth_deg, sun.altitude_deg
                )
                assert float(apart) > 19.9


def test_points_of_the_sky_have_their_way_through_the_night(
    ephemeris: Ephemeris, autumn: NightGrid
) -> None:
    targets = tuple(load_catalogue().target(f"point:{it}") for it in ("zenith", "north-pole"))
    steps = np.arange(len(autumn.offsets_s))
    sine = Places.of(ephemeris, autumn, targets).sine_of_altitude(steps)
    altitude_deg = np.degrees(np.arcsin(np.clip(sine, -1.0, 1.0)))
    assert np.allclose(altitude_deg, [90.0, LOON_BARRENS.latitude_deg], atol=0.15)
