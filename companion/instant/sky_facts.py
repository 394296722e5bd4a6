"""Facts of a snapshot that don't depend on the target: north, darkness, lights."""

from companion.instant.events import Events
from companion.instant.sky_table import Instant
from companion.instant.snapshot import CompassZone, DarkFacts, Light, NorthFacts
from companion.sky import LIGHTS, MODEL, phase_of, phase_text, polaris_look


def light_facts(instant: Instant) -> tuple[Light, ...]:
    """Give Sun, Moon and planets."""
    places = instant.places
    lights = []
    for row, light in enumerate(LIGHTS, start=instant.sky.sun_row):
        facts = instant.moment.facts(light.body)
        lights.append(
            Light(
                light.name,
                light.body,
                float(places.azimuth_deg[row]),
                float(places.altitude_deg[row]),
                facts.magnitude,
                facts.lit_fraction,
            )
        )
    return tuple(lights)


def dark_facts(instant: Instant, events: Events) -> DarkFacts:
    """Give the phase of the night, the next one, and the Moon."""
    moment, sky, places = instant.moment, instant.sky, instant.places
    sun_deg = float(places.altitude_airless_deg[sky.sun_row])
    moon_up = float(places.altitude_deg[sky.moon_row]) > 0.0
    coming = events.of_dark(moment.site, moment.utc)
    moon = events.of_moon(moment.site, moment.utc)
    return DarkFacts(
        sun_altitude_deg=sun_deg,
        phase=phase_text(phase_of(sun_deg)),
        next_phase=coming.words,
        next_phase_utc=coming.utc,
        moon_up=moon_up,
        moon_lit_fraction=moment.facts("moon").lit_fraction,
        moon_next="sets" if moon_up else "rises",
        moon_next_utc=moon.sets_utc if moon_up else moon.rises_utc,
    )


def north_facts(instant: Instant, target_azimuth_deg: float | None) -> NorthFacts:
    """Give true north by compass, by Polaris and by the Sun's shadow."""
    field, sky, places, blackout = instant.field, instant.sky, instant.places, instant.blackout
    offset = instant.compass_offset_deg
    star = polaris_look(instant.moment, field)
    sun_azimuth = float(places.azimuth_deg[sky.sun_row])
    sun_up = float(places.altitude_deg[sky.sun_row]) > 0.0
    return NorthFacts(
        declination_deg=None if blackout else field.declination_deg,
        declination_sigma_deg=field.declination_sigma_deg,
        yearly_change_deg=field.yearly_change_deg,
        horizontal_nt=field.horizontal_nt,
        zone=CompassZone(str(field.zone)),
        expired=field.expired,
        model=MODEL,
        deviation_deg=instant.choices.compass_deviation_deg,
        compass_for_true_north_deg=None if blackout else -offset % 360.0,
        compass_for_target_deg=(
            None
            if blackout or target_azimuth_deg is None
            else (target_azimuth_deg - offset) % 360.0
        ),
        polaris_azimuth_deg=star.azimuth_deg if star.altitude_deg > 0.0 else None,
        polaris_altitude_deg=star.altitude_deg if star.altitude_deg > 0.0 else None,
        polaris_gain=star.gain,
        shadow_azimuth_deg=(sun_azimuth + 180.0) % 360.0 if sun_up else None,
    )
