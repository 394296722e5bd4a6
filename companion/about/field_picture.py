"""A field of stars in the view: the target named in the middle, magnitudes beside some stars."""

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from companion.about.comparison import Comparison, look_deg
from companion.about.field import Field
from companion.about.picture import Dot, Label, Picture
from companion.about.record import AboutQuestion, FieldStar, PlanetField
from companion.about.seeing_power import Power, caption_of
from companion.about.view_turn import ViewTurn
from companion.arrays import FloatArray
from companion.finding import InstrumentKind
from companion.sky import angle_text

_MOST_DOTS: Final = 150
_FAINT_DOT, _BRIGHT_DOT, _MAG_DOT = 1.0, 6.0, 0.8  # pixels, and what a magnitude adds
_MIDDLE_PART, _RIM_PART = 0.01, 0.9  # of the picture's radius
_TARGET_DOT, _LABELLED_DOT = 3.0, 1.7
_MARGIN, _PAST_RIM = 1.12, 1.05
_GAP: Final = 2.0  # times as far away as the one before
_MOST_MARKED: Final = 6
_CIRCLED_PART: Final = 0.25  # a smaller circle of the view would hide what is in the middle


def comparison_picture(
    beside: Comparison, turn: ViewTurn, question: AboutQuestion, power: Power
) -> Picture:
    """Draw a variable star among the stars to compare it with.

    What stands much farther out than the rest is left to the rim, which says where.
    """
    instrument, look = question.instrument, look_deg(question, power)
    reach_deg = _reach_deg(sorted(one.separation_deg for one in beside.stars)) * _MARGIN
    near = [one for one in beside.stars if one.separation_deg <= reach_deg]
    far = [one for one in beside.stars if one.separation_deg > reach_deg]
    one_look = reach_deg <= look * _MARGIN
    lowest = caption_of(instrument, power.views[0])
    through = lowest if one_look else f"turned as in {instrument.name}"
    circled = instrument.kind is not InstrumentKind.EYE and look > reach_deg * _CIRCLED_PART
    across = f"{angle_text(2.0 * reach_deg)} across"
    return Picture(
        radius_arcsec=reach_deg * 3600.0,
        caption=f"{through}, {across}; magnitudes of steady stars",
        dots=(
            *field_dots(beside.field, turn, reach_deg),
            *(Dot(label.x, label.y, _LABELLED_DOT) for label in star_labels(near, turn)),
            Dot(0.0, 0.0, _TARGET_DOT),
        ),
        labels=(
            Label(0.0, 0.0, question.target.name),
            *star_labels(near, turn),
            *_rim_labels(far, turn, reach_deg),
        ),
        field_arcsec=look * 1800.0 if circled else None,
        north_deg=turn.north_deg,
    )


def _reach_deg(apart: list[float]) -> float:
    """Give how far the nearer half reaches, and what follows without a gap."""
    row = max((len(apart) + 1) // 2, 2) - 1
    while row + 1 < len(apart) and apart[row + 1] <= _GAP * apart[row]:
        row += 1
    return apart[min(row, len(apart) - 1)]


def planet_field_picture(field: PlanetField, body: str, turn: ViewTurn, seen_in: str) -> Picture:
    """Draw a planet that looks like a star, named among the stars of one view."""
    reach_deg = field.field_deg / 2.0
    planet = FieldStar(body, field.magnitude, 0.0, 0.0)
    return Picture(
        radius_arcsec=reach_deg * 3600.0 * _PAST_RIM,
        caption=f"{seen_in}; stars with magnitudes",
        dots=star_dots((planet, *field.stars), turn),
        labels=(Label(0.0, 0.0, body), *star_labels(field.stars[:_MOST_MARKED], turn)),
        field_arcsec=reach_deg * 3600.0,
        north_deg=turn.north_deg,
    )


def field_dots(field: Field, turn: ViewTurn, reach_deg: float) -> tuple[Dot, ...]:
    """Give the brightest stars of a field, all but what stands in the very middle."""
    inner_deg = reach_deg * _MIDDLE_PART
    around = (field.separation_deg <= reach_deg) & (field.separation_deg > inner_deg)
    near = field.taken(np.flatnonzero(around)[:_MOST_DOTS])
    return _dots(near.magnitude, near.separation_deg, near.position_angle_deg, turn)


def star_dots(stars: Sequence[FieldStar], turn: ViewTurn) -> tuple[Dot, ...]:
    """Give the brightest of some stars."""
    columns = np.array(
        [(one.magnitude, one.separation_deg, one.position_angle_deg) for one in stars[:_MOST_DOTS]],
        dtype=float,
    ).reshape(-1, 3)
    return _dots(columns[:, 0], columns[:, 1], columns[:, 2], turn)


def _dots(
    magnitude: FloatArray, separation_deg: FloatArray, angle_deg: FloatArray, turn: ViewTurn
) -> tuple[Dot, ...]:
    """Give points of light, the faintest of them just to be seen."""
    if not len(magnitude):
        return ()
    grown = _FAINT_DOT + _MAG_DOT * (float(magnitude.max()) - magnitude)
    sizes = np.clip(grown, _FAINT_DOT, _BRIGHT_DOT)
    rows = zip(separation_deg.tolist(), angle_deg.tolist(), sizes.tolist(), strict=True)
    return tuple(Dot(*_place(turn, apart, angle), size) for apart, angle, size in rows)


def star_labels(stars: Sequence[FieldStar], turn: ViewTurn) -> tuple[Label, ...]:
    """Give the magnitudes that stand beside stars."""
    return tuple(
        Label(*_place(turn, one.separation_deg, one.position_angle_deg), f"{one.magnitude:.1f}")
        for one in stars
    )


def _rim_labels(stars: Sequence[FieldStar], turn: ViewTurn, reach_deg: float) -> tuple[Label, ...]:
    """Say at the rim what stands farther out in that direction."""
    return tuple(
        Label(
            *_place(turn, reach_deg * _RIM_PART, one.position_angle_deg),
            f"{one.magnitude:.1f}, {angle_text(one.separation_deg)} out",
        )
        for one in stars
    )


def _place(turn: ViewTurn, separation_deg: float, position_angle_deg: float) -> tuple[float, float]:
    """Give a place of the view, arcseconds; equal steps outwards are equally long."""
    angle, apart = math.radians(position_angle_deg), separation_deg * 3600.0
    return turn.point(apart * math.sin(angle), apart * math.cos(angle))
