"""The stated 95% radius against Monte Carlo: it must hold 94% to 96% of simulated nights.

The method is that of the *Guide to the Expression of Uncertainty in Measurement*, Supplement 1
(JCGM 101:2008): draw what is uncertain from its distribution, and count.
"""

from datetime import UTC, datetime

import numpy as np
import pytest

from companion.mount import Dial, Mount, Sighting, angle_of, fit, reading_of
from companion.mount.model import to_dials, vectors_of
from companion.mount.priors import prior_sigmas_deg

UTC_NOW = datetime(2026, 11, 25, 22, 0, tzinfo=UTC)
NOISE_DEG = np.array([0.25, 0.1])
ROOT_12 = 12.0**0.5


def mount_of(*, level: bool) -> Mount:
    return Mount(
        "simulated",
        azimuth=Dial(step_deg=float(NOISE_DEG[0]) * ROOT_12),
        altitude=Dial(
            low_deg=-180.0,
            high_deg=180.0,
            step_deg=float(NOISE_DEG[1]) * ROOT_12,
            level_on_tube=level,
        ),
        centring_sigma_deg=0.0,
    )


def one_night(rng: np.random.Generator, mount: Mount) -> tuple[bool, bool]:
    """Tell whether the target is within the stated radius: with dials set exactly, and as set."""
    sigmas = prior_sigmas_deg(mount)
    planted = rng.normal(0.0, sigmas)
    planted[0] = rng.uniform(-180.0, 180.0)
    level = mount.altitude.level_on_tube
    count = int(rng.integers(1, 5))
    azimuth = rng.uniform(0.0, 360.0, count + 1)
    altitude = np.degrees(np.arcsin(rng.uniform(np.sin(0.25), np.sin(1.3), count + 1)))
    sky = vectors_of(np.radians(azimuth), np.radians(altitude))
    turned, raised = to_dials(np.radians(planted), sky, level=level)
    readings = np.degrees(np.stack([turned, raised], axis=-1))
    readings[:count] += rng.normal(0.0, NOISE_DEG, (count, 2))
    sightings = [
        Sighting(
            UTC_NOW, f"{i}", "", float(azimuth[i]), float(altitude[i]),
            reading_of(mount.azimuth, float(readings[i, 0])), float(readings[i, 1]),
        )
        for i in range(count)
    ]  # fmt: skip
    aim = fit(mount, sightings).aim(float(azimuth[count]), float(altitude[count]))
    told = np.array([angle_of(mount.azimuth, aim.azimuth_reading_deg), aim.altitude_reading_deg])
    missed = told - readings[count]
    missed[0] = (missed[0] + 180.0) % 360.0 - 180.0
    set_wrong = missed + rng.normal(0.0, NOISE_DEG)
    flat = np.array([np.cos(np.radians(altitude[count])), 1.0])
    return (
        bool(np.hypot(*(missed * flat)) < aim.fit_radius95_deg),
        bool(np.hypot(*(set_wrong * flat)) < aim.radius95_deg),
    )


@pytest.mark.parametrize("level", [False, True])
def test_the_stated_radius_holds_what_it_says_in_a_thousand_nights(level: bool) -> None:
    rng = np.random.default_rng(11)
    mount = mount_of(level=level)
    inside = np.mean([one_night(rng, mount) for _ in range(1000)], axis=0)
    # Three sigma of counting a thousand nights.
    assert inside == pytest.approx([0.95, 0.95], abs=0.021)


@pytest.mark.slow
def test_the_stated_radius_holds_what_it_says_in_twenty_thousand_nights() -> None:
    rng = np.random.default_rng(12)
    mount = mount_of(level=False)
    inside = np.mean([one_night(rng, mount) for _ in range(20_000)], axis=0)
    assert np.all((inside >= 0.94) & (inside <= 0.96)), inside
