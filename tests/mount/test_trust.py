from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from companion.mount import (
    DoubtKind,
    Mount,
    Sighting,
    compass_sighting,
    examine,
    fit,
    trust_words,
    trusted,
)
from mount.simulated import START, MadeUpSky, dial_readings, mount_of, off_deg, sightings_of_stars

MOUNT = mount_of()
PLANTED = np.array([30.0, 0.5, 0.8, -0.6, 0.2, -0.1, 0.05])
SKY = MadeUpSky.of(4, 45.2)
TARGETS = ((20.0, 35.0), (150.0, 60.0), (260.0, 25.0))


def sightings(count: int) -> list[Sighting]:
    altitudes = SKY.at(START).altitude_deg
    up = np.flatnonzero((altitudes > 20.0) & (altitudes < 70.0))
    chosen = [int(i) for i in np.random.default_rng(5).choice(up, count, replace=False)]
    times = [START + timedelta(minutes=6 * i) for i in range(count)]
    return sightings_of_stars(MOUNT, PLANTED, SKY, chosen, times, np.zeros((count, 2)))


def taken_for_another(one: Sighting) -> Sighting:
    """The same readings under the name of a star some way off."""
    return replace(
        one, name="another", target_key="another", azimuth_deg=(one.azimuth_deg + 14.0) % 360.0
    )


def worst_share(mount: Mount, made: list[Sighting]) -> float:
    """How far the worst target is from where it is aimed at, in shares of the stated radius."""
    alignment = trusted(mount, made, examine(mount, made, SKY.at, SKY.latitude_deg))
    shares = []
    for place in TARGETS:
        aim = alignment.aim(*place)
        aimed = (aim.azimuth_reading_deg, aim.altitude_reading_deg)
        away = off_deg(mount, aimed, dial_readings(mount, PLANTED, *place))
        shares.append(away / aim.radius95_deg)
    return max(shares)


@pytest.mark.parametrize("count", [2, 3, 4, 6])
@pytest.mark.parametrize("wrong", [0, 1])
def test_after_a_wrong_star_no_target_is_missed_by_more_than_is_said(
    count: int, wrong: int
) -> None:
    made = sightings(count)
    made[wrong] = taken_for_another(made[wrong])
    assert worst_share(MOUNT, made) < 1.0


def test_a_wrong_star_has_no_part_in_the_numbers() -> None:
    made = sightings(5)
    wrong = taken_for_another(made[2])
    found = trusted(
        MOUNT, [*made[:2], wrong, *made[3:]],
        examine(MOUNT, [*made[:2], wrong, *made[3:]], SKY.at, SKY.latitude_deg),
    )  # fmt: skip
    without = fit(MOUNT, made[:2] + made[3:])
    assert np.array_equal(found.parameters_rad, without.parameters_rad)
    assert found.aim(*TARGETS[0]).radius95_deg == without.aim(*TARGETS[0]).radius95_deg
    assert wrong not in found.used
    assert (
        trust_words(found, 0.4) == "aligned on 4 stars, 95% of aims within 24′, without 1 in doubt"
    )


def test_a_sighting_that_somebody_keeps_counts_and_makes_the_numbers_less_sure() -> None:
    made = sightings(5)
    made[2] = replace(taken_for_another(made[2]), kept=True)
    doubts = examine(MOUNT, made, SKY.at, SKY.latitude_deg)
    assert [one.answered for one in doubts if one.contradicts] == [True]
    found = trusted(MOUNT, made, doubts)
    assert made[2] in found.used
    without = fit(MOUNT, made[:2] + made[3:])
    for place in TARGETS:
        assert found.aim(*place).radius95_deg > 2.0 * without.aim(*place).radius95_deg


def test_of_two_that_contradict_each_other_neither_is_trusted() -> None:
    first, second = sightings(2)
    turned_deg = ((second.azimuth_reading_deg or 0.0) + 14.0) % 360.0
    misread = replace(second, azimuth_reading_deg=turned_deg)
    made = [first, misread]
    doubts = examine(MOUNT, made, SKY.at, SKY.latitude_deg)
    unsure = [one for one in doubts if one.contradicts]
    # A base that leans by 8° would explain it as well: that is said, and not believed.
    assert {one.kind for one in unsure} == {DoubtKind.UNSURE}
    assert all("leans by about" in one.wrong for one in unsure)
    assert {one.numbers for one in unsure} == {(1,), (2,)}
    assert not any(one.aside for one in unsure)
    found = trusted(MOUNT, made, doubts)
    assert not found.aim(*TARGETS[0]).known
    assert "contradict each other" in trust_words(found, None)
    honest, _altitude = dial_readings(MOUNT, PLANTED, 0.0, 0.0)
    compass = compass_sighting(START, honest, 2.0)
    rough = trusted(MOUNT, [compass, *made], doubts).aim(*TARGETS[0])
    assert 2.0 < rough.radius95_deg < 9.0


def test_a_wrong_clock_leaves_no_sighting_to_trust() -> None:
    made = sightings(4)
    shifted = []
    for one in made:
        stars = SKY.at(one.utc - timedelta(hours=2))
        index = stars.names.index(one.name)
        shifted.append(
            replace(
                one,
                azimuth_deg=float(stars.azimuth_deg[index]),
                altitude_deg=float(stars.altitude_deg[index]),
            )
        )
    doubts = examine(MOUNT, shifted, SKY.at, SKY.latitude_deg)
    assert doubts[0].kind is DoubtKind.HOUR
    assert not trusted(MOUNT, shifted, doubts).aim(*TARGETS[0]).known
