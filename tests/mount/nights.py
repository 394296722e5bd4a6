"""Nights drawn from what is assumed of mounts and dials, and whether the stated radius held."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from companion.mount import Dial, Mount, Sighting, angle_of, fit, reading_of
from companion.mount.model import to_dials, vectors_of
from companion.mount.priors import cases_of, prior_sigmas_deg
from mount.simulated import ROOT_12, START

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class Dials:
    """What the dials of a night really do.

    ``play_deg`` is the whole play of each dial, from flank to flank: a star's reading is off by
    half of it to either side, or, one time out of four, by less. ``told`` says whether the
    mount's description gives it. With ``drawn`` the standing of the base and the errors that
    nobody told are drawn from their priors; else the base stands as usual.
    """

    words: str
    sigma_deg: tuple[float, float] = (0.25, 0.1)  # rounding, as a standard deviation
    play_deg: tuple[float, float] = (0.0, 0.0)
    told: bool = True
    drawn: bool = False
    level: bool = False

    @property
    def mount(self) -> Mount:
        """The mount as its owner describes it."""
        azimuth, altitude = self.play_deg if self.told else (None, None)
        return Mount(
            "simulated",
            azimuth=Dial(step_deg=self.sigma_deg[0] * ROOT_12, play_deg=azimuth),
            altitude=Dial(
                low_deg=-180.0,
                high_deg=180.0,
                step_deg=self.sigma_deg[1] * ROOT_12,
                play_deg=altitude,
                level_on_tube=self.level,
            ),
            centring_sigma_deg=0.0,
        )

    def errors_deg(self, rng: np.random.Generator, extra_deg: FloatArray, count: int) -> FloatArray:
        """Draw the errors (count, 2) of readings, or of dials that are set."""
        at_flank = rng.random((count, 2)) < 0.75
        rests = np.where(
            at_flank, rng.choice([-0.5, 0.5], (count, 2)), rng.uniform(-0.5, 0.5, (count, 2))
        )
        return np.asarray(rests * np.array(self.play_deg)) + rng.normal(
            0.0, np.hypot(self.sigma_deg, extra_deg), (count, 2)
        )


STEP_1 = 1.0 / ROOT_12, 0.1 / ROOT_12
GOOD = Dials("good dials, play measured: none")
GOOD_UNKNOWN = Dials("good dials, play not measured", told=False)
DRAWN = Dials("drawn from the priors", told=False, drawn=True)
ROUGH = Dials("1° dial ±0.5° play, 0.1° level, given", STEP_1, (1.0, 0.0))
ROUGH_UNKNOWN = replace(ROUGH, words="the same, play not given", told=False)
LOOSE = Dials("0.1° dials ±0.25° play, given", (STEP_1[1], STEP_1[1]), (0.5, 0.5))
LOOSE_UNKNOWN = replace(LOOSE, words="the same, play not given", told=False)
ALL = (GOOD, GOOD_UNKNOWN, DRAWN, ROUGH, ROUGH_UNKNOWN, LOOSE, LOOSE_UNKNOWN)


def one_night(rng: np.random.Generator, dials: Dials, count: int) -> tuple[bool, bool]:
    """Tell whether the target is within the stated radius: with dials set exactly, and as set."""
    mount = dials.mount
    planted_deg, extra_deg = _drawn(rng, dials, mount)
    azimuth = rng.uniform(0.0, 360.0, count + 1)
    altitude = np.degrees(np.arcsin(rng.uniform(np.sin(0.25), np.sin(1.3), count + 1)))
    sky = vectors_of(np.radians(azimuth), np.radians(altitude))
    turned, raised = to_dials(np.radians(planted_deg), sky, level=dials.level)
    readings = np.degrees(np.stack([turned, raised], axis=-1))
    readings[:count] += dials.errors_deg(rng, extra_deg, count)
    sightings = [
        Sighting(
            START, f"{i}", "", float(azimuth[i]), float(altitude[i]),
            reading_of(mount.azimuth, float(readings[i, 0])), float(readings[i, 1]),
        )
        for i in range(count)
    ]  # fmt: skip
    aim = fit(mount, sightings).aim(float(azimuth[count]), float(altitude[count]))
    told = np.array([angle_of(mount.azimuth, aim.azimuth_reading_deg), aim.altitude_reading_deg])
    missed = told - readings[count]
    missed[0] = (missed[0] + 180.0) % 360.0 - 180.0
    set_wrong = missed + dials.errors_deg(rng, extra_deg, 1)[0]
    flat = np.array([np.cos(np.radians(altitude[count])), 1.0])
    return (
        bool(np.hypot(*(missed * flat)) < aim.fit_radius95_deg),
        bool(np.hypot(*(set_wrong * flat)) < aim.radius95_deg),
    )


def _drawn(rng: np.random.Generator, dials: Dials, mount: Mount) -> tuple[FloatArray, FloatArray]:
    """Draw parameters and the errors of readings that nobody told."""
    sigmas_deg, extra_deg = prior_sigmas_deg(mount), np.zeros(2)
    if dials.drawn:
        cases = cases_of(mount)
        case = int(rng.choice(len(cases.weights), p=cases.weights))
        sigmas_deg, extra_deg = np.degrees(cases.sigmas[case]), np.degrees(cases.extra[case])
    planted_deg = rng.normal(0.0, sigmas_deg)
    planted_deg[0] = rng.uniform(-180.0, 180.0)
    return planted_deg, extra_deg
