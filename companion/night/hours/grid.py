"""The night in steps: Sun, Moon and planets at each, and the frame that everything turns in."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cached_property

import numpy as np

from companion.arrays import BoolArray, FloatArray
from companion.night.hours.sky_source import SkySource
from companion.night.hours.turning import Turning, refracted, turned_up
from companion.sky import SOLAR_SYSTEM, SUN_UP_DEG, Site, Target, TargetTable

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
    targets = tuple(body.target for body in SOLAR_SYSTEM)
    return NightGrid(site, middle, offsets, _tracks(sky, site, middle, offsets, targets))


def tracks_of(sky: SkySource, grid: NightGrid, targets: Sequence[Target]) -> dict[str, Track]:
    """Give the ways of what moves; those that the grid does not hold are sought."""
    others = tuple(target for target in targets if target.body not in grid.tracks)
    if not others:
        return grid.tracks
    return grid.tracks | _tracks(sky, grid.site, grid.middle_utc, grid.offsets_s, others)


def _tracks(
    sky: SkySource,
    site: Site,
    middle: datetime,
    offsets_s: FloatArray,
    targets: tuple[Target, ...],
) -> dict[str, Track]:
    """Place all that moves exactly at each knot, and look at its disc at three of them."""
    knots = np.arange(-_HALF_DAY_S, _HALF_DAY_S + 1.0, _KNOT_S)
    utcs = [middle + timedelta(seconds=float(knot)) for knot in knots]
    found = sky.directions(site, utcs, TargetTable.of(targets, middle))
    daily = slice(None, None, (len(knots) - 1) // 2)  # start, middle, end
    made = {}
    for row, target in enumerate(targets):
        discs = [sky.facts(site, target.body, utc) for utc in utcs[daily]]
        lit = np.array([disc.lit_fraction for disc in discs])[:, None]
        lit_then = interpolated(knots[daily], lit, offsets_s)[:, 0]
        vectors = _ways(site, found[:, row], knots, offsets_s)
        azimuth, airless = turned_up(site.latitude_deg, vectors, offsets_s)
        made[target.body] = Track(
            body=target.body,
            vectors=vectors,
            azimuth_deg=azimuth,
            altitude_deg=refracted(airless),
            altitude_airless_deg=airless,
            lit_fraction=np.clip(lit_then, 0.0, 1.0),
            magnitude=discs[1].magnitude,
            diameter_arcsec=discs[1].diameter_arcsec,
        )
    return made


def _ways(
    site: Site, directions: FloatArray, knots_s: FloatArray, offsets_s: FloatArray
) -> FloatArray:
    """Interpolate a slow way through the turning frame: (k, 3) to north, east, up at the knots."""
    north, east, up = directions.T
    azimuth, altitude = np.degrees(np.arctan2(east, north)), np.degrees(np.arcsin(up))
    at_knots = Turning.of(site.latitude_deg, azimuth, altitude, knots_s)
    vectors = interpolated(knots_s, at_knots.vectors, offsets_s)
    return np.asarray(vectors / np.linalg.norm(vectors, axis=1, keepdims=True))


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
