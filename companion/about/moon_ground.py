"""The Moon's features as they lie there now: the Sun over them, what an instrument shows."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from companion.about.moon import MEAN_RADIUS_KM
from companion.about.orientation import disk_axes
from companion.arrays import BoolArray, FloatArray, IntArray
from companion.sky import FEATURE_KINDS, Aspect, MoonFeatures, body_axes

# Of these the table has the length alone, and what shows is decided by the width.
_LONG: Final = ("rille", "ridge", "valley", "scarp", "crater_chain")
DARK_GROUND: Final = ("ocean", "sea", "lake", "bay", "marsh")
_CRATERS_FROM_POWER = 3.0  # by eye the Moon has dark ground only (common practice, no source)
# Depth of fresh craters, km, from their diameter: Pike 1977, "Impact and Explosion Cratering",
# 489 (from memory). Old ones are shallower, and their shadows shorter.
_SIMPLE, _COMPLEX, _SIMPLE_BELOW_KM = (0.196, 1.010), (1.044, 0.301), 15.0
TERMINATOR_DEG = 12.0  # of the Sun over the ground: with less, relief stands out
_TOUR_STOPS = 12


@dataclass(frozen=True, eq=False)
class Ground:
    """The features of the Moon at one moment from one place; every array has shape (n,).

    ``east`` and ``north`` are places on the disk in its radii, north of date up; what is turned
    away from us has ``seen_altitude_deg`` below zero. ``resolved`` says that the instrument shows
    the outline of what is turned to us; of ``long`` features nobody has listed the width, so that
    nothing is said. ``shadowed`` are craters whose shadow is large enough to be seen.
    """

    features: MoonFeatures
    sun_altitude_deg: FloatArray
    seen_altitude_deg: FloatArray  # of the observer over the feature's own horizon
    foreshortening: FloatArray  # the shorter axis over the longer one, 0 at the limb and beyond
    east: FloatArray
    north: FloatArray
    resolved: BoolArray
    shadowed: BoolArray
    long: BoolArray

    @property
    def lit(self) -> BoolArray:
        """Which have the Sun up."""
        return np.asarray(self.sun_altitude_deg > 0.0)

    @property
    def craters(self) -> BoolArray:
        """Which are craters."""
        return np.asarray(self.features.kind == FEATURE_KINDS.index("crater"))

    @property
    def crater_count(self) -> int:
        """How many craters show."""
        return int(np.count_nonzero(self.resolved & self.lit & self.craters))

    @property
    def shadow_count(self) -> int:
        """How many of them have shadows that show."""
        return int(np.count_nonzero(self.shadowed))

    def at_terminator(self) -> IntArray:
        """Give the rows of the named features under a low Sun that show, the largest first."""
        low = (self.sun_altitude_deg > 0.0) & (self.sun_altitude_deg < TERMINATOR_DEG)
        dark = np.isin(self.features.kind, [FEATURE_KINDS.index(code) for code in DARK_GROUND])
        rows = np.flatnonzero(low & self.resolved & ~self.features.lettered & ~dark)
        shown = self.features.diameter_km[rows] * self.foreshortening[rows]
        return np.asarray(rows[np.argsort(-shown, kind="stable")], dtype=np.int64)

    def tour(self) -> tuple[int, ...]:
        """Give the rows of what is best seen along the terminator now, from north to south.

        The named features under a low Sun that the instrument shows largest.
        """
        best = self.at_terminator()[:_TOUR_STOPS]
        return tuple(best[np.argsort(-self.north[best], kind="stable")].tolist())


def ground_of(
    aspect: Aspect, features: MoonFeatures, resolution_arcsec: float, magnification: float
) -> Ground:
    """Give how the features lie for the observer of an aspect.

    Parameters
    ----------
    aspect : Aspect
        Of the Moon.
    features : MoonFeatures
        All that are to be looked at.
    resolution_arcsec : float
        The finest that instrument, eye and air show.
    magnification : float
        Of that view.
    """
    places = features.vectors @ body_axes("moon", aspect.days)  # (n, 3), ICRS axes
    sun = -aspect.from_sun_km / np.linalg.norm(aspect.from_sun_km)
    to_observer = -aspect.to_body_km - MEAN_RADIUS_KM * places
    away_km = np.linalg.norm(to_observer, axis=1)
    rise = np.einsum("ij,ij->i", places, to_observer) / away_km
    sun_altitude_deg = np.degrees(np.arcsin(np.clip(places @ sun, -1.0, 1.0)))
    foreshortening = np.clip(rise, 0.0, 1.0)
    finest_km = aspect.distance_km * math.radians(resolution_arcsec / 3600.0)
    shown_km = features.diameter_km * foreshortening
    long = _of_kinds(features, _LONG)
    large = (rise > 0.0) & (shown_km >= finest_km) & ~long
    if magnification < _CRATERS_FROM_POWER:
        large &= _of_kinds(features, DARK_GROUND)
    lean = _lean(places, sun, to_observer / away_km[:, None])
    east, north, _sight = disk_axes(aspect)
    # Seen from nearby the limb is nearer than the middle's distance says: a part in 200.
    scale = aspect.distance_km / away_km
    return Ground(
        features=features,
        sun_altitude_deg=sun_altitude_deg,
        seen_altitude_deg=np.degrees(np.arcsin(np.clip(rise, -1.0, 1.0))),
        foreshortening=foreshortening,
        east=places @ east * scale,
        north=places @ north * scale,
        resolved=large,
        shadowed=_shadowed(features, lean, foreshortening, finest_km) & large,
        long=long,
    )


def _of_kinds(features: MoonFeatures, codes: tuple[str, ...]) -> BoolArray:
    return np.isin(features.kind, [FEATURE_KINDS.index(code) for code in codes])


def _shadowed(
    features: MoonFeatures, lean: FloatArray, foreshortening: FloatArray, finest_km: float
) -> BoolArray:
    """Say which craters have a shadow on their floor that is large enough to be seen.

    ``lean`` is how long a shadow shows, in parts of what throws it; NaN where the Sun is down.
    """
    diameter = features.diameter_km
    simple = diameter < _SIMPLE_BELOW_KM
    depth = np.where(
        simple,
        _SIMPLE[0] * diameter ** _SIMPLE[1],
        _COMPLEX[0] * diameter ** _COMPLEX[1],
    )
    shadow_km = np.minimum(depth * lean, diameter) * foreshortening
    crater = features.kind == FEATURE_KINDS.index("crater")
    return np.asarray((shadow_km >= finest_km) & crater)


def _lean(places: FloatArray, sun: FloatArray, to_observer: FloatArray) -> FloatArray:
    """Give how long shadows show, in parts of what throws them; NaN where the Sun is down.

    What a rim hides from the Sun and from us alike is no shadow to us: at full Moon there is none.
    """
    shadow, hidden = _along_ground(places, sun[None, :]), _along_ground(places, to_observer)
    length = np.linalg.norm(shadow, axis=1)
    shown = np.minimum(np.linalg.norm(shadow - hidden, axis=1), length)
    return np.where(places @ sun > 0.0, shown, np.nan)


def _along_ground(places: FloatArray, towards: FloatArray) -> FloatArray:
    """Give the ground vectors over which a ray comes down by a unit of height."""
    up = np.einsum("ij,ij->i", places, np.broadcast_to(towards, places.shape))
    up = np.where(np.abs(up) < 1e-4, 1e-4, up)
    return np.asarray(towards / up[:, None] - places)
