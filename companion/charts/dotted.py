"""Dots along lines, evenly from the first to the last: plain geometry, thousands at once."""

import numpy as np

from companion.arrays import FloatArray
from companion.charts.view import ChartView


def dots_along(
    view: ChartView, places: FloatArray, step: float, more: tuple[float, ...] = ()
) -> FloatArray:
    """Give dots along all that a view shows of some lines.

    Parameters
    ----------
    view : ChartView
        The view; lines that don't cross it get no dots.
    places : FloatArray
        Corners of the lines on it, (k, 2); rows of NaN part them.
    step : float
        Pixels from one dot to the next.
    more : tuple of float, optional
        How far behind each dot others follow it, so that it becomes a short dash.

    Returns
    -------
    FloatArray
        Places (m, 2).
    """
    start, way = places[:-1], np.diff(places, axis=0)
    length = np.where(view.crossed(start, places[1:]), np.hypot(way[:, 0], way[:, 1]), 0.0)
    run = np.concatenate([[0.0], np.cumsum(length)])
    along = np.add.outer(np.array([0.0, *more]), np.arange(0.0, run[-1], step)).ravel()
    along = along[along < run[-1]]
    at = np.searchsorted(run, along, side="right") - 1
    share = (along - run[at]) / length[at]
    return np.asarray(start[at] + share[:, None] * way[at])
