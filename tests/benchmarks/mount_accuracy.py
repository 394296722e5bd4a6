"""How well a mount's own readings aim, beside the same mount with a plain offset.

Run it as ``python tests/benchmarks/mount_accuracy.py``. Everything is simulated: mounts with a
tilt of up to 2° in any direction, cone up to 0.5°, skew up to 0.3°, sag up to 0.1°, an azimuth
zero anywhere, an altitude zero of up to 2°; readings with errors of 0.25° in azimuth and 0.1° in
altitude; the stars brighter than magnitude 2.5 where they really are, seen from 45° N and 32° S at
any sidereal time.
"""

import functools
import sys
import time
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

sys.path.insert(0, str(Path(__file__).parents[1]))

from mount.simulated import (
    START,
    MadeUpSky,
    dial_readings,
    mount_of,
    off_deg,
    sightings_of_stars,
)

from companion.mount import DoubtKind, Mount, Sighting, angle_of, examine, fit, reading_of
from companion.sky import load_catalogue

FloatArray = NDArray[np.float64]

NIGHTS = 1000
NOISE_DEG = np.array([0.25, 0.1])
COMPASS_DEG = 3.0  # error of the compass by which the dial's zero was set
COUNTS = (0, 1, 2, 3, 6)
FAINTEST = 2.5


def main() -> None:
    """Print all figures."""
    nights = int(sys.argv[1]) if len(sys.argv) > 1 else NIGHTS
    print_accuracy(nights)
    print_wrong_stars(nights // 4)
    print_wrong_hours(nights // 4)
    print_speed()


def print_accuracy(nights: int) -> None:
    """Print aim errors in the sky by the number of sightings, fitted and with a plain offset."""
    write(f"aim error over {nights} simulated mounts, degrees in the sky, setting exact")
    write("sightings   fitted: median   95%    plain offset: median   95%    ratio   inside 95%")
    for count in COUNTS:
        found = np.array([one_night(seed, count) for seed in range(nights)])
        median, most = np.median(found[:, 0]), np.quantile(found[:, 0], 0.95)
        plain, plain_most = np.median(found[:, 1]), np.quantile(found[:, 1], 0.95)
        inside = np.mean(found[:, 0] <= found[:, 2])
        write(
            f"{count:9}   {median:14.2f}  {most:5.2f}   {plain:20.2f}  {plain_most:5.2f}   "
            f"{plain / median:4.1f}×/{plain_most / most:4.1f}×   {inside:.1%}"
        )


def one_night(seed: int, count: int) -> tuple[float, float, float]:
    """Give the aim error with the fit and with an offset, and the radius that was stated."""
    rng = np.random.default_rng([seed, count])
    mount, planted = mount_of(*NOISE_DEG), planted_deg(rng)
    sky = real_sky(seed)
    chosen = choose(rng, sky, count)
    sightings = sightings_of_stars(
        mount, planted, sky, chosen, [START] * count, rng.normal(0.0, NOISE_DEG, (count, 2))
    )
    compass = compass_sighting(mount, planted, rng)
    azimuth = float(rng.uniform(0.0, 360.0))
    altitude = float(np.degrees(np.arcsin(rng.uniform(np.sin(0.26), np.sin(1.31)))))
    truth = dial_readings(mount, planted, azimuth, altitude)
    aim = fit(mount, [compass, *sightings]).aim(azimuth, altitude)
    plain = plain_offset(mount, sightings or [compass], azimuth, altitude)
    aimed = (aim.azimuth_reading_deg, aim.altitude_reading_deg)
    return off_deg(mount, truth, aimed), off_deg(mount, truth, plain), aim.fit_radius95_deg


def real_sky(seed: int) -> MadeUpSky:
    """Give the real bright stars at a random sidereal time, north and south by turns."""
    latitude_deg = (45.2, -32.4)[seed % 2]
    sidereal_deg = float(np.random.default_rng([seed, 1]).uniform(0.0, 360.0))
    ra, dec, magnitude = bright_stars()
    hour, phi = np.radians(sidereal_deg) - ra, np.radians(latitude_deg)
    north = np.cos(phi) * np.sin(dec) - np.sin(phi) * np.cos(dec) * np.cos(hour)
    east = -np.cos(dec) * np.sin(hour)
    up = np.sin(phi) * np.sin(dec) + np.cos(phi) * np.cos(dec) * np.cos(hour)
    return MadeUpSky(np.stack([north, east, up], axis=-1), magnitude, latitude_deg)


@functools.cache
def bright_stars() -> tuple[FloatArray, FloatArray, FloatArray]:
    """Give right ascension and declination in radians, and magnitude."""
    stars = load_catalogue().bright_stars(FAINTEST)
    return (
        np.radians(np.array([one.ra_deg for one in stars], float)),
        np.radians(np.array([one.dec_deg for one in stars], float)),
        np.array([one.magnitude for one in stars], float),
    )


def planted_deg(rng: np.random.Generator) -> FloatArray:
    """Draw a mount's parameters."""
    tilt, towards = rng.uniform(0.0, 2.0), rng.uniform(0.0, 2.0 * np.pi)
    return np.array(
        [
            rng.uniform(-180.0, 180.0),
            rng.uniform(-2.0, 2.0),
            tilt * np.cos(towards),
            tilt * np.sin(towards),
            rng.uniform(-0.5, 0.5),
            rng.uniform(-0.3, 0.3),
            rng.uniform(-0.1, 0.1),
        ]
    )


def choose(rng: np.random.Generator, sky: MadeUpSky, count: int) -> list[int]:
    """Choose different stars from 15° to 75° high."""
    altitudes = sky.at(START).altitude_deg
    up = np.flatnonzero((altitudes > 15.0) & (altitudes < 75.0))
    return [int(i) for i in rng.choice(up, count, replace=False)]


def compass_sighting(mount: Mount, planted: FloatArray, rng: np.random.Generator) -> Sighting:
    """Give north by compass, as a weak sighting of the azimuth dial alone."""
    azimuth, _altitude = dial_readings(mount, planted, 0.0, 0.0)
    return Sighting(
        START, "compass", "", 0.0, 0.0, azimuth + rng.normal(0.0, COMPASS_DEG), None,
        sigma_deg=COMPASS_DEG, weak=True,
    )  # fmt: skip


def plain_offset(
    mount: Mount, sightings: Sequence[Sighting], azimuth_deg: float, altitude_deg: float
) -> tuple[float, float]:
    """Give readings by the mean offset of both dials: what is done without a model."""
    turned = [
        np.radians(angle_of(mount.azimuth, one.azimuth_reading_deg or 0.0) - one.azimuth_deg)
        for one in sightings
    ]
    raised = [
        angle_of(mount.altitude, one.altitude_reading_deg) - one.altitude_deg
        for one in sightings
        if one.altitude_reading_deg is not None
    ]
    offset = float(np.degrees(np.angle(np.mean(np.exp(1j * np.array(turned))))))
    return (
        reading_of(mount.azimuth, azimuth_deg + offset),
        altitude_deg + (float(np.mean(raised)) if raised else 0.0),
    )


def print_wrong_stars(nights: int) -> None:
    """Print how many wrong stars are questioned, named right, and how many honest ones are."""
    write(f"a wrong star among the sightings, {nights} nights each")
    write("sightings   caught   named right   among those offered   honest nights questioned")
    for count in (2, 3, 4, 6):
        found = np.array([one_mistake(seed, count, wrong=True) for seed in range(nights)])
        honest = np.array([one_mistake(seed, count, wrong=False) for seed in range(nights)])
        caught, first, offered = found.mean(axis=0)
        false = honest[:, 0].mean()
        write(f"{count:9}   {caught:6.1%}   {first:11.1%}   {offered:19.1%}   {false:.1%}")


def one_mistake(seed: int, count: int, *, wrong: bool) -> tuple[bool, bool, bool]:
    """Plant a neighbour in the place of one star; tell if it was caught and named."""
    rng = np.random.default_rng([seed, count, 7])
    mount, planted = mount_of(*NOISE_DEG), planted_deg(rng)
    sky = real_sky(seed)
    chosen = choose(rng, sky, count)
    times = [START + timedelta(minutes=4 * i) for i in range(count)]
    sightings = sightings_of_stars(
        mount, planted, sky, chosen, times, rng.normal(0.0, NOISE_DEG, (count, 2))
    )
    compass = compass_sighting(mount, planted, rng)
    victim = int(rng.integers(count)) if wrong else -1
    if wrong:
        meant = mistaken(rng, sky, chosen[victim])
        stars = sky.at(times[victim])
        azimuth, altitude = float(stars.azimuth_deg[meant]), float(stars.altitude_deg[meant])
        sightings[victim] = replace(
            sightings[victim],
            name=stars.names[meant],
            target_key=stars.keys[meant],
            azimuth_deg=azimuth,
            altitude_deg=altitude,
        )
    doubts = examine(mount, [compass, *sightings], sky.at, sky.latitude_deg)
    stars_doubted = [one for one in doubts if one.kind is DoubtKind.STAR]
    if not wrong:
        kinds = {DoubtKind.STAR, DoubtKind.HOUR, DoubtKind.BUMP}
        return any(one.kind in kinds for one in doubts), False, False
    about = [one for one in stars_doubted if one.sightings[0].number == victim + 1]
    names = [fitting.key for one in about for fitting in one.fits]
    right = sky.at(START).keys[chosen[victim]]
    first = bool(stars_doubted) and stars_doubted[0] in about and names[:1] == [right]
    return bool(about), first, right in names


def print_wrong_hours(nights: int) -> None:
    """Print how many clocks that are one to six hours wrong are recognised, and named right."""
    write(f"a clock one to six hours wrong, {nights} nights each")
    write("sightings   questioned   hours named right")
    for count in (2, 3, 4):
        found = np.array([one_wrong_clock(seed, count) for seed in range(nights)])
        questioned, right = found.mean(axis=0)
        write(f"{count:9}   {questioned:10.1%}   {right:17.1%}")


def one_wrong_clock(seed: int, count: int) -> tuple[bool, bool]:
    """Look stars up with a clock that is wrong; tell if it was doubted, and named right."""
    rng = np.random.default_rng([seed, count, 9])
    mount, planted, sky = mount_of(*NOISE_DEG), planted_deg(rng), real_sky(seed)
    hours = int(rng.integers(1, 7)) * int(rng.choice([-1, 1]))
    chosen = choose(rng, sky, count)
    times = [START + timedelta(minutes=4 * i) for i in range(count)]
    sightings = sightings_of_stars(
        mount, planted, sky, chosen, times, rng.normal(0.0, NOISE_DEG, (count, 2))
    )
    shifted = []
    for index, one in zip(chosen, sightings, strict=True):
        wrong_utc = one.utc - timedelta(hours=hours)
        stars = sky.at(wrong_utc)
        azimuth, altitude = float(stars.azimuth_deg[index]), float(stars.altitude_deg[index])
        shifted.append(replace(one, utc=wrong_utc, azimuth_deg=azimuth, altitude_deg=altitude))
    doubts = examine(mount, shifted, sky.at, sky.latitude_deg)
    named = [one.hours for one in doubts if one.kind is DoubtKind.HOUR]
    return bool(doubts), named == [hours]


def mistaken(rng: np.random.Generator, sky: MadeUpSky, real: int) -> int:
    """Give a star that the person may believe to see: one of the five nearest beyond 4°."""
    away = np.degrees(np.arccos(np.clip(sky.vectors @ sky.vectors[real], -1.0, 1.0)))
    away[(away < 4.0) | (sky.at(START).altitude_deg < 8.0)] = np.inf
    return int(rng.choice(np.argsort(away)[:5]))


def print_speed() -> None:
    """Print the time of a fit to twelve sightings with its aim, and of the questioning."""
    rng = np.random.default_rng(1)
    mount, planted, sky = mount_of(*NOISE_DEG), planted_deg(rng), real_sky(1)
    chosen = choose(rng, sky, 12)
    sightings = sightings_of_stars(
        mount, planted, sky, chosen, [START] * 12, rng.normal(0.0, NOISE_DEG, (12, 2))
    )
    times = []
    for _ in range(50):
        started = time.perf_counter()
        fit(mount, sightings).aim(123.0, 45.0)
        times.append(time.perf_counter() - started)
    write(f"fit to 12 sightings with one aim: {np.median(times) * 1e3:.1f} ms")


def write(line: str) -> None:
    """Print one line at once."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
