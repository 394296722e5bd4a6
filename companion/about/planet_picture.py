"""A planet in the view: its disk with phase, ring and bands, its moons as points."""

import math
from typing import Final

import numpy as np

from companion.about.moon_reach import within_reach
from companion.about.picture import Dot, Picture, Shape, Tone
from companion.about.record import PlanetPage
from companion.about.rings import RingLook
from companion.about.seeing_power import Power
from companion.about.view_turn import ViewTurn
from companion.arrays import FloatArray

_STEPS = 64
_INNER_EDGE, _GAP = 0.6650, (0.8599, 0.8801)  # of the ring's outer edge (Meeus, ch. 45)
_BANDS: Final = (14.0, -14.0)  # planetographic middle of Jupiter's two dark bands (textbook)
_MARGIN = 1.25
# How far a moon may stand away, in breadths of the planet with its ring.
_WIDEST = {"saturn": 2.2, "jupiter": 14.0}


def planet_picture(page: PlanetPage, turn: ViewTurn, power: Power, caption: str) -> Picture:
    """Draw the planet with what the instrument reaches of its moons."""
    look = page.look
    dots = tuple(
        Dot(*turn.point(moon.east_arcsec, moon.north_arcsec), 2.0, moon.name)
        for moon in page.moons
        if within_reach(moon, look, power)
    )
    ring = () if page.ring is None else _ring(page.ring, turn)
    widest = look.diameter_arcsec if page.ring is None else page.ring.major_arcsec
    field = power.view.field_deg * 1800.0
    reach = [math.hypot(dot.x, dot.y) for dot in dots]
    # The farthest moons are left outside where the planet would shrink to a point.
    near = [away for away in reach if away <= _WIDEST[look.body] * widest]
    radius = min(max([*near, widest * 0.75]) * _MARGIN, field)
    dots = tuple(dot for dot, away in zip(dots, reach, strict=True) if away < radius)
    shapes = [*ring[: len(ring) // 2], *_disk(page, turn), *ring[len(ring) // 2 :]]
    return Picture(
        radius_arcsec=radius,
        caption=caption,
        shapes=tuple(shapes),
        dots=dots,
        field_arcsec=field if field <= radius * 1.3 else None,
        north_deg=turn.north_deg,
    )


def _disk(page: PlanetPage, turn: ViewTurn) -> list[Shape]:
    """Give the lit part of the flattened disk, and Jupiter's bands."""
    look = page.look
    radius = look.diameter_arcsec / 2.0
    angle = math.radians(look.bright_limb_angle_deg)
    across = np.linspace(-math.pi / 2.0, math.pi / 2.0, _STEPS)
    towards = np.concatenate([np.cos(across), (1.0 - 2.0 * look.lit) * np.cos(across[::-1])])
    beside = np.concatenate([np.sin(across), np.sin(across[::-1])])
    east = radius * (towards * math.sin(angle) + beside * math.cos(angle))
    north = radius * (towards * math.cos(angle) - beside * math.sin(angle))
    shapes = [Shape(turn.points(*_flattened(page, east, north)), Tone.LIGHT)]
    if look.body == "jupiter" and look.turn is not None:
        for latitude in _BANDS:
            up = radius * math.sin(math.radians(latitude - look.turn.facing_latitude_deg))
            half = math.sqrt(max(radius**2 - up**2, 0.0)) * 0.96
            low, high = up - radius * 0.05, up + radius * 0.05
            corners = np.array([(-half, low), (half, low), (half, high), (-half, high)])
            shapes.append(
                Shape(turn.points(*_aligned(page, corners[:, 0], corners[:, 1])), Tone.QUIET)
            )
    return shapes


def _flattened(
    page: PlanetPage, east: FloatArray, north: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Press the disk together along the planet's axis."""
    look = page.look
    if look.turn is None:
        return east, north
    angle = math.radians(look.turn.axis_position_angle_deg)
    up = east * math.sin(angle) + north * math.cos(angle)
    less = up * (1.0 - look.polar_diameter_arcsec / look.diameter_arcsec)
    return east - less * math.sin(angle), north - less * math.cos(angle)


def _aligned(page: PlanetPage, along: FloatArray, up: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Turn from the planet's own equator and axis to east and north."""
    angle = 0.0 if page.look.turn is None else page.look.turn.axis_position_angle_deg
    a = math.radians(angle)
    return along * math.cos(a) + up * math.sin(a), up * math.cos(a) - along * math.sin(a)


def _ring(ring: RingLook, turn: ViewTurn) -> list[Shape]:
    """Give the far half of the ring and its gap, then the near half, which lies over the globe."""
    a = math.radians(ring.angle_deg)
    near_is_south = ring.opening_deg > 0.0
    shapes = []
    for near in (False, True):
        side = -1.0 if near == near_is_south else 1.0
        for inner, outer, tone in (
            (_INNER_EDGE, _GAP[0], Tone.BRIGHT),
            (_GAP[0], _GAP[1], Tone.DARK),
            (_GAP[1], 1.0, Tone.LIGHT),
        ):
            t = np.linspace(0.0, math.pi, _STEPS)
            along = np.concatenate([outer * np.cos(t), inner * np.cos(t[::-1])])
            up = np.concatenate([outer * np.sin(t), inner * np.sin(t[::-1])]) * side
            along, up = along * ring.major_arcsec / 2.0, up * ring.minor_arcsec / 2.0
            east = along * math.cos(a) + up * math.sin(a)
            north = up * math.cos(a) - along * math.sin(a)
            shapes.append(Shape(turn.points(east, north), tone))
    return shapes
