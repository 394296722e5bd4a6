"""What a mount adds to the charts: its own grid, its error circle, and readings on the way."""

from collections.abc import Callable
from functools import partial
from typing import Final

import numpy as np

from companion.charts.frame import DialTexts, GridLine, no_readings
from companion.finding import seen_vectors
from companion.instant import Choices, TrustedFit
from companion.mount import Alignment, reading_of, shown

_ALTITUDES: Final = (0, 10, 20, 30, 40, 50, 60, 70, 80)
_AZIMUTHS: Final = tuple(range(0, 360, 15))
_STEP_DEG: Final = 5.0


class MountChart:
    """Belongs to the chart's thread; fits as the numbers do, from the same sightings."""

    def __init__(self) -> None:
        self._fit = TrustedFit()
        self._grid: tuple[GridLine, ...] = ()

    def update(self, choices: Choices) -> None:
        """Take the mount, its sightings and what was found of them."""
        if self._fit.update(choices):
            self._grid = () if self._fit.alignment is None else _grid(self._fit.alignment)

    @property
    def fitted(self) -> object:
        """What tells the present fit from another one."""
        return self._fit.alignment

    @property
    def grid(self) -> tuple[GridLine, ...]:
        """The lines of the dials' own readings; they stand still over the ground."""
        aligned = self._fit.alignment is not None and bool(self._fit.alignment.used)
        return self._grid if aligned else ()

    def radius95_deg(self, azimuth_deg: float, altitude_deg: float) -> float | None:
        """Give how far the tube may be off when the dials are set for a direction."""
        if self._fit.alignment is None or not self._fit.alignment.used:
            return None
        return float(self._fit.alignment.aim(azimuth_deg, altitude_deg).radius95_deg)

    def readings(self, azimuth_deg: float, altitude_deg: float) -> str:
        """Give what the dials show for a direction; empty without a mount."""
        alignment = self._fit.alignment
        return "" if alignment is None else _readings(alignment, azimuth_deg, altitude_deg).said

    def aligned_readings(self) -> Callable[[float, float], DialTexts | None]:
        """Give what tells the dials' readings for directions, from the fit as it is now."""
        alignment = self._fit.alignment
        if alignment is None or not alignment.used:
            return no_readings
        return partial(_readings, alignment)

    def sky_of(self, readings_deg: tuple[float, float]) -> tuple[float, float]:
        """Give azimuth and altitude that readings point to; without a mount they are true."""
        if self._fit.alignment is None:
            return readings_deg
        return self._fit.alignment.sky_of(*readings_deg)


def _readings(alignment: Alignment, azimuth_deg: float, altitude_deg: float) -> DialTexts:
    aim = alignment.aim(azimuth_deg, altitude_deg)
    azimuth = shown(alignment.mount.azimuth, aim.azimuth_reading_deg)
    altitude = shown(alignment.mount.altitude, aim.altitude_reading_deg)
    return DialTexts(f"{altitude.text}°", f"{azimuth.text}°")


def _grid(alignment: Alignment) -> tuple[GridLine, ...]:
    """Trace round readings of both dials through the sky."""
    dial = alignment.mount.altitude
    heights = [reading_of(dial, angle) for angle in np.arange(0.0, 86.0, _STEP_DEG).tolist()]
    lines = []
    for angle in _ALTITUDES:
        reading = round(reading_of(dial, angle) / 10.0) * 10.0
        lines.append(_line(alignment, reading, [(at, reading) for at in range(0, 361, 5)]))
    lines += [_line(alignment, side, [(side, height) for height in heights]) for side in _AZIMUTHS]
    return tuple(lines)


def _line(alignment: Alignment, named: float, readings: list[tuple[float, float]]) -> GridLine:
    where = np.array([alignment.sky_of(*reading) for reading in readings])
    return GridLine(f"{named:g}°".replace("-", "−"), seen_vectors(where[:, 0], where[:, 1]))
