"""The Milky Way on a view by eye: a coarse picture of soft light."""

from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.charts.frame import SkyFrame
from companion.charts.view import ChartView, Lens
from companion.sky import milky_way

GLOW_CELL: Final = 24.0  # pixels of the view to one of the picture
# Limits of the eye between which it comes out: hardly at 5, whole at 6.3 (common practice).
_FIRST_LIMIT, _WHOLE_LIMIT = 5.0, 6.3


def glow_of(sky: SkyFrame, view: ChartView, lens: Lens) -> FloatArray | None:
    """Give how bright each cell of a view is (rows, columns), 0 to 1; None where nothing shows."""
    share = (sky.eye_limit - _FIRST_LIMIT) / (_WHOLE_LIMIT - _FIRST_LIMIT)
    if not lens.by_eye or share <= 0.0:
        return None
    columns, rows = int(view.width // GLOW_CELL) + 1, int(view.height // GLOW_CELL) + 1
    x, y = np.meshgrid((np.arange(columns) + 0.5) * GLOW_CELL, (np.arange(rows) + 0.5) * GLOW_CELL)
    seen = view.direction(np.stack([x.ravel(), y.ravel()], axis=1))
    bright = np.where(seen[:, 2] > 0.0, milky_way(np.nan_to_num(seen) @ sky.turn), 0.0)
    return np.asarray(min(share, 1.0) * bright.reshape(rows, columns))
