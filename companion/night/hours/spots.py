"""Where objects stand at a step of their own, and how bright the sky is there."""

import numpy as np

from companion.arrays import FloatArray, RowArray
from companion.night.hours.places import Places
from companion.night.hours.turning import refracted, turned_up
from companion.night.sight.judgement import Spots
from companion.night.sight.observer import Conditions
from companion.night.sight.skylight import Lights, sky_light
from companion.sky import SUN_UP_DEG


def spots_at(places: Places, steps: RowArray, conditions: Conditions) -> tuple[Spots, FloatArray]:
    """Take each object at its own step of the grid.

    Parameters
    ----------
    places : Places
        n objects.
    steps : ndarray
        A step for each, shape (n,).
    conditions : Conditions
        Darkness and air.

    Returns
    -------
    tuple
        The spots, and the azimuths in degrees, shape (n,).
    """
    grid = places.grid
    vectors = places.turning.vectors.copy()
    diameter = np.full(len(places), np.nan)
    for row, track in places.bodies:
        vectors[row] = track.vectors[steps[row]]
        diameter[row] = track.diameter_arcsec
    azimuth, airless = turned_up(grid.site.latitude_deg, vectors, grid.offsets_s[steps])
    altitude = refracted(airless)
    moon = _distance_deg(grid.moon.vectors[steps], vectors)
    sun = _distance_deg(grid.sun.vectors[steps], vectors)
    light = sky_light(
        Lights(
            grid.sun.altitude_deg[steps],
            grid.moon.altitude_deg[steps],
            grid.moon_phase_angle_deg[steps],
        ),
        zenith_mag=conditions.zenith_mag,
        extinction_mag=conditions.extinction_mag,
        altitude_deg=altitude,
        moon_distance_deg=moon,
        sun_distance_deg=sun,
    )
    risen = grid.sun.altitude_airless_deg[steps] > SUN_UP_DEG
    return Spots(altitude, light, moon, np.where(risen, sun, np.inf), diameter), azimuth


def _distance_deg(a: FloatArray, b: FloatArray) -> FloatArray:
    cosine = np.clip(np.sum(a * b, axis=1), -1.0, 1.0)
    return np.asarray(np.degrees(np.arccos(cosine)))
