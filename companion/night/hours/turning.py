"""Where fixed directions stand through a night, all at once.

One exact position at the middle of the night is turned about the pole of date. Over half a day
that leaves out precession (0.07″) and the change of aberration (0.2″), far below what a plan
needs, and it costs a few multiplications an object and step.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from companion.arrays import FloatArray, RowArray
from companion.sky import (
    TURN_DEG_PER_S,
    equator_axes,
    refracted_deg,
    turned_west,
    unit_vectors,
)

STANDARD_AIR = (1010.0, 10.0)  # hPa and °C, in which the formula of refraction is given


@dataclass(frozen=True, slots=True, eq=False)
class Turning:
    """n directions in a frame that turns with the sky, seen from one latitude.

    ``vectors`` has shape (n, 3): x lies on the upper equator in the meridian at the moment that
    offsets are counted from, y is 6 hours west of it, z is the celestial pole.
    """

    latitude_deg: float
    vectors: FloatArray

    @classmethod
    def of(
        cls,
        latitude_deg: float,
        azimuth_deg: ArrayLike,
        altitude_deg: ArrayLike,
        offset_s: ArrayLike = 0.0,
    ) -> "Turning":
        """Take directions by where they stood, without refraction.

        Parameters
        ----------
        latitude_deg : float
            Of the site.
        azimuth_deg, altitude_deg : array_like
            Airless position, shape (n,).
        offset_s : array_like
            When each stood there, seconds from the moment that offsets are counted from.
        """
        seen = unit_vectors(azimuth_deg, altitude_deg) @ equator_axes(latitude_deg)
        return cls(latitude_deg, turned_west(seen, -np.asarray(offset_s, dtype=np.float64)))

    def sine_of_altitude(self, offsets_s: FloatArray) -> FloatArray:
        """Sine of the airless altitude, shape (times, n)."""
        _north, _east, up = self._horizon_axes(offsets_s)
        return np.asarray(np.clip(up @ self.vectors.T, -1.0, 1.0))

    def altitude_deg(self, offsets_s: FloatArray) -> FloatArray:
        """Altitude as seen, refracted by standard air; shape (times, n)."""
        return refracted(np.degrees(np.arcsin(self.sine_of_altitude(offsets_s))))

    def azimuth_deg(self, offsets_s: FloatArray) -> FloatArray:
        """Azimuth from north through east, 0 to 360; shape (times, n)."""
        north, east, _up = self._horizon_axes(offsets_s)
        return np.asarray(
            np.degrees(np.arctan2(east @ self.vectors.T, north @ self.vectors.T)) % 360.0
        )

    def _horizon_axes(self, offsets_s: FloatArray) -> FloatArray:
        """Turn the horizon back instead of every target: its axes, shape (3, times, 3)."""
        return turned_west(equator_axes(self.latitude_deg).T[:, None], -offsets_s)

    def distance_deg(self, vectors: FloatArray) -> FloatArray:
        """Angle from directions in the turning frame, (times, 3), to each; shape (times, n)."""
        return np.asarray(np.degrees(np.arccos(np.clip(vectors @ self.vectors.T, -1.0, 1.0))))

    def take(self, rows: RowArray) -> "Turning":
        """Give some of the directions."""
        return Turning(self.latitude_deg, self.vectors[rows])

    def transit_offset_s(self) -> FloatArray:
        """When each stands highest, seconds, within half a turn of the middle; shape (n,)."""
        hour_angle = np.degrees(np.arctan2(self.vectors[:, 1], self.vectors[:, 0]))
        return np.asarray(-hour_angle / TURN_DEG_PER_S)


def refracted(altitude_deg: FloatArray) -> FloatArray:
    """Lift airless altitudes by standard air: a plan needs no better."""
    return refracted_deg(altitude_deg, *STANDARD_AIR)


def turned_up(
    latitude_deg: float, vectors: FloatArray, offsets_s: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Give azimuth and airless altitude of one direction a time, (n, 3) in the turning frame."""
    north, east, up = (turned_west(vectors, offsets_s) @ equator_axes(latitude_deg)).T
    return np.degrees(np.arctan2(east, north)) % 360.0, np.degrees(np.arcsin(np.clip(up, -1, 1)))
