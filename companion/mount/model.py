"""From a direction in the sky to the two dials of a mount, and back.

Directions are unit vectors (north, east, up); azimuth runs from north through east, altitude is
the refracted one, as the eye sees it. The seven parameters, in this order, in radians:

azimuth_zero, altitude_zero
    The direction, as the base has it, in which each dial stands at its zero.
tilt_north, tilt_east
    How far the vertical axis leans towards north and towards east. The base is turned the
    shortest way from upright, so that a tilt by itself turns no azimuth at its own horizon.
cone
    How far the tube points to the right (to greater azimuths) of square to the altitude axis.
skew
    How much higher the right end of the altitude axis is than square to the vertical axis.
sag
    How far the tube, when level, points below what the altitude axis was turned to; it goes
    with the cosine of the altitude.

The tube's direction in the base, turned by the angles a and e about the two axes, is exactly
(forward, right, up) = (cos c cos e, sin c cos k - cos c sin e sin k, sin c sin k + cos c sin e
cos k), turned about the vertical by a. To first order these are the errors of a
theodolite's line of sight and trunnion axis (Deumlich, *Surveying Instruments*, 1982, from
memory): cone divided by cos e, skew times tan e; the sag goes with cos e.

A level on the tube measures against gravity: its angle is the altitude in the sky, not that in
the base, with its own zero and the same sag.
"""

from typing import Final

import numpy as np

from companion.arrays import FloatArray

PARAMETERS: Final = (
    "azimuth_zero",
    "altitude_zero",
    "tilt_north",
    "tilt_east",
    "cone",
    "skew",
    "sag",
)
_SAG_ROUNDS = 6  # Newton; quadratic, so that a sag of ten degrees still comes out exact


def vectors_of(azimuth: FloatArray, altitude: FloatArray) -> FloatArray:
    """Give unit vectors (..., 3) of azimuths and altitudes in radians."""
    flat = np.cos(altitude)
    return np.stack([flat * np.cos(azimuth), flat * np.sin(azimuth), np.sin(altitude)], axis=-1)


def directions_of(vectors: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Give azimuth (-π to π) and altitude in radians of vectors (..., 3)."""
    north, east, up = vectors[..., 0], vectors[..., 1], vectors[..., 2]
    return np.arctan2(east, north), np.arctan2(up, np.hypot(north, east))


def lean(tilt_north: FloatArray, tilt_east: FloatArray) -> FloatArray:
    """Give the rotations (..., 3, 3) that take vectors of the base into those of the sky."""
    size = np.hypot(tilt_north, tilt_east)
    by_size = np.sinc(size / np.pi)  # sin(size) / size, one at nothing
    half = np.sinc(size / (2.0 * np.pi))
    by_square = 0.5 * half * half  # (1 - cos(size)) / size²
    mixed = -by_square * tilt_north * tilt_east
    north, east = by_size * tilt_north, by_size * tilt_east
    rows = [
        [1.0 - by_square * tilt_north**2, mixed, north],
        [mixed, 1.0 - by_square * tilt_east**2, east],
        [-north, -east, np.cos(size)],
    ]
    return np.stack([np.stack(row, axis=-1) for row in rows], axis=-2)


def to_dials(
    parameters: FloatArray, vectors: FloatArray, *, level: bool
) -> tuple[FloatArray, FloatArray]:
    """Give the angles that both dials stand at when the tube points to directions in the sky.

    Parameters
    ----------
    parameters : (..., 7) array
        In radians, in the order of ``PARAMETERS``.
    vectors : (n, 3) array
        Directions in the sky (north, east, up).
    level : bool
        Whether the altitude is read from a level on the tube.

    Returns
    -------
    azimuth, altitude : (..., n) arrays
        In radians; azimuths are not wrapped. Where cone and skew keep the tube from a direction
        near the top of the base, the nearest that it can reach.
    """
    each = np.moveaxis(parameters, -1, 0)[..., None]
    azimuth_zero, altitude_zero, tilt_north, tilt_east, cone, skew, sag = each
    rotation = lean(tilt_north[..., 0], tilt_east[..., 0])
    azimuth_base, altitude_base = directions_of(vectors @ rotation)
    sine = (np.sin(altitude_base) - np.sin(cone) * np.sin(skew)) / (np.cos(cone) * np.cos(skew))
    sine = np.clip(sine, -1.0, 1.0)
    turned = np.arcsin(sine)
    right = np.sin(cone) * np.cos(skew) - np.cos(cone) * sine * np.sin(skew)
    azimuth = azimuth_base - np.arctan2(right, np.cos(cone) * np.cos(turned)) - azimuth_zero
    height = np.arcsin(np.clip(vectors[:, 2], -1.0, 1.0)) if level else turned
    altitude = height + sag * np.cos(height) - altitude_zero
    return azimuth, altitude


def to_sky(
    parameters: FloatArray, azimuth: FloatArray, altitude: FloatArray, *, level: bool
) -> FloatArray:
    """Give the directions (..., n, 3) that the tube points to when the dials stand at angles.

    The inverse of ``to_dials``, of the same shapes; ``azimuth`` and ``altitude`` are (n,) or
    (..., n) arrays in radians.
    """
    each = np.moveaxis(parameters, -1, 0)[..., None]
    azimuth_zero, altitude_zero, tilt_north, tilt_east, cone, skew, sag = each
    rotation = lean(tilt_north[..., 0], tilt_east[..., 0])
    turn = azimuth + azimuth_zero
    height = _without_sag(altitude + altitude_zero, sag)
    # The tube is level·cos e + upright·sin e + side, each a vector of the base.
    level_part = _turned(turn, np.cos(cone), 0.0 * cone, 0.0 * cone)
    upright = _turned(turn, 0.0 * cone, -np.cos(cone) * np.sin(skew), np.cos(cone) * np.cos(skew))
    side = _turned(turn, 0.0 * cone, np.sin(cone) * np.cos(skew), np.sin(cone) * np.sin(skew))
    if level:
        up = rotation[..., 2, :]
        height = _height_of_level(
            _along(level_part, up), _along(upright, up), _along(side, up), height
        )
    base = np.cos(height)[..., None] * level_part + np.sin(height)[..., None] * upright + side
    return np.asarray(base @ np.swapaxes(rotation, -1, -2))


def _turned(turn: FloatArray, forward: FloatArray, right: FloatArray, up: FloatArray) -> FloatArray:
    """Turn (forward, right, up) about the vertical, as a vector (..., n, 3) of the base."""
    north = forward * np.cos(turn) - right * np.sin(turn)
    east = forward * np.sin(turn) + right * np.cos(turn)
    return np.stack([north, east, np.broadcast_to(up, north.shape)], axis=-1)


def _along(part: FloatArray, up: FloatArray) -> FloatArray:
    """Give the share of vectors (..., n, 3) along the sky's vertical (..., 3) in the base."""
    return np.asarray((part @ up[..., None])[..., 0])


def _height_of_level(
    level_up: FloatArray, upright_up: FloatArray, side_up: FloatArray, height: FloatArray
) -> FloatArray:
    """Solve level_up·cos e + upright_up·sin e + side_up = sin(height) for the axis angle e."""
    size = np.hypot(level_up, upright_up)
    cosine = np.clip((np.sin(height) - side_up) / size, -1.0, 1.0)
    past = np.where(np.cos(height) < 0.0, -1.0, 1.0)  # a tube thrown over the top
    return np.asarray(np.arctan2(upright_up, level_up) - past * np.arccos(cosine))


def _without_sag(turned: FloatArray, sag: FloatArray) -> FloatArray:
    """Solve height + sag·cos(height) = turned."""
    height = np.asarray(turned - sag * np.cos(turned))
    for _ in range(_SAG_ROUNDS):
        wrong = height + sag * np.cos(height) - turned
        height = height - wrong / (1.0 - sag * np.sin(height))
    return height
