import sys
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from companion.mount import (
    PLAIN_MOUNT,
    BrightStars,
    DoubtKind,
    Mount,
    Sighting,
    compass_sighting,
    examine,
    leave_one_out,
    pair_angle,
)
from companion.mount.fit import fitted
from companion.mount.hour import best_shift
from companion.mount.observations import Observations
from companion.mount.posterior import Posterior
from companion.mount.priors import Cases
from mount.simulated import (
    START,
    MadeUpSky,
    dial_readings,
    mount_of,
    sighting_of,
    sightings_of_stars,
)

MOUNT = mount_of()
PLANTED = np.array([30.0, 0.5, 0.8, -0.6, 0.2, -0.1, 0.05])
LATITUDES = [45.2, -32.4]


def night(
    seed: int, latitude: float, count: int, minutes: float = 6.0
) -> tuple[MadeUpSky, list[Sighting]]:
    rng = np.random.default_rng(seed)
    sky = MadeUpSky.of(seed, latitude)
    altitudes = sky.at(START).altitude_deg
    up = np.flatnonzero((altitudes > 20.0) & (altitudes < 70.0))
    chosen = [int(i) for i in rng.choice(up, count, replace=False)]
    times = [START + timedelta(minutes=minutes * i) for i in range(count)]
    noise = rng.normal(0.0, [0.25, 0.1], (count, 2))
    return sky, sightings_of_stars(MOUNT, PLANTED, sky, chosen, times, noise)


def mistaken_for(sighting: Sighting, stars: BrightStars, index: int) -> Sighting:
    return replace(
        sighting,
        name=stars.names[index],
        target_key=stars.keys[index],
        azimuth_deg=float(stars.azimuth_deg[index]),
        altitude_deg=float(stars.altitude_deg[index]),
    )


def neighbour(sky: MadeUpSky, sighting: Sighting) -> int:
    """The nearest other star that is at least 8° away and well up."""
    real = int(sighting.name.removeprefix("star "))
    away = np.degrees(np.arccos(np.clip(sky.vectors @ sky.vectors[real], -1, 1)))
    away[(away < 8.0) | (sky.at(sighting.utc).altitude_deg < 10.0)] = 999.0
    return int(np.argmin(away))


def kinds(mount: Mount, sightings: Sequence[Sighting], sky: MadeUpSky) -> list[DoubtKind]:
    return [one.kind for one in examine(mount, sightings, sky.at, sky.latitude_deg)]


@pytest.mark.parametrize("latitude", LATITUDES)
@pytest.mark.parametrize("seed", range(6))
def test_honest_sightings_are_not_questioned(seed: int, latitude: float) -> None:
    for count in (0, 1, 2, 4, 7):
        sky, sightings = night(seed, latitude, count)
        found = kinds(MOUNT, sightings, sky)
        assert not set(found) & {DoubtKind.STAR, DoubtKind.HOUR, DoubtKind.BUMP}


@pytest.mark.parametrize("latitude", LATITUDES)
@pytest.mark.parametrize("seed", range(6))
def test_a_wrong_star_is_named(seed: int, latitude: float) -> None:
    sky, sightings = night(seed, latitude, 5)
    real = sightings[2]
    wrong = mistaken_for(real, sky.at(real.utc), neighbour(sky, real))
    doubts = examine(MOUNT, [*sightings[:2], wrong, *sightings[3:]], sky.at, latitude)
    assert doubts[0].kind is DoubtKind.STAR
    assert doubts[0].sightings == (wrong,)
    assert doubts[0].fits[0].key == real.target_key
    assert doubts[0].fits[0].off_deg < 1.0
    assert real.name in doubts[0].do
    assert wrong.name in doubts[0].wrong


@pytest.mark.parametrize("seed", range(6))
def test_of_two_sightings_alone_the_angle_between_the_stars_tells(seed: int) -> None:
    sky, sightings = night(seed, 45.2, 2)
    wrong = mistaken_for(sightings[1], sky.at(sightings[1].utc), neighbour(sky, sightings[1]))
    honest = pair_angle(MOUNT, *sightings)
    assert honest is not None
    assert not honest.questioned
    doubts = [
        one
        for one in examine(MOUNT, [sightings[0], wrong], sky.at, 45.2)
        if one.kind in {DoubtKind.STAR, DoubtKind.UNSURE}
    ]
    offered = [fit.key for one in doubts if one.sightings == (wrong,) for fit in one.fits]
    assert sightings[1].target_key in offered


def test_a_pair_with_a_missing_reading_has_no_angle() -> None:
    _sky, (first, second) = night(1, 45.2, 2)
    assert pair_angle(MOUNT, first, replace(second, azimuth_reading_deg=None)) is None


def test_the_angle_of_a_pair_is_said_when_it_is_what_is_wrong() -> None:
    sky = MadeUpSky.of(3, 45.2)
    first = sighting_of(MOUNT, PLANTED, 100.0, 30.0, name="Vega")
    second = sighting_of(MOUNT, PLANTED, 180.0, 35.0, name="Deneb")
    doubts = examine(MOUNT, [first, replace(second, azimuth_deg=150.0)], sky.at, 45.2)
    assert "apart, but the dials say" in doubts[0].wrong


def test_a_compass_beside_a_car_is_doubted_before_the_stars() -> None:
    sky, sightings = night(2, 45.2, 3)
    honest, _altitude = dial_readings(MOUNT, PLANTED, 0.0, 0.0)
    for off in (25.0, -40.0):
        compass = replace(compass_sighting(START, (honest + off) % 360.0, 2.0), number=99)
        for count in (1, 2, 3):
            doubts = examine(MOUNT, [compass, *sightings[:count]], sky.at, 45.2)
            assert doubts[0].kind is DoubtKind.WEAK
            assert doubts[0].sightings == (compass,)
            assert doubts[0].aside
            assert "compass disagrees with the stars" in doubts[0].wrong
            if count > 2:
                assert all(one.kind is not DoubtKind.STAR for one in doubts)
    fine = compass_sighting(START, (honest + 1.5) % 360.0, 2.0)
    assert DoubtKind.WEAK not in kinds(MOUNT, [fine, *sightings], sky)


@pytest.mark.parametrize("latitude", LATITUDES)
@pytest.mark.parametrize("hours", [-3.0, -1.0, 1.0, 5.5])
def test_a_wrong_hour_is_recognised_and_named(latitude: float, hours: float) -> None:
    sky, sightings = night(4, latitude, 4)
    # Readings from the true time, directions from a clock that is ``hours`` behind it.
    shifted = []
    for one in sightings:
        wrong_utc = one.utc - timedelta(hours=hours)
        stars = sky.at(wrong_utc)
        index = stars.names.index(one.name)
        shifted.append(replace(mistaken_for(one, stars, index), utc=wrong_utc))
    doubts = examine(MOUNT, shifted, sky.at, latitude)
    assert doubts[0].kind is DoubtKind.HOUR
    assert not doubts[0].aside
    assert doubts[0].hours == pytest.approx(hours)
    amount = (
        f"{abs(hours):g} hour{'' if abs(hours) == 1 else 's'} {'later' if hours > 0 else 'earlier'}"
    )
    assert amount in doubts[0].do
    assert "turn of the sky" in doubts[0].wrong


def test_a_wrong_minute_is_told_as_minutes() -> None:
    sky, sightings = night(5, 45.2, 6)
    shifted = []
    for one in sightings:
        wrong_utc = one.utc - timedelta(minutes=37)
        stars = sky.at(wrong_utc)
        shifted.append(
            replace(mistaken_for(one, stars, stars.names.index(one.name)), utc=wrong_utc)
        )
    shift = best_shift(MOUNT, shifted, 45.2)
    assert not shift.quarter
    assert shift.hours * 60.0 == pytest.approx(37.0, abs=5.0)
    doubts = examine(MOUNT, shifted, sky.at, 45.2)
    assert doubts[0].kind is DoubtKind.HOUR
    assert "minutes later" in doubts[0].do


@pytest.mark.parametrize("jump", [(7.0, 0.0), (-4.0, 0.0), (3.0, -5.0)])
@pytest.mark.parametrize("at", [2, 3, 5])
def test_a_bumped_dial_is_noticed(jump: tuple[float, float], at: int) -> None:
    sky, sightings = night(6, 45.2, 7, minutes=20.0)
    bumped = [
        replace(
            one,
            azimuth_reading_deg=((one.azimuth_reading_deg or 0.0) + jump[0]) % 360.0,
            altitude_reading_deg=(one.altitude_reading_deg or 0.0) + jump[1],
        )
        for one in sightings[at:]
    ]
    doubts = examine(MOUNT, [*sightings[:at], *bumped], sky.at, 45.2)
    assert doubts[0].kind is DoubtKind.BUMP
    assert doubts[0].aside
    assert [one.number for one in doubts[0].sightings] == list(range(1, at + 1))
    assert "set the" in doubts[0].do
    # With the earlier ones set aside all is well again.
    aside = [replace(one, set_aside=True) for one in sightings[:at]]
    assert DoubtKind.BUMP not in kinds(MOUNT, [*aside, *bumped], sky)


def test_readings_that_fit_no_star_are_questioned_with_advice() -> None:
    sky, sightings = night(7, 45.2, 5)
    nowhere = replace(sightings[1], altitude_reading_deg=3.1)
    doubts = examine(MOUNT, [sightings[0], nowhere, *sightings[2:]], sky.at, 45.2)
    assert doubts[0].kind is DoubtKind.STAR
    assert doubts[0].sightings == (nowhere,)
    assert doubts[0].fits == ()
    assert "Read both dials again" in doubts[0].do


def test_weak_spots_of_the_geometry_are_named() -> None:
    sky = MadeUpSky.of(8, 45.2)
    close = [sighting_of(MOUNT, PLANTED, 100.0 + i, 40.0, name=f"s{i}") for i in range(3)]
    assert kinds(MOUNT, close, sky) == [DoubtKind.ONE_SIDE]
    twice = [close[0], replace(close[0], number=2), sighting_of(MOUNT, PLANTED, 220.0, 30.0)]
    assert kinds(MOUNT, twice, sky) == [DoubtKind.TWICE]
    below = sighting_of(MOUNT, PLANTED, 10.0, -4.0, name="Canopus")
    doubts = examine(MOUNT, [below], sky.at, 45.2)
    assert doubts[0].kind is DoubtKind.BELOW
    assert "4.0° below the horizon" in doubts[0].wrong


def test_leaving_one_out_needs_another_azimuth() -> None:
    _sky, (only, _second) = night(9, 45.2, 2)
    (alone,) = leave_one_out(MOUNT, [only])
    assert alone.readings == 1  # the altitude against its prior
    assert leave_one_out(MOUNT, [replace(only, altitude_reading_deg=None)]) == []


def nonsense(count: int) -> list[Sighting]:
    rng = np.random.default_rng(count)
    return [
        Sighting(
            START + timedelta(minutes=number), f"s{number}", "",
            float(rng.uniform(0.0, 360.0)), float(rng.uniform(10.0, 80.0)),
            float(rng.uniform(0.0, 360.0)), float(rng.uniform(10.0, 80.0)), number=number,
        )
        for number in range(1, count + 1)
    ]  # fmt: skip


@pytest.mark.parametrize("count", [20, 80])
def test_nonsense_is_given_up_after_a_counted_amount_of_work(
    count: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    fitted_rows = []

    def counting(seen: Observations, cases: Cases) -> Posterior:
        fitted_rows.append(len(seen.vectors))
        return fitted(seen, cases)

    monkeypatch.setattr(sys.modules[fitted.__module__], "fitted", counting)
    doubts = examine(PLAIN_MOUNT, nonsense(count), MadeUpSky.of(1, 45.2).at, 45.2)
    assert doubts[0].kind is DoubtKind.CONFUSED
    assert doubts[0].contradicts
    assert "contradict each other" in doubts[0].wrong
    assert len({one.number for doubt in doubts for one in doubt.sightings}) == count
    # Each fit looks at every row once a step: the work grows with the rows, not their square.
    assert sum(fitted_rows) < 100 * count
    assert examine(PLAIN_MOUNT, nonsense(count), MadeUpSky.of(1, 45.2).at, 45.2) == doubts


def test_three_wrong_stars_among_twelve_are_found_one_after_the_other() -> None:
    sky, sightings = night(8, 45.2, 12)
    for place in (1, 5, 9):
        one = sightings[place]
        sightings[place] = mistaken_for(one, sky.at(one.utc), neighbour(sky, one))
    doubts = [one for one in examine(MOUNT, sightings, sky.at, 45.2) if one.contradicts]
    assert {one.kind for one in doubts} == {DoubtKind.STAR}
    assert {one.sightings[0].number for one in doubts} == {2, 6, 10}


@pytest.mark.parametrize("lean_deg", [3.0, 5.0])
@pytest.mark.parametrize("seed", range(4))
def test_a_base_that_leans_is_not_taken_for_a_wrong_clock(seed: int, lean_deg: float) -> None:
    rng = np.random.default_rng(seed)
    sky = MadeUpSky.of(seed, 45.2)
    altitudes = sky.at(START).altitude_deg
    up = np.flatnonzero((altitudes > 20.0) & (altitudes < 70.0))
    chosen = [int(i) for i in rng.choice(up, 4, replace=False)]
    leaning = PLANTED.copy()
    # East and west look most like a turn of the sky about the pole.
    leaning[2:4] = 0.0, lean_deg * (1.0 if seed % 2 else -1.0)
    noise = rng.normal(0.0, [0.25, 0.1], (4, 2))
    made = sightings_of_stars(MOUNT, leaning, sky, chosen, [START] * 4, noise)
    doubts = examine(MOUNT, made, sky.at, 45.2)
    assert not [one for one in doubts if one.contradicts]
    (lean,) = [one for one in doubts if one.kind is DoubtKind.LEAN]
    assert lean.wrong.endswith("towards east." if seed % 2 else "towards west.")
