"""A star or an object in the view: a pair to scale, the outline of something with a size."""

import math

import numpy as np

from companion.about.picture import Dot, Picture, Shape, Tone
from companion.about.record import DoublePage
from companion.about.seeing_power import Power
from companion.about.view_turn import ViewTurn
from companion.sky import Target

_RING = np.linspace(0.0, math.tau, 64, endpoint=False)
_MARGIN = 1.6
_BRIGHTEST, _MAG_STEP = 9.0, 1.1  # pixels of the brighter star, and what a magnitude takes off


def pair_picture(page: DoublePage, turn: ViewTurn, caption: str) -> Picture:
    """Draw the two stars; the brighter one in the middle."""
    angle, apart = math.radians(page.position_angle_deg), page.separation_arcsec
    x, y = turn.point(apart * math.sin(angle), apart * math.cos(angle))
    bright, faint = min(page.magnitudes), max(page.magnitudes)
    smaller = max(_BRIGHTEST - _MAG_STEP * (faint - bright), 2.0)
    return Picture(
        radius_arcsec=apart * _MARGIN,
        caption=caption,
        dots=(Dot(0.0, 0.0, _BRIGHTEST, f"{bright:.1f}"), Dot(x, y, smaller, f"{faint:.1f}")),
        north_deg=turn.north_deg,
    )


def outline_picture(target: Target, turn: ViewTurn, power: Power, caption: str) -> Picture:
    """Draw the catalogued outline, and the bright part that is seen of it, in the field."""
    lowest = power.views[0]
    field = lowest.field_deg * 1800.0
    major = (target.major_arcmin or 0.0) * 60.0
    minor = (target.minor_arcmin or target.major_arcmin or 0.0) * 60.0
    shapes = []
    if major:
        shapes.append(Shape(_ellipse(target, turn, major, minor), Tone.QUIET, False))
        if target.part_arcmin is not None:
            part = target.part_arcmin * 60.0
            shapes.append(Shape(_ellipse(target, turn, part, part * minor / major), Tone.QUIET))
    dots = () if major else (Dot(0.0, 0.0, 4.0),)
    return Picture(
        radius_arcsec=max(field, major / 2.0) * 1.05,
        caption=caption,
        shapes=tuple(shapes),
        dots=dots,
        field_arcsec=field,
        north_deg=turn.north_deg,
    )


def _ellipse(
    target: Target, turn: ViewTurn, major: float, minor: float
) -> tuple[tuple[float, float], ...]:
    angle = math.radians(target.position_angle_deg or 0.0)
    along, across = major / 2.0 * np.cos(_RING), minor / 2.0 * np.sin(_RING)
    east = along * math.sin(angle) + across * math.cos(angle)
    north = along * math.cos(angle) - across * math.sin(angle)
    return turn.points(east, north)
