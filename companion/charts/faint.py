"""The faint stars as charts need them: only those about the middle of a view are ever turned."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from companion.arrays import FloatArray, IntArray
from companion.charts.air import lifted
from companion.sky import FaintStars, Moment, Site, julian_year, load_faint_stars

_WEST = np.array([[1.0], [-1.0], [1.0]])
_NEW_EPOCH_YEARS = 0.1  # the fastest of them moves 0.5″ meanwhile


@dataclass(frozen=True, slots=True, eq=False)
class FaintSky:
    """All faint stars at one instant, turned into the frame when they are asked for.

    ``vectors`` (n, 3) are astrometric, on ICRS axes, of this year; ``turn`` (3, 3) leads to the
    frame, ``beta`` (3,) is the observer's speed over that of light: aberration to 0.001″.
    """

    stars: FaintStars
    vectors: NDArray[np.float32]
    turn: FloatArray
    beta: FloatArray
    site: Site

    def near(
        self, centre: FloatArray, reach_deg: float, limit: float
    ) -> tuple[IntArray, FloatArray]:
        """Give rows (k,) and seen directions (k, 3) of the stars of all cells that are near.

        Parameters
        ----------
        centre : ndarray
            The middle of the view, (3,), in the frame.
        reach_deg : float
            How far its corners are away.
        limit : float
            The faintest magnitude.
        """
        toward = centre @ self.turn  # the middle on ICRS axes
        rows = self.stars.near(toward, reach_deg + 1.0, limit)  # a degree of refraction
        return rows, self._seen(rows)

    def _seen(self, rows: IntArray) -> FloatArray:
        moving = self.vectors[rows].astype(float) + self.beta
        moving /= np.linalg.norm(moving, axis=1)[:, None]
        return lifted(moving @ self.turn.T, self.site)


class FaintKeeper:
    """Belongs to the chart's thread; moves the stars to the date once an evening."""

    def __init__(self) -> None:
        self._vectors: NDArray[np.float32] | None = None
        self._year = 0.0

    def sky(self, moment: Moment) -> FaintSky:
        """Give the faint stars of a moment."""
        stars, year = load_faint_stars(), julian_year(moment.utc)
        if self._vectors is None or abs(year - self._year) > _NEW_EPOCH_YEARS:
            self._vectors, self._year = stars.vectors(year), year
        turn = moment.axes * _WEST  # y counts westward in the frame
        return FaintSky(stars, self._vectors, turn, moment.beta, moment.site)
