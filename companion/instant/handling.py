"""How a target is followed by hand: its drift through the field, the zenith, stops and cables."""

import math

import numpy as np

from companion.advice import AdviceError
from companion.finding import (
    InstrumentKind,
    Optics,
    eyepiece_height_m,
    optics_of,
    view_matrix,
    viewing_text,
)
from companion.instant.choices import Choices
from companion.instant.sky_table import Instant
from companion.instant.snapshot import HandlingFacts, Reading, StayFacts
from companion.mount import Mount, blind_spot, dial_turn, reach_words
from companion.sky import Horizontal, Rates, stands_still

_DIRECTIONS = (
    "right",
    "up and right",
    "up",
    "up and left",
    "left",
    "down and left",
    "down",
    "down and right",
)


def looks_with(instant: Instant) -> tuple[Optics, ...]:
    """Give the ways to look with the chosen instrument, widest first; the eye has no field."""
    instrument = instant.choices.instrument
    if instrument is None or instrument.kind is InstrumentKind.EYE:
        return ()
    try:
        return optics_of(instrument)
    except AdviceError:
        return ()  # an instrument that makes no sense is said where it is described


def handling_facts(
    instant: Instant,
    place: Horizontal,
    rates: Rates,
    reading: Reading | None,
    last: tuple[float, float] | None,
) -> HandlingFacts:
    """Give what to mind while following a target.

    Parameters
    ----------
    instant : Instant
        The moment.
    place, rates : Horizontal, Rates
        Of the target alone, one row.
    reading : Reading or None
        What the dials must show for it.
    last : (float, float) or None
        What they showed for the last target, azimuth and altitude in degrees.
    """
    altitude = float(place.altitude_deg[0])
    right = float(rates.azimuth_arcsec_per_s[0]) * math.cos(math.radians(altitude))
    up = float(rates.altitude_arcsec_per_s[0])
    mount, site, target = instant.choices.mount, instant.choices.site, instant.choices.target
    highest = 90.0 if mount is None else mount.reach_high_deg
    spot = blind_spot(site.latitude_deg, float(place.azimuth_deg[0]), altitude, highest)
    return HandlingFacts(
        stays=tuple(_stay(look, right, up) for look in looks_with(instant)),
        blind="" if target is not None and stands_still(target) else spot.words,
        reach="" if mount is None or reading is None else _reach(mount, altitude, reading),
        turn=""
        if mount is None or reading is None or last is None
        else _turn(mount, last, reading),
        eyepiece=instant.choices.eyepiece,
        eyepiece_height_m=_eyepiece_height(instant.choices, altitude),
    )


def _eyepiece_height(choices: Choices, altitude_deg: float) -> float | None:
    mount, instrument = choices.mount, choices.instrument
    if mount is None or instrument is None or altitude_deg < 0.0:
        return None
    return eyepiece_height_m(instrument, altitude_deg, mount.axis_height_m)


def _stay(look: Optics, right: float, up: float) -> StayFacts:
    """Say how long a target stays in a field once centred, and which way it leaves."""
    speed = math.hypot(right, up)
    x, y = view_matrix(look.viewing) @ np.array([right, up])
    octant = round(math.degrees(math.atan2(y, x)) / 45.0) % 8
    seconds = look.field_deg / 2.0 * 3600.0 / speed if speed > 1e-3 else None
    return StayFacts(
        look.name, look.field_deg, seconds, _DIRECTIONS[octant], viewing_text(look.viewing)
    )


def _reach(mount: Mount, altitude_deg: float, reading: Reading) -> str:
    return reach_words(mount, altitude_deg, (reading.azimuth_deg, reading.altitude_deg))


def _turn(mount: Mount, last: tuple[float, float], reading: Reading) -> str:
    return dial_turn(mount, last, (reading.azimuth_deg, reading.altitude_deg)).words
