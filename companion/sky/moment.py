"""One site at one instant: directions in the sky become altitude and azimuth."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np
from numpy.typing import ArrayLike

from companion.sky.apparent import Observer, apparent, astrometric
from companion.sky.bodies import BodyAnchors
from companion.sky.refraction import air_of, airless_deg, refracted_deg
from companion.sky.site import Site
from companion.sky.table import TargetTable
from companion.sky.vectors import FloatArray, ra_dec_of, unit_vectors, wrap_180

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
class BodyLook:
    """One body of the solar system as seen from the site."""

    name: str
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
    detail: str


@dataclass(frozen=True, slots=True)
class Moment:
    """One site at one instant; made by ``Ephemeris.moment``."""

    site: Site
    utc: datetime
    _rotation: FloatArray  # ICRS to north, east, up
    _observer: Observer
    _anchors: Callable[[str, datetime], BodyAnchors]
    _moment: Callable[[Site, datetime], "Moment"]

    def horizontal(self, table: TargetTable) -> Horizontal:
        """Give apparent places of all targets of a table."""
        return self._horizontal(self.apparent(table))

    def horizontal_of(self, vectors: FloatArray) -> Horizontal:
        """Give apparent places of astrometric ICRS unit vectors (n, 3)."""
        return self._horizontal(apparent(vectors, 0.0, self._observer))

    def apparent(self, table: TargetTable) -> FloatArray:
        """Give apparent unit vectors (n, 3) on ICRS axes, bodies filled in."""
        vectors = apparent(table.vectors, table.parallax_rad, self._observer)
        for row, name in table.bodies:
            vectors[row] = self._anchors(name, self.utc).place(self.utc)
        return vectors

    def rates(self, table: TargetTable) -> Rates:
        """Give rates by central differences over ten seconds."""
        early, late = (
            self._moment(self.site, self.utc + timedelta(seconds=step)).horizontal(table)
            for step in (-_RATE_STEP_S, _RATE_STEP_S)
        )
        per_s = 3600.0 / (2.0 * _RATE_STEP_S)
        return Rates(
            wrap_180(late.azimuth_deg - early.azimuth_deg) * per_s,
            (late.altitude_deg - early.altitude_deg) * per_s,
        )

    def body(self, name: str) -> BodyLook:
        """Give a body by its name: "sun", "moon", "mercury" ... "pluto"."""
        anchors = self._anchors(name, self.utc)
        vector = anchors.place(self.utc)[None, :]
        seen = self._horizontal(vector)
        ra_deg, dec_deg = ra_dec_of(vector)
        facts = anchors.facts
        return BodyLook(
            name=name,
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
            detail=facts.detail,
        )

    def icrs_of(
        self, azimuth_deg: ArrayLike, altitude_deg: ArrayLike
    ) -> tuple[FloatArray, FloatArray]:
        """Give astrometric ICRS right ascension and declination of seen directions (n,)."""
        airless = airless_deg(np.atleast_1d(np.asarray(altitude_deg, float)), *air_of(self.site))
        local = unit_vectors(np.atleast_1d(np.asarray(azimuth_deg, float)), airless)
        return ra_dec_of(astrometric(local @ self._rotation, self._observer))

    def _horizontal(self, apparent_vectors: FloatArray) -> Horizontal:
        azimuth_deg, airless = ra_dec_of(apparent_vectors @ self._rotation.T)
        return Horizontal(azimuth_deg, refracted_deg(airless, *air_of(self.site)), airless)
