"""Where many targets stand through the night, those that move by themselves included."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from companion.night.grid import NightGrid, Track
from companion.night.sky_source import SkySource
from companion.night.turning import Turning
from companion.sky import Kind, Target, TargetTable

FloatArray = NDArray[np.float64]

# Stands in for what moves until its own place is filled in.
_FIXED = Target("", "", Kind.PLACE, 0.0, 0.0)


@dataclass(frozen=True, slots=True, eq=False)
class Places:
    """n targets over the steps of a grid; ``bodies`` gives the tracks of rows that move."""

    grid: NightGrid
    turning: Turning
    bodies: tuple[tuple[int, Track], ...]

    @classmethod
    def of(cls, sky: SkySource, grid: NightGrid, targets: tuple[Target, ...]) -> "Places":
        """Place targets once, exactly, in the middle of the night."""
        fixed = tuple(_FIXED if target.body else target for target in targets)
        table = TargetTable.of(fixed, grid.middle_utc)
        middle = sky.moment(grid.site, grid.middle_utc).horizontal(table)
        turning = Turning.of(
            grid.site.latitude_deg, middle.azimuth_deg, middle.altitude_airless_deg
        )
        bodies = tuple(
            (row, grid.tracks[target.body]) for row, target in enumerate(targets) if target.body
        )
        for row, track in bodies:
            turning.vectors[row] = track.vectors[len(track.vectors) // 2]
        return cls(grid, turning, bodies)

    def __len__(self) -> int:
        return len(self.turning.vectors)

    def take(self, rows: NDArray[np.intp]) -> "Places":
        """Give some of the rows."""
        new_row = {int(old): new for new, old in enumerate(rows)}
        bodies = tuple((new_row[row], track) for row, track in self.bodies if row in new_row)
        return Places(self.grid, self.turning.take(rows), bodies)

    def sine_of_altitude(self, steps: NDArray[np.intp]) -> FloatArray:
        """Sine of the airless altitude at some steps of the grid, shape (steps, n)."""
        sine = self.turning.sine_of_altitude(self.grid.offsets_s[steps])
        for row, track in self.bodies:
            sine[:, row] = np.sin(np.radians(track.altitude_airless_deg[steps]))
        return sine

    def azimuth_deg(self, steps: NDArray[np.intp]) -> FloatArray:
        """Azimuth at some steps, shape (steps, n)."""
        azimuth = self.turning.azimuth_deg(self.grid.offsets_s[steps])
        for row, track in self.bodies:
            azimuth[:, row] = track.azimuth_deg[steps]
        return azimuth

    def cosine_from(self, other: Track, steps: NDArray[np.intp]) -> FloatArray:
        """Cosine of the angle from a body to each target at some steps, shape (steps, n)."""
        cosine = other.vectors[steps] @ self.turning.vectors.T
        for row, track in self.bodies:
            cosine[:, row] = np.sum(other.vectors[steps] * track.vectors[steps], axis=1)
        return np.asarray(np.clip(cosine, -1.0, 1.0))

    def transit_offset_s(self) -> FloatArray:
        """When each stands highest, seconds from the middle of the night; shape (n,)."""
        offsets = self.turning.transit_offset_s()
        for row, track in self.bodies:
            offsets[row] = _highest_s(self.grid.offsets_s, track.altitude_airless_deg)
        return offsets


def _highest_s(offsets_s: FloatArray, altitude_deg: FloatArray) -> float:
    """Top of a curve by a parabola through its highest step and the two beside it."""
    top = int(np.clip(np.argmax(altitude_deg), 1, len(altitude_deg) - 2))
    before, at, after = altitude_deg[top - 1 : top + 2]
    bend = before - 2.0 * at + after
    shift = 0.0 if bend == 0.0 else 0.5 * (before - after) / bend
    return float(offsets_s[top] + np.clip(shift, -1.0, 1.0) * (offsets_s[1] - offsets_s[0]))
