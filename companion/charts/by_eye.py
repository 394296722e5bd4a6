"""Which stars the bare eye finds under this sky; kept while the sky hardly turns."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

import numpy as np

from companion.arrays import BoolArray
from companion.charts.frame import Float32Array, SkyIndex
from companion.night import Conditions, EyeSky, eye_sky
from companion.sky import Moment, Site

_KEPT: Final = timedelta(seconds=20)  # the sky turns by 5 arcminutes meanwhile
_ANY_STAR: Final = 0.0  # while the eye finds none as faint, stars are drawn as in the dark


@dataclass(frozen=True, slots=True, eq=False)
class ByEye:
    """What the eye finds at one moment; made by ``EyeKeeper``."""

    limit: float  # the faintest star anywhere
    drawn_limit: float  # the same, or that of the dark while it is too bright for any star
    drawn: BoolArray  # (k,) of the brightest stars: those found where they stand
    sun_altitude_deg: float


class EyeKeeper:
    """Belongs to the chart's thread; thousands of stars are weighed anew only now and then."""

    def __init__(self) -> None:
        self._of: tuple[Site, datetime] | None = None
        self._made: ByEye | None = None

    def found(self, moment: Moment, index: SkyIndex, stars: Float32Array) -> ByEye:
        """Give what the eye finds among the stars (n, 3), which stand where they are seen now."""
        if self._made is None or not self._fits(moment):
            self._made = _by_eye(eye_sky(moment, Conditions.at(moment.site)), index, stars)
            self._of = moment.site, moment.utc
        return self._made

    def _fits(self, moment: Moment) -> bool:
        if self._of is None:
            return False
        site, utc = self._of
        return site == moment.site and abs(moment.utc - utc) < _KEPT


def _by_eye(sky: EyeSky, index: SkyIndex, stars: Float32Array) -> ByEye:
    limit = sky.faintest
    drawn = sky if limit >= _ANY_STAR else sky.without_sun
    drawn_limit = drawn.faintest
    count = int(np.searchsorted(index.star_magnitude, drawn_limit, side="right"))
    x, y, z = stars[:count].astype(float).T
    azimuth, altitude = np.arctan2(-y, x), np.arcsin(np.clip(z, -1.0, 1.0))
    faintest = drawn.limit(np.degrees(azimuth), np.degrees(altitude))
    found = (index.star_magnitude[:count] <= faintest) & (z > 0.0)
    return ByEye(limit, drawn_limit, np.asarray(found), sky.sun_altitude_deg)
