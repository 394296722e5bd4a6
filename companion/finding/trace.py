"""The path of a way as the eye follows it, for drawing."""

import numpy as np

from companion.arrays import FloatArray
from companion.finding.guide import GuideStars
from companion.finding.projection import arc_between
from companion.finding.single_ways import Place
from companion.finding.ways import Way, WayKind


def trace(stars: GuideStars, way: Way, place: Place, step_deg: float = 2.0) -> FloatArray:
    """Give unit vectors (k, 3) from a way's first star past its last one to where it leads.

    A line ends beside its target if it misses, so that the drawing shows the miss; a curve ends
    at its target. The first step of a chain has a trace of its own.
    """
    points = [stars.vectors[stars.rows[hip]] for hip in way.stars]
    if way.kind is WayKind.MEMBER:
        return place.vector[None, :]
    if way.kind is WayKind.CURVE:
        return _along_circle(points[0], points[-1], place.vector, step_deg)
    if way.kind is WayKind.BETWEEN or len(points) == 1:
        return arc_between(points[0], points[1] if len(points) > 1 else place.vector, step_deg)
    normal = np.cross(points[0], points[1])
    normal /= np.linalg.norm(normal)
    foot = place.vector - (place.vector @ normal) * normal
    foot /= np.linalg.norm(foot)
    return np.vstack(
        [arc_between(points[0], points[1], step_deg), arc_between(points[1], foot, step_deg)[1:]]
    )


def _along_circle(
    start: FloatArray, through: FloatArray, end: FloatArray, step_deg: float
) -> FloatArray:
    """Give points of the small circle through three directions, from the first to the last."""
    axis = np.cross(through - start, end - start)
    axis /= np.linalg.norm(axis)
    middle = (start @ axis) * axis
    x = start - middle
    y = np.cross(axis, x)
    turn = float(np.arctan2((end - middle) @ y, (end - middle) @ x) % (2.0 * np.pi))
    count = max(2, int(np.degrees(turn) * np.linalg.norm(x) / step_deg) + 2)
    angle = np.linspace(0.0, turn, count)[:, None]
    return np.asarray(middle + np.cos(angle) * x + np.sin(angle) * y)
