import numpy as np
import pytest
from numpy.typing import NDArray

from companion.mount import Alignment, BrightStars, NextSighting, fit, next_sighting
from mount.simulated import START, MadeUpSky, mount_of, sighting_of

MOUNT = mount_of()
PLANTED = np.array([30.0, 0.5, 0.8, -0.6, 0.2, -0.1, 0.05])
SKY = MadeUpSky.of(4, 45.2).at(START)
QUEUE = ([90.0, 180.0, 270.0], [40.0, 60.0, 25.0])


def searched(
    alignment: Alignment, stars: BrightStars, azimuths: list[float], altitudes: list[float]
) -> NextSighting | None:
    """Take all steps of the search."""
    steps = next_sighting(alignment, stars, azimuths, altitudes)
    while True:
        try:
            next(steps)
        except StopIteration as end:
            found: NextSighting | None = end.value
            return found


def test_it_predicts_just_what_a_fit_with_that_star_then_states() -> None:
    sightings = [sighting_of(MOUNT, PLANTED, 100.0, 40.0)]
    before = fit(MOUNT, sightings)
    found = searched(before, SKY, *QUEUE)
    assert found is not None
    worst = max(aim.radius95_deg for aim in before.aims(*QUEUE))
    assert found.radius_now_deg == pytest.approx(worst)
    # Sighted just where the alignment expects it: nothing moves, only the errors shrink.
    more = sighting_of(MOUNT, before_parameters(before), found.azimuth_deg, found.altitude_deg)
    after = fit(MOUNT, [*sightings, more])
    worst_after = max(aim.radius95_deg for aim in after.aims(*QUEUE))
    assert found.radius_then_deg == pytest.approx(worst_after, rel=1e-3)
    assert found.radius_then_deg < found.radius_now_deg
    assert found.name in found.words


def before_parameters(alignment: Alignment) -> NDArray[np.float64]:
    return np.degrees(alignment.parameters_rad)


def test_no_other_star_would_help_much_more_and_the_brightest_is_taken() -> None:
    before = fit(MOUNT, [sighting_of(MOUNT, PLANTED, 100.0, 40.0)])
    found = searched(before, SKY, *QUEUE)
    assert found is not None
    worst, magnitudes = [], []
    for i in np.flatnonzero((SKY.altitude_deg > 15.0) & (SKY.altitude_deg < 75.0)):
        place = float(SKY.azimuth_deg[i]), float(SKY.altitude_deg[i])
        more = sighting_of(MOUNT, before_parameters(before), *place)
        after = fit(MOUNT, [*before.sightings, more])
        worst.append(max(aim.radius95_deg for aim in after.aims(*QUEUE)))
        magnitudes.append(float(SKY.magnitude[i]))
    assert found.radius_then_deg <= 1.1 * min(worst) + 1e-4
    good = [m for w, m in zip(worst, magnitudes, strict=True) if w < 1.1 * min(worst) - 1e-3]
    assert len(good) > 1
    assert float(SKY.magnitude[found.index]) <= min(good)


def test_the_numbers_to_set_are_those_of_the_aim() -> None:
    before = fit(MOUNT, [sighting_of(MOUNT, PLANTED, 100.0, 40.0)])
    found = searched(before, SKY, *QUEUE)
    assert found is not None
    aim = before.aim(found.azimuth_deg, found.altitude_deg)
    assert found.azimuth_reading_deg == aim.azimuth_reading_deg
    assert found.altitude_reading_deg == aim.altitude_reading_deg


def test_the_first_sighting_is_asked_for_in_other_words() -> None:
    found = searched(fit(MOUNT, []), SKY, *QUEUE)
    assert found is not None
    assert "no aim is possible" in found.words


def test_the_first_star_is_a_bright_one() -> None:
    sky = BrightStars(
        ("faint", "bright"),
        ("faint", "bright"),
        np.array([200.0, 250.0]),
        np.array([16.0, 60.0]),
        np.array([2.9, 0.0]),
    )
    found = searched(fit(MOUNT, []), sky, *QUEUE)
    assert found is not None
    assert found.name == "bright"


def test_there_is_none_without_a_queue_or_a_star_in_reach() -> None:
    before = fit(MOUNT, [])
    assert searched(before, SKY, [], []) is None
    low = BrightStars(("low",), ("low",), np.array([10.0]), np.array([5.0]), np.array([1.0]))
    assert searched(before, low, *QUEUE) is None


def test_there_is_none_once_nothing_helps_any_more() -> None:
    many = [sighting_of(MOUNT, PLANTED, a, e) for a in range(0, 360, 12) for e in range(20, 75, 6)]
    assert searched(fit(MOUNT, many), SKY, *QUEUE) is None
