"""Uranus and Neptune among the stars: which of the points in the field is the planet."""

from datetime import timedelta
from typing import Final

import numpy as np

from companion.about.field import field_around, polar_of
from companion.about.orientation import elongation_deg
from companion.about.record import AboutQuestion, FieldStar, PlanetField
from companion.about.seeing_power import Power
from companion.about.words import signed
from companion.advice import AdviceError
from companion.finding import InstrumentKind
from companion.sky import (
    ALL_STARS_COMPLETE_TO_MAG,
    SUN_DANGER_DEG,
    Ephemeris,
    angle_text,
    compass_point,
    julian_year,
)

FIELD_PLANETS: Final = ("uranus", "neptune")
_EYE_FIELD_DEG: Final = 10.0  # around the place where the eye looks
# Differences that the eye sees surely, and that a star's colour makes between G and V at most.
_ALIKE_MAG: Final = 0.3
_MOST_TOLD: Final = 2
_DAY: Final = timedelta(days=1)


def planet_field(
    ephemeris: Ephemeris, question: AboutQuestion, magnitude: float, power: Power
) -> PlanetField | None:
    """Give the stars of the lowest view around a planet, and how it moves among them in a day.

    None where the instrument doesn't show the planet, the Sun is too near to look, or the
    ephemeris ends.
    """
    body, site, utc = question.target.body, question.site, question.utc
    now = ephemeris.aspect(body, utc, site)
    if magnitude > power.limit_magnitude or elongation_deg(now) < 2.0 * SUN_DANGER_DEG:
        return None
    try:
        then = ephemeris.aspect(body, utc + _DAY, site)
    except AdviceError:
        return None
    eye = question.instrument.kind is InstrumentKind.EYE
    field_deg = _EYE_FIELD_DEG if eye else power.views[0].field_deg
    limit = min(power.limit_magnitude, ALL_STARS_COMPLETE_TO_MAG)
    field = field_around(now.to_body_km, julian_year(utc), field_deg / 2.0, limit)
    tomorrow = then.to_body_km / np.linalg.norm(then.to_body_km)
    moves, which_way = polar_of(now.to_body_km, tomorrow[None, :])
    return PlanetField(
        magnitude=magnitude,
        field_deg=field_deg,
        limit_magnitude=limit,
        stars=tuple(field.star(row) for row in range(len(field.hip))),
        moves_deg=float(moves[0]),
        moves_position_angle_deg=float(which_way[0]),
    )


def field_words(field: PlanetField | None) -> tuple[str, ...]:
    """Say how the planet is told from the stars around it."""
    if field is None:
        return ()
    to = f"to magnitude {signed(field.limit_magnitude)}"
    across = angle_text(field.field_deg)
    moves = (
        f"By this time tomorrow it moves {angle_text(field.moves_deg)} towards the "
        f"{compass_point(field.moves_position_angle_deg, 8)}; the stars stay."
    )
    if not field.stars:
        return (f"It stands alone: a field of {across} has no other star {to}.", moves)
    count = len(field.stars)
    stars = "one star stands" if count == 1 else f"{count} stars stand"
    told = _told_by(field.stars, field.magnitude)
    return (f"In a field of {across}, {stars} with it {to}.", *told, moves)


def _told_by(stars: tuple[FieldStar, ...], magnitude: float) -> list[str]:
    """Say which are brighter or as bright, and where it stands from the nearest."""
    brighter = [one for one in stars if one.magnitude < magnitude - _ALIKE_MAG]
    alike = [one for one in stars if abs(one.magnitude - magnitude) <= _ALIKE_MAG]
    said = []
    if not brighter and not alike:
        said.append("It is the brightest of them all.")
    elif brighter:
        said.append(f"{_so_many(brighter)} brighter than it: {_where(brighter)}.")
    else:
        said.append("None of them is brighter than it.")
    if alike:
        said.append(f"{_so_many(alike)} about as bright: {_where(alike)}.")
    nearest = min(stars, key=lambda one: one.separation_deg)
    way = compass_point(nearest.position_angle_deg + 180.0, 8)
    said.append(
        f"It stands {angle_text(nearest.separation_deg)} {way} of the nearest of them, "
        f"{_named(nearest)}, which is {_against(nearest, magnitude)}."
    )
    return said


def _so_many(stars: list[FieldStar]) -> str:
    return "One of them is" if len(stars) == 1 else f"{len(stars)} of them are"


def _where(stars: list[FieldStar]) -> str:
    """Say where the nearest of some stars stand from the planet."""
    few = len(stars) <= _MOST_TOLD
    near = sorted(stars, key=lambda one: one.separation_deg)[: _MOST_TOLD if few else 1]
    places = tuple(
        f"{_named(one)}, {angle_text(one.separation_deg)} to its "
        f"{compass_point(one.position_angle_deg, 8)}"
        for one in near
    )
    return ("" if few else "the nearest ") + ", and ".join(places)


def _named(star: FieldStar) -> str:
    """Name a star: "ω Tau of magnitude 4.9", "one of magnitude 9.1"."""
    return f"{star.name or 'one'} of magnitude {signed(star.magnitude)}"


def _against(star: FieldStar, magnitude: float) -> str:
    less = star.magnitude - magnitude
    if abs(less) <= _ALIKE_MAG:
        return "about as bright as it"
    return f"{abs(less):.1f} magnitudes {'fainter' if less > 0.0 else 'brighter'}"
