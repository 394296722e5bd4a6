"""Places of Sun, Moon and planets through weeks or years at once, for whoever seeks what happens.

Exact places are read at knots, six hours apart for the Moon and a day for the rest. Between them
runs Lagrange's polynomial through six knots, which stays within 0.2″ of the exact place. The
Earth's turn is carried the same way, without polar motion, which is worth 0.5″.
"""

import math
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np
from skyfield.framelib import ecliptic_frame
from skyfield.timelib import Time
from skyfield.toposlib import wgs84

from companion.arrays import FloatArray, RowArray
from companion.sky.apparent import LIGHT_AU_PER_DAY
from companion.sky.earth import Earth
from companion.sky.knots import POINTS, Knots
from companion.sky.magnitudes import magnitude_of
from companion.sky.site import Site
from companion.sky.solar_system import FIRST_UTC, LAST_UTC, SOLAR_SYSTEM, ring_tilt_deg

_DAY_S = 86400.0
_MOON_STEP_S, _STEP_S = 21600.0, _DAY_S
_SPARE = 3  # knots before the first and after the last moment
_TURN_DEG_PER_DAY = 360.98564736629  # mean rate of the sidereal time; the rest is carried exactly
_AU_KM = 149597870.7
_EDGE = timedelta(days=1)  # of the ephemeris: light comes from before the first moment


@dataclass(frozen=True, slots=True, eq=False)
class SkySpan:
    """The sky over one site from ``first`` to ``last``; made by ``Ephemeris.span``.

    Moments are seconds after ``first``, arrays (k,). Places are apparent, on ICRS axes, in au.
    """

    site: Site
    first: datetime
    last: datetime
    _bodies: dict[str, Knots]  # x, y, z, magnitude
    _earth: Knots  # precession and nutation (9), sidereal time less its mean, velocity (3), and
    #   the sine of the true obliquity
    _here_au: FloatArray  # (3,), turning with the Earth

    @property
    def length_s(self) -> float:
        """Seconds from the first moment to the last."""
        return (self.last - self.first).total_seconds()

    def seconds(self, utc: datetime) -> float:
        """Count a moment from the first."""
        return (utc - self.first).total_seconds()

    def utc(self, seconds: float) -> datetime:
        """Turn seconds after the first moment into a time."""
        return self.first + timedelta(seconds=float(seconds))

    def geocentric(self, body: str, seconds: FloatArray) -> FloatArray:
        """Give places (k, 3) as from the middle of the Earth."""
        return self._bodies[body].at(seconds)[:, :3]

    def place(self, body: str, seconds: FloatArray) -> FloatArray:
        """Give places (k, 3) as from the site."""
        ground, speed = self._observer(seconds)
        seen = self.geocentric(body, seconds) - ground
        return np.asarray(seen + speed * np.linalg.norm(seen, axis=1)[:, None])

    def magnitude(self, body: str, seconds: FloatArray) -> FloatArray:
        """Give planets' magnitudes (Mallama & Hilton 2018); NaN for the rest."""
        return self._bodies[body].at(seconds)[:, 3]

    def stars(self, vectors: FloatArray, seconds: FloatArray, rows: RowArray) -> FloatArray:
        """Give directions (k, 3) of stars, aberration included.

        Parameters
        ----------
        vectors : ndarray
            Astrometric unit vectors (m, 3) for this time.
        seconds : ndarray
            Moments (k,).
        rows : ndarray
            Which star is meant at each moment (k,).
        """
        beta = self._earth.at(seconds)[:, 10:13] / LIGHT_AU_PER_DAY
        seen = vectors[rows]
        along = np.einsum("ij,ij->i", seen, beta)[:, None]
        seen = seen * np.sqrt(1.0 - np.sum(beta**2, axis=1))[:, None] + (1.0 + along / 2.0) * beta
        return np.asarray(seen / np.linalg.norm(seen, axis=1)[:, None])

    def local(self, vectors: FloatArray, seconds: FloatArray) -> FloatArray:
        """Turn vectors (k, 3) from ICRS axes to north, east and up at the site."""
        return self.north_east_up(self._turned(vectors, seconds))

    @property
    def here_local_au(self) -> FloatArray:
        """Where the site stands from the middle of the Earth, towards its north, east and up."""
        return np.asarray(self.north_east_up(self._here_au[None])[0])

    def north_east_up(self, turning: FloatArray) -> FloatArray:
        """Turn vectors (k, 3) from axes that turn with the Earth to north, east and up."""
        x, y, z = turning.T
        phi, lon = math.radians(self.site.latitude_deg), math.radians(self.site.longitude_deg)
        out, east = x * math.cos(lon) + y * math.sin(lon), y * math.cos(lon) - x * math.sin(lon)
        north = z * math.cos(phi) - out * math.sin(phi)
        return np.stack([north, east, z * math.sin(phi) + out * math.cos(phi)], axis=1)

    def of_date(self, vectors: FloatArray, seconds: FloatArray) -> FloatArray:
        """Turn vectors (k, 3) from ICRS axes to the true equator and equinox of date."""
        return self._dated(vectors, self._earth.at(seconds))

    def ecliptic_deg(self, vectors: FloatArray, seconds: FloatArray) -> tuple[FloatArray, ...]:
        """Give ecliptic longitudes and latitudes of date, degrees."""
        earth = self._earth.at(seconds)
        x, y, z = self._dated(vectors, earth).T
        sine = earth[:, 13]
        cosine = np.sqrt(1.0 - sine * sine)
        y, z = y * cosine + z * sine, z * cosine - y * sine
        return np.degrees(np.arctan2(y, x)) % 360.0, np.degrees(np.arctan2(z, np.hypot(x, y)))

    def ring_tilt_deg(self, seconds: FloatArray) -> FloatArray:
        """Give the tilt of Saturn's rings, positive with the north face seen."""
        centuries = (self.first.year - 2000.0) / 100.0
        places = self.geocentric("saturn", seconds)
        return np.array([ring_tilt_deg(place, centuries) for place in places])

    def _nearest(self, seconds: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Give precession and nutation of the nearest knot, and how far the Earth has turned.

        Within half a day the first change by 0.1″, of which the site's place feels millimetres.
        """
        earth = self._earth
        rows = np.rint((seconds - earth.start_s) / earth.step_s).astype(np.intp)
        near = earth.values[np.clip(rows, 0, len(earth.values) - 1)]
        return near[:, :9].reshape(-1, 3, 3), self._angle(near, seconds)

    def _observer(self, seconds: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Give where the site is (k, 3) in au, and its turn with the Earth over light's speed."""
        matrix, angle = self._nearest(seconds)
        x, y, z = self._here_au
        cosine, sine = np.cos(angle), np.sin(angle)
        dated = np.stack(
            [x * cosine - y * sine, x * sine + y * cosine, np.full(len(seconds), z)], axis=1
        )
        turn = math.radians(_TURN_DEG_PER_DAY) / LIGHT_AU_PER_DAY
        moved = np.stack([-dated[:, 1], dated[:, 0], np.zeros(len(seconds))], axis=1) * turn
        return (
            np.einsum("kji,kj->ki", matrix, dated),
            np.einsum("kji,kj->ki", matrix, moved),
        )

    @staticmethod
    def _dated(vectors: FloatArray, earth: FloatArray) -> FloatArray:
        return np.asarray(np.einsum("kij,kj->ki", earth[:, :9].reshape(-1, 3, 3), vectors))

    @staticmethod
    def _angle(earth: FloatArray, seconds: FloatArray) -> FloatArray:
        return np.asarray(np.radians(earth[:, 9] + _TURN_DEG_PER_DAY * (seconds / _DAY_S)))

    def _turned(self, vectors: FloatArray, seconds: FloatArray) -> FloatArray:
        """Turn vectors (k, 3) to axes that turn with the Earth."""
        matrix, angle = self._nearest(seconds)
        x, y, z = np.einsum("kij,kj->ik", matrix, vectors)
        cosine, sine = np.cos(angle), np.sin(angle)
        return np.stack([x * cosine + y * sine, y * cosine - x * sine, z], axis=1)


def make_span(kernel: object, earth: Earth, site: Site, first: datetime, last: datetime) -> SkySpan:
    """Read the sky of a span; what lies outside the ephemeris is left out.

    Raises
    ------
    AdviceError
        If nothing of it lies inside.
    """
    first, last = max(first, FIRST_UTC + _EDGE), min(last, LAST_UTC - _EDGE)
    fine, coarse = (_moments(first, last, step) for step in (_MOON_STEP_S, _STEP_S))
    times = earth.times([first + timedelta(seconds=float(s)) for s in coarse])
    moon_times = earth.times([first + timedelta(seconds=float(s)) for s in fine])
    bodies = {
        body.target.body: _body(kernel, times, coarse, body.segment)
        for body in SOLAR_SYSTEM
        if body.target.body not in {"moon", "pluto"}
    }
    bodies["moon"] = _body(kernel, moon_times, fine, "moon")
    place = wgs84.latlon(site.latitude_deg, site.longitude_deg, site.elevation_m)
    return SkySpan(
        site=site,
        first=first,
        last=last,
        _bodies=bodies,
        _earth=_turn(kernel, times, coarse),
        _here_au=np.asarray(place.itrs_xyz.au, dtype=float),
    )


def _moments(first: datetime, last: datetime, step_s: float) -> FloatArray:
    """Give knots with a few to spare on either side, where the ephemeris has them."""
    low = min(_SPARE, (first - FIRST_UTC).total_seconds() // step_s)
    count = math.ceil((last - first).total_seconds() / step_s) + _SPARE
    moments = np.arange(-low, max(count, POINTS) + 1.0) * step_s
    return np.asarray(moments[moments <= (LAST_UTC - first).total_seconds()])


def _body(kernel: object, times: Time, seconds: FloatArray, segment: str) -> Knots:
    here = kernel["earth"].at(times)  # type: ignore[index]  # untyped
    seen = here.observe(kernel[segment])  # type: ignore[index]  # untyped
    values = np.full((len(seconds), 4), np.nan)
    values[:, :3] = seen.apparent().position.au.T
    if segment not in {"sun", "moon"}:
        values[:, 3] = magnitude_of(seen, here.observe(kernel["sun"]))  # type: ignore[index]  # untyped
    return Knots(float(seconds[0]), float(seconds[1] - seconds[0]), values)


def _turn(kernel: object, times: Time, seconds: FloatArray) -> Knots:
    matrix = np.moveaxis(np.asarray(times.M), -1, 0).reshape(-1, 9)
    mean = _TURN_DEG_PER_DAY * (seconds / _DAY_S)
    rest = np.degrees(np.unwrap(np.radians(np.asarray(times.gast) * 15.0 - mean)))
    velocity = kernel["earth"].at(times).velocity.au_per_d.T  # type: ignore[index]  # untyped
    tilted = np.einsum("jkn,lkn->jln", ecliptic_frame.rotation_at(times), times.M)
    values = np.concatenate([matrix, rest[:, None], velocity, tilted[1, 2][:, None]], axis=1)
    return Knots(float(seconds[0]), float(seconds[1] - seconds[0]), values)


def separations_rad(a: FloatArray, b: FloatArray) -> FloatArray:
    """Give the angles between vectors (k, 3) of any length, exact for small ones too."""
    a = a / np.linalg.norm(a, axis=1)[:, None]
    b = b / np.linalg.norm(b, axis=1)[:, None]
    return np.asarray(2.0 * np.arcsin(np.clip(np.linalg.norm(a - b, axis=1) / 2.0, 0.0, 1.0)))


def disc_radii_rad(places_au: FloatArray, radius_km: float) -> FloatArray:
    """Give the angular radius of a body of that size at places (k, 3)."""
    return np.asarray(np.arcsin(radius_km / _AU_KM / np.linalg.norm(places_au, axis=1)))
