"""Simulated mounts and nights: planted parameters, honest noise, a sky of made-up bright stars."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from companion.mount import BrightStars, Dial, Mount, Sighting, angle_of, reading_of
from companion.mount.daily_turn import turned_with_sky
from companion.mount.model import directions_of, to_dials, vectors_of

FloatArray = NDArray[np.float64]

START = datetime(2026, 11, 25, 22, 0, tzinfo=UTC)
ROOT_12 = 12.0**0.5


def mount_of(azimuth_sigma_deg: float = 0.25, altitude_sigma_deg: float = 0.1) -> Mount:
    """A mount whose dials have just these reading errors and no play, both on its axes."""
    return Mount(
        "simulated",
        azimuth=Dial(step_deg=azimuth_sigma_deg * ROOT_12, play_deg=0.0),
        altitude=Dial(
            low_deg=-180.0, high_deg=180.0, step_deg=altitude_sigma_deg * ROOT_12, play_deg=0.0
        ),
        centring_sigma_deg=0.0,
    )


def dial_readings(
    mount: Mount, parameters_deg: FloatArray, azimuth_deg: float, altitude_deg: float
) -> tuple[float, float]:
    """What the dials show, without any error, when the tube points there."""
    vector = vectors_of(np.radians(np.array([azimuth_deg])), np.radians(np.array([altitude_deg])))
    azimuth, altitude = to_dials(
        np.radians(parameters_deg), vector, level=mount.altitude.level_on_tube
    )
    return (
        reading_of(mount.azimuth, float(np.degrees(azimuth[0]))),
        reading_of(mount.altitude, float(np.degrees(altitude[0]))),
    )


def sighting_of(
    mount: Mount,
    parameters_deg: FloatArray,
    azimuth_deg: float,
    altitude_deg: float,
    noise_deg: tuple[float, float] = (0.0, 0.0),
    name: str = "",
    number: int = 0,
    utc: datetime = START,
) -> Sighting:
    """A sighting with this error in both readings."""
    azimuth, altitude = dial_readings(mount, parameters_deg, azimuth_deg, altitude_deg)
    return Sighting(
        utc=utc,
        name=name or f"star {azimuth_deg:.0f} {altitude_deg:.0f}",
        target_key=name,
        azimuth_deg=azimuth_deg,
        altitude_deg=altitude_deg,
        azimuth_reading_deg=azimuth + noise_deg[0],
        altitude_reading_deg=altitude + noise_deg[1],
        number=number,
    )


def off_deg(mount: Mount, first: tuple[float, float], second: tuple[float, float]) -> float:
    """The angle between two settings of the dials, as a perfect mount would have it."""
    vectors = [
        vectors_of(
            np.radians(np.array(angle_of(mount.azimuth, azimuth))),
            np.radians(np.array(angle_of(mount.altitude, altitude))),
        )
        for azimuth, altitude in (first, second)
    ]
    return float(np.degrees(2.0 * np.arcsin(np.linalg.norm(vectors[0] - vectors[1]) / 2.0)))


@dataclass(frozen=True)
class MadeUpSky:
    """Bright stars strewn over the whole sphere, brightness distributed as the real ones'."""

    vectors: FloatArray
    magnitude: FloatArray
    latitude_deg: float

    @classmethod
    def of(cls, seed: int, latitude_deg: float, count: int = 90) -> "MadeUpSky":
        """``count`` stars; about ninety in the real sky are brighter than magnitude 2.5."""
        rng = np.random.default_rng(seed)
        spread = rng.normal(size=(count, 3))
        vectors = spread / np.linalg.norm(spread, axis=1)[:, None]
        # Counts grow as 10^(0.5 m) among the bright ones.
        magnitude = 2.5 + 2.0 * np.log10(rng.uniform(size=count))
        return cls(vectors, magnitude, latitude_deg)

    def at(self, utc: datetime) -> BrightStars:
        seconds = (utc - START) / timedelta(seconds=1)
        vectors = turned_with_sky(self.vectors, self.latitude_deg, np.array(seconds))
        azimuth, altitude = directions_of(vectors)
        names = tuple(f"star {i}" for i in range(len(vectors)))
        return BrightStars(
            names, names, np.degrees(azimuth) % 360.0, np.degrees(altitude), self.magnitude
        )


def sightings_of_stars(
    mount: Mount,
    parameters_deg: FloatArray,
    sky: MadeUpSky,
    chosen: Sequence[int],
    times: Sequence[datetime],
    noise_deg: FloatArray,
) -> list[Sighting]:
    """Sightings of some stars of a sky, numbered from 1; noise of shape (n, 2)."""
    found = []
    for number, (index, utc) in enumerate(zip(chosen, times, strict=True), 1):
        stars = sky.at(utc)
        found.append(
            sighting_of(
                mount,
                parameters_deg,
                float(stars.azimuth_deg[index]),
                float(stars.altitude_deg[index]),
                (float(noise_deg[number - 1, 0]), float(noise_deg[number - 1, 1])),
                stars.names[index],
                number,
                utc,
            )
        )
    return found
