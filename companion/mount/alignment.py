"""What a fit knows of a mount: parameters, their errors, and the aim that follows."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from companion.arrays import FloatArray
from companion.mount.aim import Aim, sky_covariances
from companion.mount.dial import angle_of, reading_of, readings_of
from companion.mount.model import PARAMETERS, directions_of, to_dials, to_sky, vectors_of
from companion.mount.observations import observations_of
from companion.mount.posterior import Posterior
from companion.mount.priors import cases_of, overall_sigmas_deg
from companion.mount.radius import radius_of
from companion.mount.records import Mount, Parameter, Sighting


@dataclass(frozen=True, slots=True)
class Residual:
    """Reading minus what the fit expects, of one sighting; None where nothing was read.

    ``on_sky_deg`` is the angle in the sky, with the azimuth shortened by the altitude's cosine.
    """

    sighting: Sighting
    azimuth_deg: float | None
    altitude_deg: float | None
    on_sky_deg: float


@dataclass(frozen=True, eq=False)
class Alignment:
    """The fitted relation of a mount's dials to the sky, with its uncertainty."""

    mount: Mount
    sightings: tuple[Sighting, ...]
    posterior: Posterior
    doubted: tuple[Sighting, ...] = ()  # left out of the fit, because something contradicts them

    @cached_property
    def parameters_rad(self) -> FloatArray:
        """Give the parameters (7,) in the order of ``model.PARAMETERS``."""
        return self.posterior.mean

    @cached_property
    def covariance_rad2(self) -> FloatArray:
        """Give the covariance (7, 7) of the parameters."""
        return self.posterior.covariance

    @property
    def used(self) -> tuple[Sighting, ...]:
        """Give the sightings that the fit rests on."""
        return in_use(self.sightings, self.doubted)

    @cached_property
    def parameters(self) -> Mapping[str, Parameter]:
        """Give each parameter by its name."""
        sigmas = np.degrees(np.sqrt(np.diag(self.covariance_rad2)))
        values = np.degrees(self.parameters_rad)
        priors = overall_sigmas_deg(cases_of(self.mount, self.used))
        values[0] = (values[0] + 180.0) % 360.0 - 180.0
        return MappingProxyType(
            {
                name: Parameter(name, float(value), float(sigma), float(prior))
                for name, value, sigma, prior in zip(
                    PARAMETERS, values, sigmas, priors, strict=True
                )
            }
        )

    @property
    def undetermined(self) -> tuple[str, ...]:
        """Name the parameters that the sightings cannot yet tell from their priors."""
        return tuple(one.name for one in self.parameters.values() if not one.determined)

    @cached_property
    def residuals(self) -> tuple[Residual, ...]:
        """Give the residual of every sighting, of those set aside too."""
        seen = observations_of(self.mount, self.sightings)
        azimuth, altitude = to_dials(self.parameters_rad, seen.vectors, level=seen.level)
        turned = np.degrees((seen.azimuth - azimuth + np.pi) % (2.0 * np.pi) - np.pi)
        risen = np.degrees(seen.altitude - altitude)
        return tuple(
            _residual(one, float(a), float(e))
            for one, a, e in zip(self.sightings, turned, risen, strict=True)
        )

    def aim(self, azimuth_deg: float, altitude_deg: float) -> Aim:
        """Give what the dials must show for a true azimuth and a refracted altitude."""
        return self.aims([azimuth_deg], [altitude_deg])[0]

    def aims(self, azimuths_deg: Sequence[float], altitudes_deg: Sequence[float]) -> list[Aim]:
        """Give the aims of many directions at once; see ``Aim`` for what the error holds."""
        level = self.mount.altitude.level_on_tube
        vectors = vectors_of(np.radians(azimuths_deg), np.radians(altitudes_deg)).reshape(-1, 3)
        azimuth, altitude = to_dials(self.parameters_rad, vectors, level=level)
        reached = to_sky(self.parameters_rad, azimuth, altitude, level=level)
        gaps = np.degrees(2.0 * np.arcsin(np.linalg.norm(reached - vectors, axis=-1) / 2.0))
        fitted, setting = sky_covariances(self.mount, self.posterior, azimuth, altitude)
        covariances, weights = fitted + setting, self.posterior.weights
        both = radius_of(np.stack([covariances, fitted]), weights=weights)
        radii, fit_radii = np.minimum(both + gaps, 180.0)
        turns, heights = np.degrees(azimuth), np.degrees(altitude)
        return [
            Aim(
                azimuth_reading_deg=reading_of(self.mount.azimuth, float(turns[i])),
                altitude_reading_deg=reading_of(self.mount.altitude, float(heights[i])),
                radius95_deg=float(radii[i]),
                fit_radius95_deg=float(fit_radii[i]),
                weights=weights,
                covariances_deg2=covariances[i],
                gap_deg=float(gaps[i]),
            )
            for i in range(len(vectors))
        ]

    def readings(
        self, azimuths_deg: ArrayLike, altitudes_deg: ArrayLike
    ) -> tuple[list[float], list[float]]:
        """Give the azimuth and altitude readings of many directions, without their errors."""
        vectors = vectors_of(np.radians(azimuths_deg), np.radians(altitudes_deg)).reshape(-1, 3)
        azimuth, altitude = to_dials(
            self.parameters_rad, vectors, level=self.mount.altitude.level_on_tube
        )
        return (
            readings_of(self.mount.azimuth, np.degrees(azimuth).tolist()),
            readings_of(self.mount.altitude, np.degrees(altitude).tolist()),
        )

    def sky_of(
        self, azimuth_reading_deg: float, altitude_reading_deg: float
    ) -> tuple[float, float]:
        """Give the true azimuth (0 to 360) and refracted altitude that readings point to."""
        angles = np.radians(
            [
                angle_of(self.mount.azimuth, azimuth_reading_deg),
                angle_of(self.mount.altitude, altitude_reading_deg),
            ]
        )
        level = self.mount.altitude.level_on_tube
        vectors = to_sky(self.parameters_rad, angles[:1], angles[1:], level=level)
        azimuth, altitude = directions_of(vectors)
        return float(np.degrees(azimuth[0])) % 360.0, float(np.degrees(altitude[0]))


def in_use(sightings: Sequence[Sighting], doubted: Sequence[Sighting]) -> tuple[Sighting, ...]:
    """Give the sightings that are neither set aside nor doubted."""
    return tuple(one for one in sightings if not one.set_aside and one not in doubted)


def _residual(sighting: Sighting, azimuth_deg: float, altitude_deg: float) -> Residual:
    flat = float(np.cos(np.radians(sighting.altitude_deg)))
    return Residual(
        sighting,
        None if np.isnan(azimuth_deg) else azimuth_deg,
        None if np.isnan(altitude_deg) else altitude_deg,
        float(np.hypot(np.nan_to_num(azimuth_deg) * flat, np.nan_to_num(altitude_deg))),
    )
