"""The night in steps: Sun, Moon and planets at each, and the frame that everything turns in."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cached_property

import numpy as np

from companion.arrays import BoolArray, FloatArray
from companion.night.hours.sky_source import SeenBody, SkySource
from companion.night.hours.turning import Turning, refracted, turned_up
from companion.sky import SOLAR_SYSTEM, SUN_UP_DEG, Site

_SLOW = tuple(body.target.body for body in SOLAR_SYSTEM[2:])  # all but Sun and Moon
STEP_S = 300.0
_HALF_DAY_S = 43200.0
_KNOT_S = 7200.0  # between exact places of Sun, Moon and planets


@dataclass(frozen=True, slots=True, eq=False)
class Track:
    """One body through the night; arrays over the steps of the grid."""

    body: str
    vectors: FloatArray  # (times, 3) in the turning frame
    azimuth_deg: FloatArray
    altitude_deg: FloatArray  # refracted
    altitude_airless_deg: FloatArray
    lit_fraction: FloatArray
    magnitude: float | None  # at the middle of the night
    diameter_arcsec: float


@dataclass(frozen=True, eq=False)
class NightGrid:
    """From noon to noon in equal steps.

    ``middle_utc`` is when the Sun stands lowest by the mean sun; offsets count from it.
    """

    site: Site
    middle_utc: datetime
    offsets_s: FloatArray
    tracks: dict[str, Track]

    @property
    def sun(self) -> Track:
        """The Sun."""
        return self.tracks["sun"]

    @property
    def moon(self) -> Track:
        """The Moon."""
        return self.tracks["moon"]

    @cached_property
    def moon_phase_angle_deg(self) -> FloatArray:
        """Angle Sun-Moon-Earth at each step: 0 at full Moon, 180 at new Moon."""
        return np.degrees(np.arccos(np.clip(2.0 * self.moon.lit_fraction - 1.0, -1.0, 1.0)))

    @cached_property
    def night(self) -> BoolArray:
        """Steps with the Sun down; all of them where it never sets."""
        down = self.sun.altitude_airless_deg < SUN_UP_DEG
        return down if down.any() else np.ones_like(down)

    @property
    def sun_never_sets(self) -> bool:
        """Polar day: there is no night, only a lowest Sun."""
        return bool((self.sun.altitude_airless_deg >= SUN_UP_DEG).all())

    @property
    def sun_never_rises(self) -> bool:
        """Polar night."""
        return bool((self.sun.altitude_airless_deg < SUN_UP_DEG).all())

    @property
    def step_s(self) -> float:
        """Seconds between steps."""
        return float(self.offsets_s[1] - self.offsets_s[0])

    def utc(self, offset_s: float) -> datetime:
        """Turn an offset into a time."""
        return self.middle_utc + timedelta(seconds=float(offset_s))

    def offset_s(self, utc: datetime) -> float:
        """Turn a time into an offset."""
        return (utc - self.middle_utc).total_seconds()

    def steps_between(self, first: datetime | None, last: datetime | None) -> BoolArray:
        """Find the steps of the night within two times; None leaves that side open."""
        inside = self.night.copy()
        if first is not None:
            inside &= self.offsets_s >= self.offset_s(first)
        if last is not None:
            inside &= self.offsets_s <= self.offset_s(last)
        return inside


def solar_midnight(site: Site, utc: datetime) -> datetime:
    """Middle of the night that a moment belongs to, by the mean sun.

    A moment before noon belongs to the night that is ending, one after noon to the coming one.
    """
    ahead = timedelta(hours=site.longitude_deg / 15.0)
    local = utc.astimezone(UTC) + ahead
    noon = local.replace(hour=12, minute=0, second=0, microsecond=0)
    return noon + timedelta(hours=12 if local >= noon else -12) - ahead


def night_grid(
    sky: SkySource, site: Site, utc: datetime, *, step_s: float = STEP_S, coming: bool = True
) -> NightGrid:
    """Lay the grid over the night of a moment.

    Parameters
    ----------
    sky : SkySource
        Ephemeris.
    site : Site
        Where.
    utc : datetime
        Any moment; by day the coming night is meant unless ``coming`` is False, which keeps
        the morning with the night before it.
    step_s : float
        Between the steps.

    Raises
    ------
    AdviceError
        If the ephemeris does not reach this night.
    """
    grid = _grid_about(sky, site, solar_midnight(site, utc), step_s)
    over = grid.offset_s(utc)
    if coming and over > 0.0 and not grid.sun_never_sets and _sun_is_up(grid, over):
        return _grid_about(sky, site, grid.middle_utc + timedelta(days=1), step_s)
    return grid


def _sun_is_up(grid: NightGrid, offset_s: float) -> bool:
    sun = np.interp(offset_s, grid.offsets_s, grid.sun.altitude_airless_deg)
    return bool(sun >= SUN_UP_DEG)


def _grid_about(sky: SkySource, site: Site, middle: datetime, step_s: float) -> NightGrid:
    offsets = np.arange(-_HALF_DAY_S, _HALF_DAY_S + step_s / 2.0, step_s)
    knots = np.arange(-_HALF_DAY_S, _HALF_DAY_S + 1.0, _KNOT_S)
    moments = [sky.moment(site, middle + timedelta(seconds=float(k))) for k in knots]
    daily = slice(None, None, (len(knots) - 1) // 2)  # start, middle, end: planets move slowly
    tracks = {
        name: _track(name, site, offsets, knots, [moment.body(name) for moment in moments])
        for name in ("sun", "moon")
    }
    for name in _SLOW:
        looks = [moment.body(name) for moment in moments[daily]]
        tracks[name] = _track(name, site, offsets, knots[daily], looks)
    return NightGrid(site, middle, offsets, tracks)


def track_of(sky: SkySource, grid: NightGrid, body: str) -> Track:
    """Give the way of something that moves; what the grid does not hold is sought hour by hour."""
    if body in grid.tracks:
        return grid.tracks[body]
    knots = np.arange(-_HALF_DAY_S, _HALF_DAY_S + 1.0, _KNOT_S)
    looks = [sky.moment(grid.site, grid.utc(float(knot))).body(body) for knot in knots]
    return _track(body, grid.site, grid.offsets_s, knots, looks)


def _track(
    name: str, site: Site, offsets_s: FloatArray, knots_s: FloatArray, looks: list[SeenBody]
) -> Track:
    """Interpolate a body's slow way through the turning frame, then turn it."""
    at_knots = Turning.of(
        site.latitude_deg,
        np.array([look.azimuth_deg for look in looks]),
        np.array([look.altitude_airless_deg for look in looks]),
        knots_s,
    )
    vectors = interpolated(knots_s, at_knots.vectors, offsets_s)
    vectors /= np.linalg.norm(vectors, axis=1, keepdims=True)
    azimuth, airless = turned_up(site.latitude_deg, vectors, offsets_s)
    lit = np.array([look.lit_fraction for look in looks])
    middle = looks[len(looks) // 2]
    return Track(
        body=name,
        vectors=vectors,
        azimuth_deg=azimuth,
        altitude_deg=refracted(airless),
        altitude_airless_deg=airless,
        lit_fraction=np.clip(interpolated(knots_s, lit[:, None], offsets_s)[:, 0], 0.0, 1.0),
        magnitude=middle.magnitude,
        diameter_arcsec=middle.diameter_arcsec,
    )


def interpolated(knots: FloatArray, values: FloatArray, at: FloatArray) -> FloatArray:
    """Lagrange's polynomial through the four nearest knots (three where there are only three).

    Parameters
    ----------
    knots : ndarray
        Ascending, equally spaced, at least three; shape (k,).
    values : ndarray
        Shape (k, m).
    at : ndarray
        Shape (t,).

    Returns
    -------
    ndarray
        Shape (t, m).
    """
    order = min(4, len(knots))
    spacing = knots[1] - knots[0]
    first = np.floor((at - knots[0]) / spacing).astype(np.intp) - (order - 2) // 2
    first = np.clip(first, 0, len(knots) - order)
    s = (at - knots[first]) / spacing
    out = np.zeros((len(at), values.shape[1]))
    for i in range(order):
        weight = np.ones_like(s)
        for j in range(order):
            if j != i:
                weight *= (s - j) / (i - j)
        out += weight[:, None] * values[first + i]
    return out
