"""A field of stars in the view: the target ringed in the middle, magnitudes beside some stars."""

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from companion.about.comparison import Comparison, look_deg
from companion.about.field import Field
from companion.about.picture import Dot, Label, Picture, Shape, Tone
from companion.about.record import AboutQuestion, FieldStar
from companion.about.seeing_power import Power, caption_of
from companion.about.view_turn import ViewTurn
from companion.finding import InstrumentKind
from companion.sky import angle_text

_RING = np.linspace(0.0, math.tau, 48, endpoint=False)
_MOST_DOTS: Final = 150
_FAINT_DOT, _BRIGHT_DOT, _MAG_DOT = 1.0, 6.0, 0.8  # pixels, and what a magnitude adds
_RING_PART, _RIM_PART = 0.035, 0.9  # of the picture's radius
_TARGET_DOT, _LABELLED_DOT = 3.0, 1.7
_MARGIN: Final = 1.12


def comparison_picture(
    beside: Comparison, turn: ViewTurn, question: AboutQuestion, power: Power
) -> Picture:
    """Draw a variable star among the stars to compare it with.

    Where several fit into one look, only that is drawn, and of the others the rim says where.
    """
    instrument, look = question.instrument, look_deg(question, power)
    apart = [one.separation_deg for one in beside.stars]
    inside = [away for away in apart if away <= look]
    reach_deg = max(inside if len(inside) > 1 else apart) * _MARGIN
    near = [one for one in beside.stars if one.separation_deg <= reach_deg]
    far = [one for one in beside.stars if one.separation_deg > reach_deg]
    one_look = reach_deg <= look * _MARGIN
    lowest = caption_of(instrument, power.views[0])
    through = lowest if one_look else f"turned as in {instrument.name}"
    across = f"{angle_text(2.0 * reach_deg)} across"
    return Picture(
        radius_arcsec=reach_deg * 3600.0,
        caption=f"{through}, {across}; the numbers are magnitudes of steady stars",
        shapes=(ring_around(turn, reach_deg),),
        dots=(
            *field_dots(beside.field, turn, reach_deg),
            *(Dot(label.x, label.y, _LABELLED_DOT) for label in star_labels(near, turn)),
            Dot(0.0, 0.0, _TARGET_DOT),
        ),
        labels=(*star_labels(near, turn), *_rim_labels(far, turn, reach_deg)),
        field_arcsec=None if instrument.kind is InstrumentKind.EYE else look * 1800.0,
        north_deg=turn.north_deg,
    )


def ring_around(turn: ViewTurn, reach_deg: float) -> Shape:
    """Give the ring that marks the target."""
    radius = reach_deg * 3600.0 * _RING_PART
    return Shape(turn.points(radius * np.cos(_RING), radius * np.sin(_RING)), Tone.BRIGHT, False)


def field_dots(field: Field, turn: ViewTurn, reach_deg: float) -> tuple[Dot, ...]:
    """Give the brightest stars of a field, all but what stands in the very middle."""
    inner_deg = reach_deg * _RING_PART / 2.0
    around = (field.separation_deg <= reach_deg) & (field.separation_deg > inner_deg)
    rows = np.flatnonzero(around)[:_MOST_DOTS]
    if not len(rows):
        return ()
    faintest = float(field.magnitude[rows[-1]])
    sizes = np.clip(
        _FAINT_DOT + _MAG_DOT * (faintest - field.magnitude[rows]), _FAINT_DOT, _BRIGHT_DOT
    )
    places = [
        _place(turn, float(field.separation_deg[row]), float(field.position_angle_deg[row]))
        for row in rows
    ]
    return tuple(Dot(x, y, float(size)) for (x, y), size in zip(places, sizes, strict=True))


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
