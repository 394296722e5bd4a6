"""Stars to compare a variable star with: steady ones near it, brighter and fainter than it gets.

Steady is what has no variable star's name and whose measurements by Hipparcos, from 1989 to 1993,
scatter no more than those of its equals. Their magnitudes are V. Colours, distances and gaps are
weighed as observers do (common practice, no source).
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from companion.about.field import Field, field_around
from companion.about.record import AboutQuestion, FieldStar
from companion.about.seeing_power import Power
from companion.about.words import counted, signed
from companion.arrays import BoolArray, FloatArray
from companion.finding import InstrumentKind
from companion.sky import TargetTable, VariableStar, julian_year, load_catalogue

_EYE_LOOK_DEG, _EYE_REACH_DEG = 12.0, 40.0  # what the eye takes in at one look, and with two
_REACH_DEG: Final = 10.0  # how far a telescope is swung from star to star
_BY_EYE_MAG: Final = 4.0  # of what gets brighter, some stars are found by eye, wherever they are
# Scatter of steady stars, mag, up to a magnitude: nine tenths of Hipparcos' stars stay below.
_STEADY: Final = ((8.0, 0.03), (10.0, 0.05), (11.0, 0.07), (99.0, 0.09))
_SATURATED: Final = 0.05  # of the brightest, whose light was too much for the instrument
_COUNTS: Final = ((0.8, 3), (1.4, 4), (2.2, 5), (99.0, 6))  # by the range, mag
_MARGIN_MAG: Final = 0.3  # above the faintest that shows: what is just seen can't be compared
_RED, _TOO_RED = 1.2, 1.75  # B - V: the redder, the more eyes differ; past the latter most vary
_COST_MAG, _COST_RED, _COST_SWING = 2.0, 2.0, 0.8
_BLEND_MAG: Final = 2.5  # a neighbour fainter by so much adds a tenth of a magnitude
_BLEND_DEG, _BLEND_EYE_DEG = 1.0 / 60.0, 5.0 / 60.0
_FAINTEST_USED: Final = 11.0  # beyond, the catalogue has a few chosen stars only


@dataclass(frozen=True, slots=True)
class _Wish:
    """A magnitude that is wanted; ``side`` -1 takes nothing fainter, +1 nothing brighter."""

    magnitude: float
    side: int = 0


@dataclass(frozen=True, slots=True, eq=False)
class Comparison:
    """The steady stars, the brightest first, and all that stand around the variable one."""

    stars: tuple[FieldStar, ...]
    field: Field


def look_deg(question: AboutQuestion, power: Power) -> float:
    """Give how far apart two stars may stand to be seen at one look."""
    eye = question.instrument.kind is InstrumentKind.EYE
    return _EYE_LOOK_DEG if eye else power.views[0].field_deg


def comparison(star: VariableStar, question: AboutQuestion, power: Power) -> Comparison:
    """Give three to six steady stars near a variable one.

    They bracket its range, as far as the instrument shows it; fewer where the sky has no more.
    """
    eye = question.instrument.kind is InstrumentKind.EYE
    wide = eye or star.brightest < _BY_EYE_MAG
    look = look_deg(question, power)
    reach = _EYE_REACH_DEG if wide else max(_REACH_DEG, look)
    wishes = _wishes(star, power.limit_magnitude - _MARGIN_MAG)
    limit = _limit(star, power)
    towards = TargetTable.of([question.target], question.utc).vectors[0]
    field = field_around(towards, julian_year(question.utc), reach, limit + _BLEND_MAG)
    usable, colour = _usable(field, star.hip, limit)
    blend = _BLEND_EYE_DEG if eye else _BLEND_DEG
    price = _price(field, colour, look)
    chosen: list[int] = []
    for wish in wishes:
        found = _best(field, usable, price, wish, blend)
        if found is not None:
            chosen.append(found)
            usable[found] = False
    chosen.sort()  # the field begins with the brightest
    return Comparison(tuple(field.star(row) for row in chosen), field)


def _limit(star: VariableStar, power: Power) -> float:
    """Give how faint a star may be: what shows, or more where the variable itself never shows."""
    shown = power.limit_magnitude - _MARGIN_MAG
    least = star.faintest + 1.0 if shown < star.brightest else min(shown, star.faintest + 1.0)
    return min(least, _FAINTEST_USED)


def _wishes(star: VariableStar, shown: float) -> list[_Wish]:
    """Give the wanted magnitudes: both ends first, then evenly between them."""
    faintest = star.faintest if shown < star.brightest else min(star.faintest, shown)
    faintest = min(faintest, _FAINTEST_USED)
    whole = faintest - star.brightest
    count = next(count for most, count in _COUNTS if whole <= most)
    inner = np.linspace(star.brightest, faintest, count)[1:-1]
    ends = [_Wish(star.brightest, -1), _Wish(faintest, 1)]
    return ends + [_Wish(float(magnitude)) for magnitude in inner]


def _usable(field: Field, hip: int, limit: float) -> tuple[BoolArray, FloatArray]:
    """Tell which stars are steady, single and bright enough; and give B - V of them."""
    catalogue = load_catalogue()
    stars, names = catalogue.stars, catalogue.names
    rows = np.searchsorted(stars.hip, np.maximum(field.hip, 1))
    scatter, colour = stars.scatter_mag[rows], stars.colour_index[rows]
    most = np.select([field.magnitude <= upto for upto, _ in _STEADY], [mag for _, mag in _STEADY])
    most = np.where(field.magnitude < 0.0, _SATURATED, most)
    good = (field.hip > 0) & (field.magnitude <= limit) & (scatter <= most) & (colour < _TOO_RED)
    pairs = {
        pair.hip
        for pair in names.doubles.values()
        if pair.companion_magnitude - pair.primary_magnitude < _BLEND_MAG
    }
    named = {number for number, one in names.stars.items() if one.variable}
    unfit = named | pairs | set(names.variables) | {hip}
    return good & ~np.isin(field.hip, list(unfit)), colour


def _price(field: Field, colour: FloatArray, look_deg: float) -> FloatArray:
    """Give what distance and colour cost, (n,), in half magnitudes off the wish."""
    swings = np.maximum(field.separation_deg, 1e-3) / look_deg
    far = np.where(swings <= 1.0, 0.6 * swings, 0.6 + _COST_SWING * np.log2(swings))
    return np.asarray(far + _COST_RED * np.clip(colour - _RED, 0.0, None))


def _best(
    field: Field, usable: BoolArray, price: FloatArray, wish: _Wish, blend_deg: float
) -> int | None:
    """Give the cheapest star for a wish; one end of the range must be outside of it if it can."""
    off = field.magnitude - wish.magnitude
    within = usable & (off * wish.side >= 0.0)
    rows = np.flatnonzero(within if within.any() else usable)
    cost = _COST_MAG * np.abs(off[rows]) + price[rows]
    for row in rows[np.argsort(cost, kind="stable")].tolist():
        if not _blended(field, row, blend_deg):
            return int(row)
    return None


def _blended(field: Field, row: int, blend_deg: float) -> bool:
    """Tell whether a neighbour's light is taken for the star's own."""
    angle = np.radians(field.position_angle_deg)
    x, y = field.separation_deg * np.sin(angle), field.separation_deg * np.cos(angle)
    apart = np.hypot(x - x[row], y - y[row])
    near = (apart < blend_deg) & (field.magnitude < field.magnitude[row] + _BLEND_MAG)
    return int(np.count_nonzero(near)) > 1


def comparison_words(star: VariableStar, stars: tuple[FieldStar, ...], power: Power) -> list[str]:
    """Say what it can be compared with, and where the range has no star beside it."""
    if not stars:
        return ["No steady star near it is known to compare it with."]
    farthest = max(one.separation_deg for one in stars)
    said = [
        (
            f"To compare it with: {len(stars)} steady stars of magnitude "
            f"{signed(stars[0].magnitude)} to {signed(stars[-1].magnitude)}, none farther away "
            f"than {counted(str(math.ceil(farthest)), 'degree')}."
        )
    ]
    return said + _lacks(star, stars, power.limit_magnitude - _MARGIN_MAG)


def _lacks(star: VariableStar, stars: tuple[FieldStar, ...], shown: float) -> list[str]:
    """Say at which end of the range there is nothing to compare with, and why."""
    said = []
    if shown < star.brightest:
        said.append("They and it take a larger instrument or a darker sky.")
    elif shown < star.faintest:
        said.append("At its faintest it takes a larger instrument or a darker sky.")
    elif stars[-1].magnitude < star.faintest:
        said.append("The catalogue has no steady star here that is as faint as it gets.")
    if stars[0].magnitude > star.brightest:
        said.append("No steady star here is as bright as it gets.")
    return said
