"""Setting a mount up, step by step: what to do, and what each step tells the fit.

The steps are data: the window shows one at a time, with one key to go on.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum
from typing import Final

from companion.mount.dial import reading_of, shown
from companion.mount.play import HIGHEST_DEG
from companion.mount.records import LEVELLED, Mount, Sighting

SUN_CAUTION: Final = (
    "Never look at the Sun, nor near it through any instrument or finder: a glance blinds. Keep "
    "caps on the tube and on the finder, and look only at the shadow."
)
DARK_CAUTION: Final = (
    "Set the tripod where nobody walks into it in the dark, clear of ladders, cables, ice and "
    "drops. Follow the rules of the place and let nobody step back while looking up."
)
READING_SIGMA_DEG: Final = 2.0  # of a hand-held compass (common practice, no source)
SHADOW_SIGMA_DEG: Final = 0.5  # of a plumb line's shadow on a dial (common practice, no source)
LOW_DEG: Final = 5.0  # below it the air makes a star dance
LEVEL_SIGMA_DEG: Final = 0.5  # of an altitude dial set to a spirit level
_PLAY_YIELDS: Final = (
    "How far this dial's readings differ from one side to the other: its play. It is kept with "
    "the mount, and the numbers are as sure as that, no more and no less."
)


class SetUpKind(StrEnum):
    """What a step does; the value is the word shown."""

    LEVEL = "level"
    ALTITUDE = "altitude dial"
    COMPASS = "north by compass"
    POLARIS = "north by Polaris"
    SHADOW = "north by the Sun's shadow"
    STAR = "north by a star"
    AZIMUTH_PLAY = "play of the azimuth dial"
    ALTITUDE_PLAY = "play of the altitude dial"


@dataclass(frozen=True, slots=True)
class SetUpStep:
    """One screen of the guided set-up.

    ``key`` is the one key that takes the step as done. ``yields`` says what it tells the fit.
    ``then`` is what to do for the second reading, where the step asks for two.
    """

    kind: SetUpKind
    title: str
    do: str
    key: str
    caution: str
    yields: str
    then: str = ""


@dataclass(frozen=True, slots=True)
class NorthLook:
    """What is known of north at this moment; None where a way is not open.

    ``compass_for_true_north_deg`` is what the compass shows when it points to true north,
    ``declination_sigma_deg`` the magnetic model's error, ``shadow_azimuth_deg`` where the Sun's
    shadow falls, ``polaris_azimuth_deg`` and ``polaris_altitude_deg`` where Polaris stands.
    ``aimed_name`` and ``aimed_altitude_deg`` are those of the present target, if it can be centred.
    """

    compass_for_true_north_deg: float | None = None
    declination_sigma_deg: float = 0.0
    shadow_azimuth_deg: float | None = None
    polaris_azimuth_deg: float | None = None
    polaris_altitude_deg: float | None = None
    star_name: str = ""
    star_azimuth_deg: float | None = None
    star_altitude_deg: float | None = None
    aimed_name: str = ""
    aimed_altitude_deg: float | None = None


def set_up_steps(mount: Mount, look: NorthLook) -> tuple[SetUpStep, ...]:
    """Give the steps that are open now, in order: level first, then the ways to north.

    The ways to north stand from the most exact to the least; one of them is enough. The play of
    the dials comes last, once something is aimed at: two minutes that make all numbers surer.
    """
    ways: tuple[Callable[[Mount, NorthLook], SetUpStep | None], ...] = (
        _level,
        _altitude,
        _polaris,
        _star,
        _shadow,
        _compass,
        _azimuth_play,
        _altitude_play,
    )
    return tuple(step for way in ways if (step := way(mount, look)) is not None)


def levelled_sighting(utc: datetime) -> Sighting:
    """Give the record that the base was levelled with care: it narrows how far it may lean.

    It is kept like a sighting, so that it can be taken back and set aside, and ends with the
    night: the next time the legs stand elsewhere.
    """
    return Sighting(utc, "base levelled", LEVELLED, 0.0, 0.0, None, None, weak=True)


def compass_sigma_deg(declination_sigma_deg: float) -> float:
    """Give the error of a tube turned by a corrected compass: its reading's and the model's.

    The two have nothing to do with each other: their squares add up.
    """
    return math.hypot(READING_SIGMA_DEG, declination_sigma_deg)


def compass_sighting(
    utc: datetime, azimuth_reading_deg: float, sigma_deg: float = READING_SIGMA_DEG
) -> Sighting:
    """Give the weak sighting of a tube turned to true north by a corrected compass.

    Parameters
    ----------
    utc : datetime
        When it was done.
    azimuth_reading_deg : float
        What the azimuth dial showed then.
    sigma_deg : float
        Of the compass as read and of its declination together.
    """
    return _weak(utc, "compass", 0.0, azimuth_reading_deg, sigma_deg)


def shadow_sighting(
    utc: datetime,
    shadow_azimuth_deg: float,
    azimuth_reading_deg: float,
    sigma_deg: float = SHADOW_SIGMA_DEG,
) -> Sighting:
    """Give the weak sighting of a tube turned along the Sun's shadow, away from the Sun."""
    return _weak(utc, "Sun's shadow", shadow_azimuth_deg, azimuth_reading_deg, sigma_deg)


def level_sighting(
    utc: datetime, altitude_reading_deg: float, sigma_deg: float = LEVEL_SIGMA_DEG
) -> Sighting:
    """Give the weak sighting of a tube laid level by a spirit level."""
    return replace(
        _weak(utc, "level", 0.0, 0.0, sigma_deg),
        azimuth_reading_deg=None,
        altitude_reading_deg=altitude_reading_deg,
    )


def _weak(
    utc: datetime, name: str, azimuth_deg: float, reading_deg: float, sigma_deg: float
) -> Sighting:
    return Sighting(
        utc=utc,
        name=name,
        target_key="",
        azimuth_deg=azimuth_deg % 360.0,
        altitude_deg=0.0,
        azimuth_reading_deg=reading_deg,
        altitude_reading_deg=None,
        sigma_deg=sigma_deg,
        weak=True,
    )


def _level(mount: Mount, look: NorthLook) -> SetUpStep:  # noqa: ARG001 - all steps are made alike
    return SetUpStep(
        SetUpKind.LEVEL,
        "Level the base",
        "Lay a spirit level on the base, along and across. Turn the tube half round: the bubble "
        "must stay. Shorten a leg rather than raise one.",
        "Enter",
        DARK_CAUTION,
        "The base leans by less than about a degree. It holds for tonight.",
    )


def _altitude(mount: Mount, look: NorthLook) -> SetUpStep:  # noqa: ARG001 - all steps are made alike
    level = shown(mount.altitude, reading_of(mount.altitude, 0.0)).text
    return SetUpStep(
        SetUpKind.ALTITUDE,
        "Bring the tube level",
        f"Lay the spirit level along the tube, bring the tube level and type what the altitude "
        f"dial shows. It should be near {level}.",
        "Enter",
        "",
        "The altitude dial's zero to about 0.5°.",
    )


def _polaris(mount: Mount, look: NorthLook) -> SetUpStep | None:
    if look.polaris_azimuth_deg is None or look.polaris_altitude_deg is None:
        return None
    reading = shown(mount.azimuth, _plain_reading(mount, look.polaris_azimuth_deg)).text
    return SetUpStep(
        SetUpKind.POLARIS,
        "North by Polaris",
        f"Centre Polaris, {look.polaris_altitude_deg:.0f}° high in the north. Turn the azimuth "
        f"dial until it shows {reading}, or type what it shows.",
        "Enter",
        DARK_CAUTION,
        "A full sighting: better north than any compass gives.",
    )


def _star(mount: Mount, look: NorthLook) -> SetUpStep | None:
    if look.star_azimuth_deg is None or look.star_altitude_deg is None:
        return None
    reading = shown(mount.azimuth, _plain_reading(mount, look.star_azimuth_deg)).text
    return SetUpStep(
        SetUpKind.STAR,
        f"North by {look.star_name}",
        f"Centre {look.star_name}, {look.star_altitude_deg:.0f}° high. Turn the azimuth dial until "
        f"it shows {reading}, or type what both dials show.",
        "Enter",
        DARK_CAUTION,
        "A full sighting.",
    )


def _shadow(mount: Mount, look: NorthLook) -> SetUpStep | None:
    if look.shadow_azimuth_deg is None:
        return None
    reading = shown(mount.azimuth, _plain_reading(mount, look.shadow_azimuth_deg)).text
    return SetUpStep(
        SetUpKind.SHADOW,
        "North by the Sun's shadow",
        "Hang a plumb line beside the mount. Turn the tube along its shadow, away from the Sun. "
        f"Turn the azimuth dial until it shows {reading}, or type what it shows.",
        "Enter",
        SUN_CAUTION,
        "The azimuth dial's zero to about 0.5°.",
    )


def _compass(mount: Mount, look: NorthLook) -> SetUpStep | None:
    if look.compass_for_true_north_deg is None:
        return None
    bearing = look.compass_for_true_north_deg % 360.0
    reading = shown(mount.azimuth, _plain_reading(mount, 0.0)).text
    sigma = compass_sigma_deg(look.declination_sigma_deg)
    return SetUpStep(
        SetUpKind.COMPASS,
        "North by compass",
        f"Stand two steps from the mount, away from cars and iron. True north is where the "
        f"compass shows {bearing:.0f}°. Turn the tube there and the azimuth dial to {reading}, or "
        "type what it shows.",
        "Enter",
        DARK_CAUTION,
        f"The azimuth dial's zero to about {sigma:.0f}°, until the first star.",
    )


def _azimuth_play(mount: Mount, look: NorthLook) -> SetUpStep | None:  # noqa: ARG001 - all steps are made alike
    altitude_deg = look.aimed_altitude_deg
    if altitude_deg is None or not LOW_DEG < altitude_deg < HIGHEST_DEG:
        return None
    return SetUpStep(
        SetUpKind.AZIMUTH_PLAY,
        f"Both sides: the azimuth dial on {look.aimed_name}",
        f"Turn the tube past {look.aimed_name} to its left, then come back slowly until it is in "
        "the centre, and stop there. Type what the azimuth dial shows.",
        "Enter",
        DARK_CAUTION,
        _PLAY_YIELDS,
        "Now turn past it to its right, and come back from there until it is in the centre. Type "
        "what the azimuth dial shows now. What the sky turned meanwhile is allowed for.",
    )


def _altitude_play(mount: Mount, look: NorthLook) -> SetUpStep | None:  # noqa: ARG001 - as above
    altitude_deg = look.aimed_altitude_deg
    if altitude_deg is None or altitude_deg < LOW_DEG:
        return None
    return SetUpStep(
        SetUpKind.ALTITUDE_PLAY,
        f"Both sides: the altitude dial on {look.aimed_name}",
        f"Raise the tube above {look.aimed_name}, then come down slowly until it is in the centre, "
        "and stop there. Type what the altitude dial shows.",
        "Enter",
        DARK_CAUTION,
        _PLAY_YIELDS,
        "Now lower the tube below it, and come up from there until it is in the centre. Type what "
        "the altitude dial shows now. What the sky turned meanwhile is allowed for.",
    )


def _plain_reading(mount: Mount, azimuth_deg: float) -> float:
    return reading_of(mount.azimuth, azimuth_deg)
