import itertools
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from companion.mount import (
    PLAIN_MOUNT,
    CountedFrom,
    Dial,
    Mount,
    Sighting,
    compass_sighting,
    fit,
    level_sighting,
)
from companion.mount.model import PARAMETERS
from companion.mount.observations import observations_of
from companion.mount.priors import FREE_DEG, prior_sigmas_deg
from companion.mount.slopes import misfit_and_jacobian
from mount.simulated import START, MadeUpSky, dial_readings, mount_of, off_deg, sighting_of

PLANTED = np.array([123.0, 0.8, 1.2, -0.7, 0.3, -0.2, 0.08])
WIDE = [(40.0, 25.0), (150.0, 60.0), (255.0, 40.0), (330.0, 72.0), (95.0, 33.0), (200.0, 18.0)]
MOUNTS = [
    mount_of(0.01, 0.01),
    replace(mount_of(0.01, 0.01), azimuth=Dial(clockwise=False, zero_deg=33.0, step_deg=0.03)),
    replace(
        mount_of(0.01, 0.01),
        altitude=Dial(low_deg=-90, high_deg=180, step_deg=0.03, counted_from=CountedFrom.ZENITH),
    ),
    replace(
        mount_of(0.01, 0.01),
        altitude=Dial(low_deg=-90, high_deg=180, step_deg=0.03, level_on_tube=True),
    ),
]


def sightings(mount: Mount, places: list[tuple[float, float]]) -> list[Sighting]:
    return [sighting_of(mount, PLANTED, *place) for place in places]


@pytest.mark.parametrize("mount", MOUNTS)
def test_readings_without_error_give_the_aim_back(mount: Mount) -> None:
    alignment = fit(mount, sightings(mount, WIDE))
    assert max(one.on_sky_deg for one in alignment.residuals) < 0.02
    for azimuth, altitude in ((10.0, 45.0), (285.0, 30.0)):
        aim = alignment.aim(azimuth, altitude)
        aimed = (aim.azimuth_reading_deg, aim.altitude_reading_deg)
        assert off_deg(mount, aimed, dial_readings(mount, PLANTED, azimuth, altitude)) < 0.05
        assert alignment.sky_of(*aimed) == pytest.approx((azimuth, altitude), abs=1e-9)


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10**6), st.sampled_from([45.2, -32.4, 0.0, 89.0, -78.0]))
def test_planted_parameters_are_recovered_wherever_one_stands(seed: int, latitude: float) -> None:
    rng = np.random.default_rng(seed)
    mount = mount_of(0.002, 0.002)
    planted = rng.normal(0.0, 0.8 * prior_sigmas_deg(mount))
    planted[0] = rng.uniform(-180.0, 180.0)
    stars = MadeUpSky.of(seed, latitude, 400).at(START)
    up = np.flatnonzero((stars.altitude_deg > 5.0) & (stars.altitude_deg < 80.0))
    chosen = [
        sighting_of(mount, planted, float(stars.azimuth_deg[i]), float(stars.altitude_deg[i]))
        for i in up[:60]
    ]
    found = fit(mount, chosen).parameters
    for name, value in zip(PARAMETERS, planted, strict=True):
        one = found[name]
        away = (one.value_deg - value + 180.0) % 360.0 - 180.0
        # Noise-free readings leave only the pull of the priors.
        assert abs(away) < 0.02 + 2.0 * one.sigma_deg, name
        assert one.determined


def test_even_a_base_that_leans_by_a_third_of_a_right_angle_is_found() -> None:
    mount = mount_of(0.01, 0.01)
    planted = np.array([-150.0, 0.0, 25.0, -20.0, 0.0, 0.0, 0.0])
    chosen = [sighting_of(mount, planted, *place) for place in WIDE]
    found = fit(mount, chosen).parameters
    assert found["tilt_north"].value_deg == pytest.approx(25.0, abs=0.2)
    assert found["tilt_east"].value_deg == pytest.approx(-20.0, abs=0.2)


def test_the_slopes_are_those_of_a_much_finer_difference() -> None:
    mount = PLAIN_MOUNT
    seen = observations_of(mount, sightings(mount, WIDE))
    at = np.radians(PLANTED)
    _misfit, slopes = misfit_and_jacobian(seen, at)
    # Richardson's extrapolation of two wider central differences: error of the fourth order.
    for i in range(len(PARAMETERS)):
        columns = []
        for step in (2e-3, 1e-3):
            ahead, behind = at.copy(), at.copy()
            ahead[i] += step
            behind[i] -= step
            difference = misfit_and_jacobian(seen, ahead)[0] - misfit_and_jacobian(seen, behind)[0]
            columns.append(difference / (2.0 * step))
        expected = (4.0 * columns[1] - columns[0]) / 3.0
        np.testing.assert_allclose(slopes[:, i], expected, rtol=1e-6, atol=1e-5)


def test_without_any_sighting_nothing_is_known() -> None:
    alignment = fit(PLAIN_MOUNT, [])
    assert alignment.undetermined == PARAMETERS
    assert alignment.parameters["azimuth_zero"].sigma_deg == pytest.approx(FREE_DEG)
    assert alignment.aim(100.0, 30.0).radius95_deg > 90.0


def test_one_sighting_gives_an_aim_and_says_what_it_cannot_tell() -> None:
    mount = mount_of()
    alignment = fit(mount, sightings(mount, WIDE[:1]))
    assert alignment.aim(45.0, 30.0).radius95_deg < 1.0 < alignment.aim(225.0, 30.0).radius95_deg
    assert {"tilt_north", "tilt_east", "cone", "skew", "sag"} <= set(alignment.undetermined)
    assert "azimuth_zero" not in alignment.undetermined


def test_each_kind_of_reading_alone_tells_its_own_dial() -> None:
    mount = mount_of()
    first = sightings(mount, WIDE[:1])[0]
    turned = fit(mount, [replace(first, altitude_reading_deg=None)])
    raised = fit(mount, [replace(first, azimuth_reading_deg=None)])
    assert turned.parameters["altitude_zero"].sigma_deg == pytest.approx(2.0)
    assert turned.parameters["azimuth_zero"].sigma_deg < 2.0
    assert raised.parameters["azimuth_zero"].sigma_deg == pytest.approx(FREE_DEG)
    assert raised.parameters["altitude_zero"].sigma_deg < 1.5
    assert turned.residuals[0].altitude_deg is None
    assert raised.residuals[0].azimuth_deg is None


def test_compass_and_level_give_an_aim_from_the_first_minute() -> None:
    mount = replace(PLAIN_MOUNT, levelled_with_care=True)
    alignment = fit(mount, [compass_sighting(START, 350.0), level_sighting(START, 0.4)])
    aim = alignment.aim(90.0, 40.0)
    assert aim.azimuth_reading_deg == pytest.approx(80.0, abs=0.3)
    assert aim.altitude_reading_deg == pytest.approx(40.4, abs=0.2)
    assert 2.0 < aim.radius95_deg < 5.0


def test_sightings_set_aside_are_compared_but_not_used() -> None:
    mount = mount_of()
    good = sightings(mount, WIDE)
    wrong = replace(good[2], azimuth_reading_deg=10.0, set_aside=True)
    alignment = fit(mount, [*good[:2], wrong, *good[3:]])
    assert np.array_equal(alignment.parameters_rad, fit(mount, good[:2] + good[3:]).parameters_rad)
    assert alignment.residuals[2].on_sky_deg > 5.0
    assert len(alignment.used) == 5


def test_more_sightings_never_make_an_aim_less_sure() -> None:
    mount = mount_of()
    radii = [fit(mount, sightings(mount, WIDE[:n])).aim(180.0, 45.0).radius95_deg for n in range(7)]
    assert all(later <= earlier * 1.01 for earlier, later in itertools.pairwise(radii))


def test_an_aim_near_the_zenith_stays_a_small_angle_in_the_sky() -> None:
    mount = mount_of()
    alignment = fit(mount, sightings(mount, WIDE))
    aims = [alignment.aim(60.0, altitude) for altitude in (89.0, 89.9, 90.0)]
    assert all(0.0 < aim.radius95_deg < 2.5 for aim in aims)
    assert aims[-1].gap_deg > 0.0  # cone and skew keep the tube from the very top
    assert aims[-1].radius95_deg >= aims[-1].gap_deg


def test_readings_of_many_are_those_of_each() -> None:
    mount = mount_of()
    alignment = fit(mount, sightings(mount, WIDE))
    azimuths, altitudes = alignment.readings(np.array([10.0, 200.0]), np.array([20.0, 50.0]))
    for i, place in enumerate(((10.0, 20.0), (200.0, 50.0))):
        aim = alignment.aim(*place)
        assert aim.azimuth_reading_deg == pytest.approx(azimuths[i], abs=1e-9)
        assert aim.altitude_reading_deg == pytest.approx(altitudes[i], abs=1e-9)


anywhere = st.builds(
    Sighting,
    utc=st.just(START),
    name=st.just("somewhere"),
    target_key=st.just(""),
    azimuth_deg=st.sampled_from([0.0, 180.0]) | st.floats(0.0, 360.0),
    altitude_deg=st.sampled_from([90.0, -90.0, 89.999]) | st.floats(-90.0, 90.0),
    azimuth_reading_deg=st.none() | st.floats(0.0, 360.0),
    altitude_reading_deg=st.none() | st.floats(-90.0, 90.0),
    sigma_deg=st.none() | st.floats(0.0, 100.0),
    weak=st.booleans(),
)


@settings(max_examples=80, deadline=None)
@given(st.lists(anywhere, max_size=5), st.sampled_from([PLAIN_MOUNT, Mount("levelled")]))
def test_whatever_is_typed_an_aim_comes_out(typed: list[Sighting], mount: Mount) -> None:
    alignment = fit(mount, typed)
    for place in ((0.0, 90.0), (10.0, 45.0), (20.0, -10.0)):
        aim = alignment.aim(*place)
        assert np.isfinite([aim.azimuth_reading_deg, aim.altitude_reading_deg]).all()
        assert 0.0 < aim.radius95_deg <= 180.0
        assert np.linalg.eigvalsh(aim.covariances_deg2).min() > 0.0


def test_an_own_sigma_takes_the_place_of_the_dials() -> None:
    mount = mount_of()
    one = sightings(mount, WIDE[:1])[0]
    coarse = fit(mount, [replace(one, sigma_deg=5.0)]).parameters["azimuth_zero"].sigma_deg
    fine = fit(mount, [one]).parameters["azimuth_zero"].sigma_deg
    assert coarse == pytest.approx(5.0, rel=0.1)
    assert fine < 1.0
