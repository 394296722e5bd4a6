"""Where many targets stand through the night, those that move by themselves included."""

from dataclasses import dataclass

import numpy as np

from companion.arrays import FloatArray, RowArray
from companion.night.hours.grid import NightGrid, Track, tracks_of
from companion.night.hours.sky_source import SkySource
from companion.night.hours.turning import Turning, refracted, turned_up
from companion.night.sight.judgement import Spots
from companion.night.sight.observer import Conditions
from companion.night.sight.skylight import Lights, sky_light
from companion.sky import SUN_UP_DEG, TURN_DEG_PER_S, Kind, Target, TargetTable

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
        tracks = tracks_of(sky, grid, [target for target in targets if target.body])
        bodies = tuple(
            (row, tracks[target.body]) for row, target in enumerate(targets) if target.body
        )
        for row, track in bodies:
            turning.vectors[row] = track.vectors[len(track.vectors) // 2]
        return cls(grid, turning, bodies)

    def __len__(self) -> int:
        return len(self.turning.vectors)

    def take(self, rows: RowArray) -> "Places":
        """Give some of the rows."""
        new_row = {int(old): new for new, old in enumerate(rows)}
        bodies = tuple((new_row[row], track) for row, track in self.bodies if row in new_row)
        return Places(self.grid, self.turning.take(rows), bodies)

    def sine_of_altitude(self, steps: RowArray) -> FloatArray:
        """Sine of the airless altitude at some steps of the grid, shape (steps, n)."""
        sine = self.turning.sine_of_altitude(self.grid.offsets_s[steps])
        for row, track in self.bodies:
            sine[:, row] = np.sin(np.radians(track.altitude_airless_deg[steps]))
        return sine

    def azimuth_deg(self, steps: RowArray) -> FloatArray:
        """Azimuth at some steps, shape (steps, n)."""
        azimuth = self.turning.azimuth_deg(self.grid.offsets_s[steps])
        for row, track in self.bodies:
            azimuth[:, row] = track.azimuth_deg[steps]
        return azimuth

    def cosine_from(self, other: Track, steps: RowArray) -> FloatArray:
        """Cosine of the angle from a body to each target at some steps, shape (steps, n)."""
        cosine = other.vectors[steps] @ self.turning.vectors.T
        for row, track in self.bodies:
            cosine[:, row] = np.sum(other.vectors[steps] * track.vectors[steps], axis=1)
        return np.asarray(np.clip(cosine, -1.0, 1.0))

    def transit_offset_s(self) -> FloatArray:
        """When each crosses the meridian, seconds from the middle of the night; shape (n,)."""
        offsets = self.turning.transit_offset_s()
        for row, track in self.bodies:
            offsets[row] = _transit_s(self.grid.offsets_s, track)
        return offsets


def _transit_s(offsets_s: FloatArray, track: Track) -> float:
    """Passage of a moving body over the upper meridian, the one nearest to the middle."""
    own = np.degrees(np.unwrap(np.arctan2(track.vectors[:, 1], track.vectors[:, 0])))
    hour_angle = own + TURN_DEG_PER_S * offsets_s  # only rises
    middle = float(np.interp(0.0, offsets_s, hour_angle))
    wanted = 360.0 * round(middle / 360.0)
    inside = float(np.interp(wanted, hour_angle, offsets_s))
    # The Moon comes back after 24h50: its passage may lie just outside the grid.
    rate = (hour_angle[-1] - hour_angle[0]) / (offsets_s[-1] - offsets_s[0])
    beyond = max(wanted - hour_angle[-1], 0.0) + min(wanted - hour_angle[0], 0.0)
    return inside + float(beyond / rate)


def spots_at(places: Places, steps: RowArray, conditions: Conditions) -> tuple[Spots, FloatArray]:
    """Take each object at its own step of the grid.

    Parameters
    ----------
    places : Places
        n objects.
    steps : ndarray
        A step for each, shape (n,).
    conditions : Conditions
        Darkness and air.

    Returns
    -------
    tuple
        The spots, and the azimuths in degrees, shape (n,).
    """
    grid = places.grid
    vectors = places.turning.vectors.copy()
    diameter = np.full(len(places), np.nan)
    for row, track in places.bodies:
        vectors[row] = track.vectors[steps[row]]
        diameter[row] = track.diameter_arcsec
    azimuth, airless = turned_up(grid.site.latitude_deg, vectors, grid.offsets_s[steps])
    altitude = refracted(airless)
    moon = _distance_deg(grid.moon.vectors[steps], vectors)
    sun = _distance_deg(grid.sun.vectors[steps], vectors)
    light = sky_light(
        Lights(
            grid.sun.altitude_deg[steps],
            grid.moon.altitude_deg[steps],
            grid.moon_phase_angle_deg[steps],
        ),
        zenith_mag=conditions.zenith_mag,
        extinction_mag=conditions.extinction_mag,
        altitude_deg=altitude,
        moon_distance_deg=moon,
        sun_distance_deg=sun,
    )
    risen = grid.sun.altitude_airless_deg[steps] > SUN_UP_DEG
    return Spots(altitude, light, moon, np.where(risen, sun, np.inf), diameter), azimuth


def _distance_deg(a: FloatArray, b: FloatArray) -> FloatArray:
    cosine = np.clip(np.sum(a * b, axis=1), -1.0, 1.0)
    return np.asarray(np.degrees(np.arccos(cosine)))
