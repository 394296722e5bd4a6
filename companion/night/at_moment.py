"""Visibility of some targets at one moment."""

from collections.abc import Mapping, Sequence
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from companion.finding import Instrument, InstrumentKind
from companion.night.hours.sky_source import Look, SkySource
from companion.night.hours.turning import refracted
from companion.night.sight.judgement import Spots, judge
from companion.night.sight.objects import NightObjects
from companion.night.sight.observer import Conditions
from companion.night.sight.skylight import Lights, sky_light
from companion.night.sight.views import views_of
from companion.night.sight.visibility import Visibility, visibility_of
from companion.sky import (
    SUN_UP_DEG,
    DoubleStar,
    Site,
    Target,
    TargetTable,
    horizontal_separation_deg,
)

FloatArray = NDArray[np.float64]


def visibilities(
    sky: SkySource,
    site: Site,
    utc: datetime,
    targets: Sequence[Target],
    *,
    instrument: Instrument,
    conditions: Conditions,
    doubles: Mapping[int, DoubleStar] | None = None,
) -> tuple[Visibility, ...]:
    """Judge targets at one moment, through one instrument.

    Parameters
    ----------
    sky : SkySource
        The ephemeris.
    site : Site
        Where.
    utc : datetime
        When.
    targets : sequence of Target
        What; bodies too.
    instrument : Instrument
        Its eyepieces are chosen from.
    conditions : Conditions
        Darkness, air and observer.
    doubles : mapping, optional
        Double stars by Hipparcos number, as ``Catalogue.names.doubles`` has them.

    Raises
    ------
    AdviceError
        If the instrument is none, or the ephemeris does not cover the time.
    """
    if not targets:
        return ()
    views = views_of(instrument, conditions.observer)
    moment = sky.moment(site, utc)
    place = moment.horizontal(TargetTable.of(targets, utc))
    azimuth, airless = place.azimuth_deg, place.altitude_airless_deg
    sun, moon = moment.body("sun"), moment.body("moon")
    bodies = {target.body: moment.body(target.body) for target in targets if target.body}
    # Nobody expects the bare eye to part double stars.
    pairs = None if instrument.kind is InstrumentKind.EYE else doubles
    objects = NightObjects.of(targets, pairs).with_magnitudes(
        {name: look.magnitude for name, look in bodies.items()}
    )
    sun_distance = _distance_deg(sun, azimuth, airless)
    moon_distance = _distance_deg(moon, azimuth, airless)
    altitude = refracted(airless)
    light = sky_light(
        lights_of(sun, moon),
        zenith_mag=conditions.zenith_mag,
        extinction_mag=conditions.extinction_mag,
        altitude_deg=altitude,
        moon_distance_deg=moon_distance,
        sun_distance_deg=sun_distance,
    )
    diameters = [bodies[t.body].diameter_arcsec if t.body else np.nan for t in targets]
    from_sun = sun_distance if sun.altitude_airless_deg > SUN_UP_DEG else sun_distance + np.inf
    spots = Spots(altitude, light, moon_distance, from_sun, np.array(diameters, dtype=np.float64))
    judgement = judge(objects, spots, views, conditions)
    return tuple(visibility_of(judgement, row) for row in range(len(targets)))


def lights_of(sun: Look, moon: Look) -> Lights:
    """Give the two lights of a moment."""
    seen = refracted(np.array([sun.altitude_airless_deg, moon.altitude_airless_deg]))
    phase = np.degrees(np.arccos(np.clip(2.0 * moon.lit_fraction - 1.0, -1.0, 1.0)))
    return Lights(float(seen[0]), float(seen[1]), float(phase))


def _distance_deg(light: Look, azimuth_deg: FloatArray, airless_deg: FloatArray) -> FloatArray:
    return horizontal_separation_deg(
        light.azimuth_deg, light.altitude_airless_deg, azimuth_deg, airless_deg
    )
