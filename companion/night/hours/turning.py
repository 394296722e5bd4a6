"""Where fixed directions stand through a night, all at once.

One exact position at the middle of the night is turned about the pole of date. Over half a day
that leaves out precession (0.07″) and the change of aberration (0.2″), far below what a plan
needs, and it costs a few multiplications an object and step.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from companion.sky import TURN_DEG_PER_S, refracted_deg

FloatArray = NDArray[np.float64]

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
        az, alt = np.radians(azimuth_deg), np.radians(altitude_deg)
        lat = np.radians(latitude_deg)
        north, east, up = np.cos(alt) * np.cos(az), np.cos(alt) * np.sin(az), np.sin(alt)
        meridian = -np.sin(lat) * north + np.cos(lat) * up
        pole = np.cos(lat) * north + np.sin(lat) * up
        back = np.radians(-TURN_DEG_PER_S * np.asarray(offset_s, dtype=np.float64))
        x, y = _turned(meridian, -east, back)
        return cls(latitude_deg, np.stack([x, y, pole], axis=-1))

    def sine_of_altitude(self, offsets_s: FloatArray) -> FloatArray:
        """Sine of the airless altitude, shape (times, n)."""
        lat = np.radians(self.latitude_deg)
        turn = np.radians(TURN_DEG_PER_S * offsets_s)
        # Only the component along the meridian and the pole reach upwards.
        weights = np.stack(
            [
                np.cos(lat) * np.cos(turn),
                -np.cos(lat) * np.sin(turn),
                np.full_like(turn, np.sin(lat)),
            ],
            axis=1,
        )
        return np.asarray(np.clip(weights @ self.vectors.T, -1.0, 1.0))

    def altitude_deg(self, offsets_s: FloatArray) -> FloatArray:
        """Altitude as seen, refracted by standard air; shape (times, n)."""
        return refracted(np.degrees(np.arcsin(self.sine_of_altitude(offsets_s))))

    def azimuth_deg(self, offsets_s: FloatArray) -> FloatArray:
        """Azimuth from north through east, 0 to 360; shape (times, n)."""
        lat = np.radians(self.latitude_deg)
        turn = np.radians(TURN_DEG_PER_S * offsets_s)[:, None]
        x, y = _turned(self.vectors[:, 0], self.vectors[:, 1], turn)
        north = np.cos(lat) * self.vectors[:, 2] - np.sin(lat) * x
        return np.asarray(np.degrees(np.arctan2(-y, north)) % 360.0)

    def distance_deg(self, vectors: FloatArray) -> FloatArray:
        """Angle from directions in the turning frame, (times, 3), to each; shape (times, n)."""
        return np.asarray(np.degrees(np.arccos(np.clip(vectors @ self.vectors.T, -1.0, 1.0))))

    def take(self, rows: NDArray[np.intp]) -> "Turning":
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
    lat = np.radians(latitude_deg)
    turn = np.radians(TURN_DEG_PER_S * offsets_s)
    x = vectors[:, 0] * np.cos(turn) - vectors[:, 1] * np.sin(turn)
    y = vectors[:, 0] * np.sin(turn) + vectors[:, 1] * np.cos(turn)
    north = np.cos(lat) * vectors[:, 2] - np.sin(lat) * x
    up = np.sin(lat) * vectors[:, 2] + np.cos(lat) * x
    return np.degrees(np.arctan2(-y, north)) % 360.0, np.degrees(np.arcsin(np.clip(up, -1, 1)))


def _turned(x: FloatArray, y: FloatArray, angle: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Turn (x, y) westward by an angle in radians."""
    return (
        np.asarray(x * np.cos(angle) - y * np.sin(angle)),
        np.asarray(x * np.sin(angle) + y * np.cos(angle)),
    )
