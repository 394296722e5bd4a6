"""From directions in the sky to places in a view, as the instrument shows it, and back.

Vectors are unit vectors (..., 3) of one right-handed frame: ``seen_vectors`` with the zenith up,
or ICRS with the pole up. Places are (..., 2): x to the right, y up, in degrees at the middle.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from companion.arrays import FloatArray
from companion.finding.instrument import Viewing
from companion.finding.optics import view_matrix

_DEGREE = 180.0 / np.pi


@dataclass(frozen=True, eq=False)
class ViewFrame:
    """Where a view looks, which way is up in it, and how the instrument turns it.

    The stereographic projection (Snyder 1987, USGS Professional Paper 1395, p. 154) on a sphere of
    radius 180/π: shapes stay true, circles stay circles.

    Parameters
    ----------
    centre : FloatArray
        Unit vector (3,) of the middle.
    up : FloatArray
        Unit vector (3,) of what is above the middle in the upright view: zenith or pole. Where
        the middle is that point itself, as for one who looks up there from the frame's x axis.
    viewing : Viewing
        Upright, turned or mirrored.
    turn_deg : float
        How far an upright view is turned clockwise besides, as by a tilted eyepiece.
    """

    centre: FloatArray
    up: FloatArray
    viewing: Viewing = Viewing.UPRIGHT
    turn_deg: float = 0.0

    @cached_property
    def _axes(self) -> FloatArray:
        """Rows x, y of the shown view and z towards its middle, shape (3, 3)."""
        right = np.cross(self.centre, self.up)
        if np.linalg.norm(right) < 1e-9:
            ahead = (1.0, 0.0, 0.0) if abs(self.up[0]) < 0.9 else (0.0, 1.0, 0.0)
            right = np.cross(ahead, self.up)
        right = right / np.linalg.norm(right)
        above = np.cross(right, self.centre)
        turn = np.radians(self.turn_deg)
        turned = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
        return np.vstack([view_matrix(self.viewing) @ turned @ [right, above], self.centre])

    def project(self, vectors: FloatArray) -> FloatArray:
        """Give the places of directions; NaN for the point opposite to the middle."""
        x, y, z = np.moveaxis(vectors @ self._axes.T, -1, 0)
        flat = np.stack([x, y], axis=-1)
        with np.errstate(divide="ignore", invalid="ignore"):
            scale = np.where(z > -1.0 + 1e-12, 2.0 / (1.0 + z), np.nan)
        return np.asarray(flat * (scale * _DEGREE)[..., None])

    def unproject(self, places: FloatArray) -> FloatArray:
        """Give the directions of places: the inverse of ``project``."""
        flat = np.asarray(places, float) / _DEGREE
        reach = np.hypot(flat[..., 0], flat[..., 1])
        angle = 2.0 * np.arctan(reach / 2.0)
        with np.errstate(divide="ignore", invalid="ignore"):
            shrink = np.where(reach > 1e-15, np.sin(angle) / reach, 1.0)
        local = np.concatenate([flat * shrink[..., None], np.cos(angle)[..., None]], axis=-1)
        return np.asarray(local @ self._axes)

    def radius(self, angle_deg: float) -> float:
        """Give how far from the middle a direction lies that is ``angle_deg`` away from it."""
        return float(2.0 * np.tan(np.radians(angle_deg) / 2.0) * _DEGREE)

    def angle_towards(self, vector: FloatArray) -> float:
        """Give the direction in the view from the middle to a point, clockwise from up, degrees."""
        x, y, _z = self._axes @ vector
        return float(np.degrees(np.arctan2(x, y)) % 360.0)

    def angle_of(self, position_angle_deg: float, pole: FloatArray) -> float:
        """Give the direction in the view, clockwise from up, of a position angle at the middle.

        ``pole`` is the celestial north pole in this frame; position angles run from it through
        east.
        """
        north, east = sky_axes(self.centre, pole)
        angle = np.radians(position_angle_deg)
        return self.angle_towards(np.cos(angle) * north + np.sin(angle) * east)

    def drift_angle(self, pole: FloatArray) -> float:
        """Give where the turning sky carries the middle, clockwise from up, degrees."""
        return self.angle_of(270.0, pole)


def sky_axes(at: FloatArray, pole: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Give unit vectors towards north and east at a direction; at the pole itself, any two."""
    east = np.cross(pole, at)
    if np.linalg.norm(east) < 1e-9:
        east = np.cross(pole, (1.0, 0.0, 0.0) if abs(pole[0]) < 0.9 else (0.0, 1.0, 0.0))
    east = east / np.linalg.norm(east)
    return np.cross(at, east), east


def position_angle_deg(origin: FloatArray, towards: FloatArray, pole: FloatArray) -> FloatArray:
    """Give position angles (...) from one direction (3,) to others (..., 3), north through east."""
    north, east = sky_axes(origin, pole)
    return np.asarray(np.degrees(np.arctan2(towards @ east, towards @ north)) % 360.0)


def circle_around(middle: FloatArray, radius_deg: float, points: int = 120) -> FloatArray:
    """Give ``points`` unit vectors around a direction, the first repeated at the end."""
    north, east = sky_axes(middle, np.array([0.0, 0.0, 1.0]))
    angle = np.linspace(0.0, 2.0 * np.pi, points + 1)[:, None]
    radius = np.radians(radius_deg)
    rim = np.cos(angle) * north + np.sin(angle) * east
    return np.asarray(np.cos(radius) * middle + np.sin(radius) * rim)


def arc_between(start: FloatArray, end: FloatArray, step_deg: float = 2.0) -> FloatArray:
    """Give unit vectors along the great circle from one direction to another, both included."""
    angle = float(np.arctan2(np.linalg.norm(np.cross(start, end)), start @ end))
    count = max(2, int(np.ceil(np.degrees(angle) / step_deg)) + 1)
    part = np.linspace(0.0, 1.0, count)[:, None]
    if angle < 1e-9:
        return np.repeat(start[None, :], count, axis=0)
    along = np.sin((1.0 - part) * angle) * start + np.sin(part * angle) * end
    return np.asarray(along / np.sin(angle))
