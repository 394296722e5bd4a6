"""One site at one instant: directions in the sky become altitude and azimuth."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

import numpy as np
from numpy.typing import ArrayLike

from companion.arrays import FloatArray
from companion.sky.apparent import (
    BLOCK,
    LIGHT_AU_PER_DAY,
    ObserverMotion,
    astrometric,
    proper_columns,
)
from companion.sky.diurnal import TURN_DEG_PER_S
from companion.sky.movers import Anchors, MoverFacts
from companion.sky.refraction import air_of, airless_deg, refracted_deg
from companion.sky.site import Site
from companion.sky.table import TargetTable
from companion.sky.vectors import ra_dec_of, unit_vectors

_RATE_STEP_S = 5.0


@dataclass(frozen=True, slots=True)
class Horizontal:
    """Apparent topocentric directions; arrays of one shape, degrees."""

    azimuth_deg: FloatArray  # from true north through east
    altitude_deg: FloatArray  # refracted
    altitude_airless_deg: FloatArray


@dataclass(frozen=True, slots=True)
class Rates:
    """How fast the coordinates change; the azimuth's own rate, not times cos(altitude)."""

    azimuth_arcsec_per_s: FloatArray
    altitude_arcsec_per_s: FloatArray


@dataclass(frozen=True, slots=True)
class SeenMover:
    """Something that moves, as seen from the site."""

    body: str
    azimuth_deg: float
    altitude_deg: float
    altitude_airless_deg: float
    ra_deg: float  # apparent, ICRS axes
    dec_deg: float
    distance_au: float
    magnitude: float | None
    diameter_arcsec: float
    lit_fraction: float
    elongation_deg: float
    ring_tilt_deg: float | None


@dataclass(frozen=True, slots=True)
class Moment:
    """One site at one instant; made by ``Ephemeris.moment``."""

    site: Site
    utc: datetime
    _rotation: FloatArray  # ICRS to north, east, up
    _observer: ObserverMotion
    _anchors: Callable[[str, datetime], Anchors]

    @property
    def axes(self) -> FloatArray:
        """What turns ICRS axes to north, east and up (3, 3)."""
        return self._rotation

    @property
    def beta(self) -> FloatArray:
        """The observer's speed over that of light (3,), ICRS axes."""
        return self._observer.velocity_au_per_day / LIGHT_AU_PER_DAY

    def horizontal(self, table: TargetTable) -> Horizontal:
        """Give apparent places of all targets of a table."""
        return self._horizontal(self._columns(table, self._rotation))

    def horizontal_of(self, vectors: FloatArray) -> Horizontal:
        """Give apparent places of astrometric ICRS unit vectors (n, 3)."""
        return self._horizontal(proper_columns(vectors, 0.0, self._observer, self._rotation))

    def apparent(self, table: TargetTable) -> FloatArray:
        """Give apparent unit vectors (n, 3) on ICRS axes, bodies filled in."""
        columns = self._columns(table, np.eye(3))
        return np.asarray((columns / np.linalg.norm(columns, axis=0)).T)

    def _columns(self, table: TargetTable, rotation: FloatArray) -> FloatArray:
        """Give directions (3, n) turned by a rotation, bodies filled in."""
        columns = proper_columns(table.vectors, table.parallax_rad, self._observer, rotation)
        for row, name in table.bodies:
            columns[:, row] = rotation @ self._anchors(name, self.utc).place(self.utc)
        return columns

    def rates(self, table: TargetTable) -> Rates:
        """Give rates: the turn of the Earth, and what bodies move by themselves meanwhile."""
        vectors = self.apparent(table)
        own = np.zeros_like(vectors)
        for row, name in table.bodies:
            own[row] = self._anchors(name, self.utc).motion_per_s(self.utc)
        return self._rates(vectors @ self._rotation.T, own @ self._rotation.T)

    def _rates(self, local: FloatArray, own: FloatArray) -> Rates:
        """Differentiate azimuth and refracted altitude of (n, 3) local vectors: north, east, up."""
        phi, turn = math.radians(self.site.latitude_deg), math.radians(TURN_DEG_PER_S)
        north, east, up = local.T
        d_north = own[:, 0] - turn * math.sin(phi) * east
        d_east = own[:, 1] - turn * (math.cos(phi) * up - math.sin(phi) * north)
        d_up = own[:, 2] + turn * math.cos(phi) * east
        flat_squared = np.maximum(north**2 + east**2, 1e-18)  # finite at the zenith itself
        azimuth = (north * d_east - east * d_north) / flat_squared
        airless_deg_per_s = np.degrees(d_up / np.sqrt(flat_squared))
        airless = np.degrees(np.arcsin(np.clip(up, -1.0, 1.0)))
        air = air_of(self.site)
        ahead = airless_deg_per_s * _RATE_STEP_S
        seen = refracted_deg(airless + ahead, *air) - refracted_deg(airless - ahead, *air)
        return Rates(np.degrees(azimuth) * 3600.0, seen / (2.0 * _RATE_STEP_S) * 3600.0)

    def facts(self, name: str) -> MoverFacts:
        """Give brightness, size and phase of a body, a few minutes old at most."""
        return self._anchors(name, self.utc).facts

    def body(self, name: str) -> SeenMover:
        """Give a body by its name: "sun", "moon", "mercury" ... "pluto"."""
        anchors = self._anchors(name, self.utc)
        vector = anchors.place(self.utc)[None, :]
        seen = self._horizontal(self._rotation @ vector.T)
        ra_deg, dec_deg = ra_dec_of(vector)
        facts = anchors.facts
        return SeenMover(
            body=name,
            azimuth_deg=float(seen.azimuth_deg[0]),
            altitude_deg=float(seen.altitude_deg[0]),
            altitude_airless_deg=float(seen.altitude_airless_deg[0]),
            ra_deg=float(ra_deg[0]),
            dec_deg=float(dec_deg[0]),
            distance_au=facts.distance_au,
            magnitude=facts.magnitude,
            diameter_arcsec=facts.diameter_arcsec,
            lit_fraction=facts.lit_fraction,
            elongation_deg=facts.elongation_deg,
            ring_tilt_deg=facts.ring_tilt_deg,
        )

    def icrs_of(
        self, azimuth_deg: ArrayLike, altitude_deg: ArrayLike
    ) -> tuple[FloatArray, FloatArray]:
        """Give astrometric ICRS right ascension and declination of seen directions (n,)."""
        airless = airless_deg(np.atleast_1d(np.asarray(altitude_deg, float)), *air_of(self.site))
        local = unit_vectors(np.atleast_1d(np.asarray(azimuth_deg, float)), airless)
        return ra_dec_of(astrometric(local @ self._rotation, self._observer))

    def _horizontal(self, local: FloatArray) -> Horizontal:
        """Read directions (3, n) on local axes; in blocks that stay in the processor's cache."""
        count, air = local.shape[1], air_of(self.site)
        azimuth_deg, seen, airless = np.empty(count), np.empty(count), np.empty(count)
        for start in range(0, count, BLOCK):
            block = slice(start, start + BLOCK)
            azimuth_deg[block], airless[block] = ra_dec_of(local[:, block].T)
            seen[block] = refracted_deg(airless[block], *air)
        return Horizontal(azimuth_deg, seen, airless)
