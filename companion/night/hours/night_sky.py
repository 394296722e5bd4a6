"""Brightness of the sky in many directions through a night, by tables.

Every law of ``skylight`` is a product of one factor for the moment, one for the altitude and one
for the distance from Moon or Sun; each factor is tabulated once a night, which makes millions of
values a matter of look-ups.
"""

from dataclasses import dataclass

import numpy as np

from companion.arrays import FloatArray, RowArray
from companion.night.hours.grid import NightGrid
from companion.night.hours.places import Places
from companion.night.hours.turning import refracted
from companion.night.sight.air import airmass
from companion.night.sight.observer import Conditions
from companion.night.sight.skylight import (
    Lights,
    daylight_nl,
    glow_nl,
    moon_nl,
    scattering,
    twilight_nl,
)

_CELLS = 8192
_NO_TWILIGHT_DEG = -22.0  # the Sun lower than this adds less than a thousandth
_REFERENCE = Lights(-6.0, 45.0, 0.0)  # any lights: only ratios of altitudes are taken
_SUN_NEAREST_DEG = 5.0  # as ``skylight`` has it


@dataclass(frozen=True, slots=True, eq=False)
class NightSky:
    """The night's sky at t steps; tables over the sine of the altitude and half the distance."""

    grid: NightGrid
    steps: RowArray  # (t,) of the grid
    altitude_deg: FloatArray  # refracted; tables have shape (cells,)
    airmass: FloatArray
    _glow: FloatArray
    _scatter_altitude: FloatArray
    _twilight_altitude: FloatArray
    _scatter_distance: FloatArray
    _twilight_distance: FloatArray
    _moon_strength: FloatArray  # (t,)
    _twilight_strength: FloatArray
    _day_strength: FloatArray

    @classmethod
    def of(cls, grid: NightGrid, steps: RowArray, conditions: Conditions) -> "NightSky":
        """Make the tables for some steps of a night."""
        k = conditions.extinction_mag
        sine = (np.arange(_CELLS) + 0.5) / _CELLS
        altitude = refracted(np.degrees(np.arcsin(sine)))
        distance = 2.0 * np.degrees(np.arcsin(sine))
        lights = Lights(
            grid.sun.altitude_deg[steps],
            grid.moon.altitude_deg[steps],
            grid.moon_phase_angle_deg[steps],
        )
        return cls(
            grid=grid,
            steps=steps,
            altitude_deg=altitude,
            airmass=airmass(altitude),
            _glow=glow_nl(conditions.zenith_mag, altitude, k),
            _scatter_altitude=moon_nl(_REFERENCE, 90.0, altitude, k)
            / moon_nl(_REFERENCE, 90.0, 90.0, k),
            _twilight_altitude=twilight_nl(_REFERENCE, 90.0, altitude, k)
            / twilight_nl(_REFERENCE, 90.0, 90.0, k),
            _scatter_distance=scattering(distance) / scattering(90.0),
            _twilight_distance=90.0 / np.maximum(distance, _SUN_NEAREST_DEG),
            _moon_strength=moon_nl(lights, 90.0, 90.0, k),
            _twilight_strength=twilight_nl(lights, 90.0, 90.0, k),
            _day_strength=daylight_nl(lights, 90.0, 90.0, k),
        )

    def cells_of(self, sine: FloatArray) -> RowArray:
        """Cells of the tables for values from 0 to 1; what is below falls into the first."""
        cells = (sine * _CELLS).astype(np.intp)
        return np.clip(cells, 0, _CELLS - 1, out=cells)

    def glow(self, altitude_cells: RowArray) -> FloatArray:
        """Sky without Moon and Sun, nL; shape of the cells."""
        return np.asarray(self._glow[altitude_cells])

    def moonlight(self, places: Places, altitude_cells: RowArray) -> FloatArray:
        """Moonlight, nL; shape (t, n)."""
        light = np.zeros(altitude_cells.shape)
        up = np.flatnonzero(self._moon_strength > 0.0)
        if up.size:
            cosine = places.cosine_from(self.grid.moon, self.steps[up])
            far = self.cells_of(np.sqrt(0.5 - 0.5 * cosine))
            light[up] = self._scatter_distance[far] * self._scatter_altitude[altitude_cells[up]]
            light[up] *= self._moon_strength[up, None]
        return light

    def sunlight(self, places: Places, altitude_cells: RowArray) -> FloatArray:
        """Twilight and daylight, nL; shape (t, n)."""
        light = np.zeros(altitude_cells.shape)
        altitude_deg = self.grid.sun.altitude_deg[self.steps]
        lit = np.flatnonzero(altitude_deg > _NO_TWILIGHT_DEG)
        if lit.size:
            cells = altitude_cells[lit]
            cosine = places.cosine_from(self.grid.sun, self.steps[lit])
            far = self.cells_of(np.sqrt(0.5 - 0.5 * cosine))
            day = self._scatter_distance[far] * self._scatter_altitude[cells]
            day *= self._day_strength[lit, None]
            twilight = self._twilight_distance[far] * self._twilight_altitude[cells]
            twilight *= self._twilight_strength[lit, None]
            # The fainter of both holds while the Sun is down, as in ``skylight.sun_nl``.
            down = (altitude_deg[lit] < 0.0)[:, None]
            light[lit] = np.where(down, np.minimum(twilight, day), day)
        return light
