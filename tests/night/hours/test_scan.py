"""The quick look through a night against the slow laws it stands for."""

from dataclasses import replace
from datetime import UTC, datetime

import numpy as np
import pytest

from companion.night.hours.grid import NightGrid, night_grid
from companion.night.hours.night_sky import NightSky
from companion.night.hours.places import Places
from companion.night.hours.scan import NEVER, Scan, Scanner
from companion.night.progress import Cancelled
from companion.night.sight.air import airmass
from companion.night.sight.instruments import find_instrument
from companion.night.sight.limits import object_limits
from companion.night.sight.objects import NightObjects
from companion.night.sight.observer import Conditions
from companion.night.sight.reach import Reach
from companion.night.sight.scales import mag_per_arcsec2
from companion.night.sight.skylight import Lights, sky_light
from companion.night.sight.views import views_of
from companion.sky import LOON_BARRENS, Ephemeris, Site, Target, load_catalogue

WINTER = datetime(2026, 12, 24, 3, tzinfo=UTC)  # the Moon is full and high


@pytest.fixture(scope="module")
def moonlit(ephemeris: Ephemeris) -> NightGrid:
    return night_grid(ephemeris, LOON_BARRENS, WINTER)


def some_targets() -> tuple[Target, ...]:
    catalogue = load_catalogue()
    return (
        *catalogue.bodies[1:],
        *catalogue.names.groups.values(),
        *catalogue.deep_sky.targets[::40],
        *catalogue.bright_stars(2.5),
    )


def scan_of(
    ephemeris: Ephemeris, grid: NightGrid, targets: tuple[Target, ...], low_limit_deg: float = 10.0
) -> tuple[Scan, NightObjects]:
    conditions = Conditions.at(grid.site)
    doubles = load_catalogue().names.doubles
    objects = NightObjects.of(targets, doubles).with_magnitudes(
        {name: track.magnitude for name, track in grid.tracks.items()}
    )
    views = views_of(find_instrument("150"), conditions.observer)
    scanner = Scanner(
        NightSky.of(grid, np.flatnonzero(grid.night), conditions), conditions, low_limit_deg
    )
    places = Places.of(ephemeris, grid, targets)
    return scanner.scan(places, objects, Reach.of(objects, views, conditions)), objects


@pytest.mark.parametrize("zenith_mag", [18.0, 21.8])
def test_tables_of_the_sky_agree_with_its_laws(
    ephemeris: Ephemeris, moonlit: NightGrid, zenith_mag: float
) -> None:
    conditions = Conditions(zenith_mag=zenith_mag)
    targets = some_targets()
    steps = np.flatnonzero(moonlit.night)[::7]
    sky = NightSky.of(moonlit, steps, conditions)
    places = Places.of(ephemeris, moonlit, targets)
    sine = places.sine_of_altitude(steps)
    cells = sky.cells_of(sine)
    quick = mag_per_arcsec2(
        sky.glow(cells) + sky.moonlight(places, cells) + sky.sunlight(places, cells)
    )
    altitude = places.turning.altitude_deg(moonlit.offsets_s[steps])
    moon_deg = np.degrees(np.arccos(places.cosine_from(moonlit.moon, steps)))
    sun_deg = np.degrees(np.arccos(places.cosine_from(moonlit.sun, steps)))
    slow = sky_light(
        Lights(
            moonlit.sun.altitude_deg[steps, None],
            moonlit.moon.altitude_deg[steps, None],
            moonlit.moon_phase_angle_deg[steps, None],
        ),
        zenith_mag=zenith_mag,
        extinction_mag=conditions.extinction_mag,
        altitude_deg=altitude,
        moon_distance_deg=moon_deg,
        sun_distance_deg=sun_deg,
    ).total
    moving = [row for row, _track in places.bodies]
    still = np.delete(np.arange(len(targets)), moving)
    compared = (altitude > 5.0) & (moon_deg > 2.0)
    off = np.abs(quick - slow)[:, still][compared[:, still]]
    assert off.size > 1000
    assert off.max() < 0.03
    assert (
        float(np.abs(sky.airmass[cells] - airmass(altitude))[:, still][compared[:, still]].max())
        < 0.02
    )


@pytest.mark.parametrize("name", ["eye", "10x50", "150"])
def test_limits_between_skies_are_interpolated(name: str) -> None:
    conditions = Conditions()
    objects = NightObjects.of(some_targets(), load_catalogue().names.doubles)
    views = views_of(find_instrument(name), conditions.observer)
    for sky_mag in (12.5, 17.3, 19.1, 20.7, 21.9):
        sky = np.full((1, len(objects)), sky_mag)
        quick = Reach.of(objects, views, conditions).at(sky)[0]
        slow = np.max([object_limits(v, sky.T, objects, conditions)[:, 0] for v in views], axis=0)
        split = slow > -90.0
        off = np.abs(quick - np.minimum(slow, 40.0))[split & (objects.magnitude > -30.0)]
        assert off.max() < 0.1


def test_a_moving_body_is_followed(ephemeris: Ephemeris, moonlit: NightGrid) -> None:
    found, _objects = scan_of(ephemeris, moonlit, some_targets())
    best = int(found.best[0])
    usable = np.where(moonlit.night, moonlit.moon.altitude_deg, -90.0)
    assert some_targets()[0].name == "Moon"
    assert best == int(usable.argmax())


def test_windows_hold_the_best_step_and_stay_over_the_limits(
    ephemeris: Ephemeris, autumn: NightGrid
) -> None:
    targets = some_targets()
    for site in (LOON_BARRENS, replace(LOON_BARRENS, horizon=((0.0, 5.0), (180.0, 50.0)))):
        grid = night_grid(ephemeris, site, autumn.middle_utc)
        found, _objects = scan_of(ephemeris, grid, targets, 20.0)
        up = found.up
        assert up.sum() > 50
        assert np.all((found.first <= found.best) & (found.best <= found.last))
        assert np.all(found.first[~up] == NEVER)
        places = Places.of(ephemeris, grid, targets)
        steps = np.arange(len(grid.offsets_s))
        altitude = np.degrees(np.arcsin(places.sine_of_altitude(steps)))
        at_best = altitude[found.best[up], np.flatnonzero(up)]
        assert at_best.min() > 19.5
        assert grid.night[found.first[up]].all()


def test_a_higher_horizon_takes_what_is_behind_it(ephemeris: Ephemeris, autumn: NightGrid) -> None:
    walled = night_grid(ephemeris, replace(LOON_BARRENS, horizon=((0.0, 89.0),)), autumn.middle_utc)
    found, _objects = scan_of(ephemeris, walled, some_targets())
    assert found.up.sum() < 5


@pytest.mark.parametrize("month", [6, 12])
@pytest.mark.parametrize("latitude", [69.65, 90.0, -90.0])
def test_high_latitudes_leave_no_gaps(ephemeris: Ephemeris, latitude: float, month: int) -> None:
    grid = night_grid(
        ephemeris, Site("far", latitude, 18.96), datetime(2026, month, 21, 12, tzinfo=UTC)
    )
    targets = some_targets()
    found, _objects = scan_of(ephemeris, grid, targets)
    altitude = np.degrees(
        np.arcsin(Places.of(ephemeris, grid, targets).sine_of_altitude(np.arange(289)))
    )
    high = (altitude > 30.0).all(axis=0)
    fixed = np.array([not target.body for target in targets])
    from_sun = Places.of(ephemeris, grid, targets).cosine_from(grid.sun, np.arange(289))[0]
    dangerous = from_sun > np.cos(np.radians(22.0))
    assert np.isfinite(found.reach_mag[found.up]).all()
    if grid.sun_never_sets:
        assert not found.up.any()  # nobody is sent out by day
    else:  # what never sets always has a window
        assert found.up[high & fixed & ~dangerous].all()


def test_nothing_is_offered_near_the_risen_sun(ephemeris: Ephemeris) -> None:
    grid = night_grid(ephemeris, Site("far", 69.65, 18.96), datetime(2026, 6, 21, 12, tzinfo=UTC))
    track = grid.sun
    beside = Target("own:a", "beside the Sun", load_catalogue().bodies[2].kind, body="sun")
    found, _objects = scan_of(ephemeris, grid, (beside,))
    assert not found.up.any()
    assert track.altitude_deg.max() > 40.0


def test_a_scan_tells_how_far_it_is_and_stops(ephemeris: Ephemeris, autumn: NightGrid) -> None:
    targets = load_catalogue().bright_stars(4.8)
    conditions = Conditions()
    objects = NightObjects.of(targets)
    reach = Reach.of(objects, views_of(find_instrument("eye"), conditions.observer), conditions)
    sky = NightSky.of(autumn, np.flatnonzero(autumn.night), conditions)
    places = Places.of(ephemeris, autumn, targets)
    told: list[float] = []

    def listen(done: float) -> bool:
        told.append(done)
        return True

    Scanner(sky, conditions).scan(places, objects, reach, listen)
    assert told == sorted(told)
    assert told[-1] == 1.0
    assert len(told) > 2
    with pytest.raises(Cancelled):
        Scanner(sky, conditions).scan(places, objects, reach, lambda done: done < 0.3)
