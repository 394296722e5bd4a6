"""Turns choices and a moment into the sky that the charts show."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Final

import numpy as np

from companion.advice import AdviceError
from companion.arrays import BoolArray, FloatArray
from companion.charts.by_eye import EyeKeeper
from companion.charts.faint import FaintKeeper
from companion.charts.frame import Float32Array, SkyBody, SkyFrame, SkyIndex, SkyPaths, SkyTarget
from companion.charts.index import (
    deep_order,
    deep_vectors,
    make_index,
    star_order,
    star_vectors,
)
from companion.charts.mount_view import MountChart
from companion.charts.track import TrackKeeper
from companion.charts.ways import PathKeeper
from companion.finding import (
    InstrumentKind,
    Optics,
    Viewing,
    floor_deg,
    optics_of,
    seen_vectors,
)
from companion.instant import Choices
from companion.sky import (
    LIGHTS,
    SUN_DANGER_DEG,
    SUN_UP_DEG,
    Catalogue,
    Ephemeris,
    Moment,
    Target,
    TargetTable,
    angle_text,
    constellation_borders,
    constellation_name,
    constellation_of,
    disc_text,
    size_text,
)

USUAL_FINDER: Final = Optics("a usual 8×50 finder", 8.0, 6.0, 6.25, 7.5, Viewing.TURNED)
_MOSTLY: Final = 0.6  # of a group's stars must show for its name to be written
_NEW_EPOCH: Final = timedelta(days=30)  # of proper motion; the fastest star moves 0.9″ meanwhile
_HORIZON_STEP_DEG: Final = 2.0
_OBLIQUITY_DEG: Final = 23.4393  # of the ecliptic, J2000 (IAU 2006)


class SkyFrameMaker:
    """Belongs to one thread, with its ephemeris."""

    def __init__(self, ephemeris: Ephemeris, catalogue: Catalogue) -> None:
        self._ephemeris = ephemeris
        self._catalogue = catalogue
        stars, deep = star_order(catalogue), deep_order(catalogue)
        self._order = stars
        self._index: SkyIndex = make_index(catalogue, stars, deep)
        self._deep = deep_vectors(catalogue, deep)
        self._stars: FloatArray = np.empty((0, 3))
        self._epoch: datetime | None = None
        self._paths = PathKeeper(catalogue)
        self._tracks = TrackKeeper(ephemeris)
        self._by_eye = EyeKeeper()
        self._faint = FaintKeeper()
        self._mount = MountChart()

    def frame(self, choices: Choices, utc: datetime, *, borders: bool = False) -> SkyFrame:
        """Give the sky of a moment.

        Parameters
        ----------
        choices : Choices
            Site, target, queue, instrument, mount.
        utc : datetime
            The moment, corrected, or the one of the preview.
        borders : bool
            Whether the constellations' borders are wanted.

        Raises
        ------
        AdviceError
            If the ephemeris does not cover the moment.
        """
        moment = self._ephemeris.moment(choices.site, utc)
        self._move_stars(utc)
        self._mount.update(choices)
        sky = self._sky(moment, choices)
        if borders:
            sky = replace(sky, borders=_seen_lines(moment, constellation_borders()))
        return self._with_aims(sky, moment, choices)

    def _sky(self, moment: Moment, choices: Choices) -> SkyFrame:
        """Give what does not depend on a target."""
        axes = moment.horizontal_of(np.eye(3))
        turn = _square(seen_vectors(axes.azimuth_deg, axes.altitude_airless_deg).T)
        stars = _seen(moment, self._stars).astype(np.float32)
        by_eye = self._by_eye.found(moment, self._index, stars)
        optics, finder = _optics(choices)
        return SkyFrame(
            stamp=choices.stamp,
            utc=moment.utc,
            site=choices.site,
            index=self._index,
            stars=stars,
            deep=_seen(moment, self._deep).astype(np.float32),
            bodies=_bodies(moment),
            pole=seen_vectors(0.0, choices.site.latitude_deg),
            north=turn[:, 2],
            turn=turn,
            groups=_middles(self._index, stars, by_eye.drawn),
            horizon=_horizon(choices.site.horizon),
            sun_altitude_deg=by_eye.sun_altitude_deg,
            eye_limit=by_eye.limit,
            drawn_limit=by_eye.drawn_limit,
            by_eye=by_eye.drawn,
            optics=optics,
            finder=finder,
            grid=self._mount.grid,
            readings=self._mount.aligned_readings(),
            ecliptic=_seen(moment, _ecliptic()),
            faint=self._faint.sky(moment),
        )

    def _with_aims(self, sky: SkyFrame, moment: Moment, choices: Choices) -> SkyFrame:
        """Add the target and the ways to it, the queue, and where readings point."""
        targets = _targets(choices, moment)
        target = None if choices.target is None else targets[-1]
        pointed, radius = self._pointed(choices)
        looked_at = [("The place of the readings", pointed)] if pointed is not None else []
        if target is not None and target.key not in choices.uncovered:
            looked_at.append((target.name, target.vector))
        cautions = [_caution(name, at, sky) for name, at in looked_at]
        caution = next(filter(None, cautions), "")
        return replace(
            sky,
            target=target,
            queue=targets[: len(choices.queue)],
            track=None if caution else self._tracks.track(moment, sky.turn, choices.target),
            caution=caution,
            radius95_deg=_on_mount(target, self._mount.radius95_deg),
            pointed=pointed,
            pointed_radius_deg=radius,
            paths=self._way(sky, moment, choices, withheld=bool(caution)),
        )

    def _way(self, sky: SkyFrame, moment: Moment, choices: Choices, *, withheld: bool) -> SkyPaths:
        if choices.target is None or withheld:
            return SkyPaths()
        return self._paths.paths(moment, sky.turn, choices.target, sky.finder, self._mount)

    def _move_stars(self, utc: datetime) -> None:
        """Bring the stars to the date, once an evening."""
        if self._epoch is None or abs(utc - self._epoch) > _NEW_EPOCH:
            self._stars = star_vectors(self._catalogue, self._order, utc)
            self._epoch = utc

    def _pointed(self, choices: Choices) -> tuple[FloatArray | None, float]:
        if choices.pointed_deg is None:
            return None, 0.0
        azimuth, altitude = self._mount.sky_of(choices.pointed_deg)
        radius = self._mount.radius95_deg(azimuth, altitude)
        return seen_vectors(azimuth, altitude), 0.0 if radius is None else radius


def _ecliptic() -> FloatArray:
    """Give the ecliptic of J2000 every two degrees; that of date lies within 0.01°."""
    longitude, tilt = np.radians(np.arange(0.0, 361.0, 2.0)), np.radians(_OBLIQUITY_DEG)
    x, y = np.cos(longitude), np.sin(longitude)
    return np.stack([x, y * np.cos(tilt), y * np.sin(tilt)], axis=-1)


def _seen(moment: Moment, vectors: FloatArray) -> FloatArray:
    places = moment.horizontal_of(vectors)
    return seen_vectors(places.azimuth_deg, places.altitude_deg)


def _seen_lines(moment: Moment, lines: FloatArray) -> FloatArray:
    """Turn lines that NaN parts."""
    gaps = np.isnan(lines[:, 0])
    seen = _seen(moment, np.where(gaps[:, None], 1.0, lines))
    seen[gaps] = np.nan
    return seen


def _middles(index: SkyIndex, stars: Float32Array, by_eye: BoolArray) -> FloatArray:
    """Give the middle of each group that stands clear of the horizon and mostly shows."""
    found = np.full((len(index.group_names), 3), np.nan)
    for at, (_name, rows) in enumerate(index.group_names):
        vectors = stars[rows].astype(float)
        seen = by_eye[rows[rows < len(by_eye)]].sum()
        if len(rows) and vectors[:, 2].min() > 0.05 and seen >= _MOSTLY * len(rows):
            middle = vectors.mean(axis=0)
            found[at] = middle / np.linalg.norm(middle)
    return found


def _square(axes: FloatArray) -> FloatArray:
    """Give the rotation nearest to three nearly perpendicular columns (aberration bends them).

    Kabsch 1976 (Acta Cryst. A32, 922).
    """
    left, _sizes, right = np.linalg.svd(axes)
    return np.asarray(left @ right)


def _optics(choices: Choices) -> tuple[tuple[Optics, ...], Optics]:
    """Give the views through the instrument, and the one to hop by."""
    instrument = choices.instrument
    if instrument is None or instrument.kind is InstrumentKind.EYE:
        return (), USUAL_FINDER
    try:
        looks = optics_of(instrument)
    except AdviceError:
        return (), USUAL_FINDER  # an instrument that makes no sense is said where it is described
    return looks, looks[0] if looks else USUAL_FINDER


def _bodies(moment: Moment) -> tuple[SkyBody, ...]:
    found = []
    for light in LIGHTS:
        look = moment.body(light.body)
        found.append(
            SkyBody(
                key=light.key,
                name=light.name,
                body=light.body,
                vector=seen_vectors(look.azimuth_deg, look.altitude_deg),
                magnitude=look.magnitude,
                diameter_deg=look.diameter_arcsec / 3600.0,
                lit_fraction=look.lit_fraction,
            )
        )
    return tuple(found)


def _targets(choices: Choices, moment: Moment) -> tuple[SkyTarget, ...]:
    """Give the queue, and behind it the current target."""
    wanted = [*choices.queue, *([] if choices.target is None else [choices.target])]
    if not wanted:
        return ()
    places = moment.horizontal(TargetTable.of(wanted, moment.utc))
    vectors = seen_vectors(places.azimuth_deg, places.altitude_deg)
    return tuple(_target(moment, one, vector) for one, vector in zip(wanted, vectors, strict=True))


def _target(moment: Moment, target: Target, vector: FloatArray) -> SkyTarget:
    facts = moment.facts(target.body) if target.body else None
    return SkyTarget(
        key=target.key,
        name=target.name,
        kind=target.kind,
        vector=vector,
        magnitude=target.magnitude if facts is None else facts.magnitude,
        size=size_text(target.major_arcmin, target.minor_arcmin)
        if facts is None
        else angle_text(facts.diameter_arcsec / 3600.0),
        note=target.note if facts is None else disc_text(target.body, facts),
        constellation=constellation_name(target.constellation or _constellation(moment, vector)),
    )


def _constellation(moment: Moment, vector: FloatArray) -> str:
    """Say through which constellation a body wanders."""
    x, y, z = vector.tolist()
    ra_deg, dec_deg = moment.icrs_of(
        np.degrees(np.arctan2(-y, x)) % 360.0, np.degrees(np.arcsin(z))
    )
    return str(constellation_of(ra_deg, dec_deg)[0])


def _caution(name: str, vector: FloatArray, sky: SkyFrame) -> str:
    """Say why nobody should look in a direction near the risen Sun."""
    sun = next(body for body in sky.bodies if body.body == "sun")
    away = float(np.degrees(np.arccos(np.clip(vector @ sun.vector, -1.0, 1.0))))
    if sky.sun_altitude_deg <= SUN_UP_DEG or away >= SUN_DANGER_DEG:
        return ""
    if name == sun.name:
        return (
            "This is the Sun. Look only with a filter made for it, sound and firmly over the front "
            "of the tube, the finder capped: one glance without it blinds for good."
        )
    return (
        f"{name} stands {away:.0f}° from the Sun. One glance at the Sun through any "
        "instrument blinds for good: the ways to it are withheld."
    )


def _on_mount(
    target: SkyTarget | None, radius: Callable[[float, float], float | None]
) -> float | None:
    if target is None:
        return None
    x, y, z = target.vector.tolist()
    azimuth, altitude = np.degrees(np.arctan2(-y, x)) % 360.0, np.degrees(np.arcsin(z))
    return radius(float(azimuth), float(altitude))


def _horizon(points: tuple[tuple[float, float], ...]) -> FloatArray:
    """Give the site's horizon all around, every other degree and at its own corners."""
    azimuth = np.arange(0.0, 360.0 + _HORIZON_STEP_DEG, _HORIZON_STEP_DEG)
    azimuth = np.unique(np.concatenate([azimuth, [corner for corner, _high in points]]))
    return seen_vectors(azimuth, floor_deg(points, azimuth, 0.0))
