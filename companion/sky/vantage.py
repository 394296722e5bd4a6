"""An observer on the ground with the loaded ephemeris, and what moves as seen from there."""

import math
from collections.abc import Callable, Sequence
from datetime import datetime, timedelta

import numpy as np
from skyfield.timelib import Time, Timescale
from skyfield.toposlib import GeographicPosition
from skyfield.vectorlib import VectorFunction, VectorSum

from companion.arrays import FloatArray
from companion.sky.magnitudes import magnitude_of
from companion.sky.movers import Anchors, Disc, Mover, check_holds, step_s

_AU_KM = 149597870.7
_GOLDEN = (math.sqrt(5.0) - 1.0) / 2.0  # its multiples fall evenly between 0 and 1


class GroundVantage:
    """Looks at parts of the ephemeris from one place on the ground."""

    def __init__(
        self,
        kernel: object,
        observer: VectorSum,
        timescale: Timescale,
        place: GeographicPosition,
    ) -> None:
        self._kernel = kernel
        self._place = place
        self._observer = observer
        self._timescale = timescale

    @property
    def latitude_deg(self) -> float:
        """Geodetic latitude."""
        return float(self._place.latitude.degrees)

    def ground(self, utcs: Sequence[datetime]) -> FloatArray:
        """Give what turns north, east, up into ICRS axes at each moment, (n, 3, 3)."""
        times = [self._timescale.from_datetime(utc) for utc in utcs]
        return np.array([np.asarray(self._place.rotation_at(time)).T for time in times])

    def observe(self, segment: str, utcs: Sequence[datetime]) -> FloatArray:
        """Give apparent places (n, 3) in au, ICRS axes."""
        here = self._observer.at(self._timescale.from_datetimes(list(utcs)))
        seen = here.observe(self._kernel[segment])  # type: ignore[index]  # untyped
        return np.asarray(seen.apparent().position.au.T, dtype=float)

    def observe_orbit(
        self, from_sun_au: Callable[[FloatArray], FloatArray], utcs: Sequence[datetime]
    ) -> FloatArray:
        """Give apparent places (n, 3) in au, ICRS axes."""
        here = self._observer.at(self._timescale.from_datetimes(list(utcs)))
        body = self._kernel["sun"] + _AroundSun(from_sun_au)  # type: ignore[index]  # untyped
        return np.asarray(here.observe(body).apparent().position.au.T, dtype=float)

    def observe_satellite(self, satrec: object, utcs: Sequence[datetime]) -> FloatArray:
        """Give places (n, 3) in km, ICRS axes; light needs no time to speak of."""
        from skyfield.sgp4lib import EarthSatellite  # few ask for one

        times = self._timescale.from_datetimes(list(utcs))
        satellite = EarthSatellite.from_satrec(satrec, self._timescale)
        there = np.asarray(satellite.at(times).position.km.T, dtype=float)
        return there - self.stands_km(utcs)

    def stands_km(self, utcs: Sequence[datetime]) -> FloatArray:
        """Give where the observer stands from the middle of the Earth, (n, 3)."""
        times = self._timescale.from_datetimes(list(utcs))
        return np.asarray(self._place.at(times).position.km.T, dtype=float)

    def facts_of(self, segment: str, radius_km: float, utc: datetime) -> Disc:
        """Give where a part of the ephemeris stands from here and from the Sun."""
        time = self._timescale.from_datetime(utc)
        here = self._observer.at(time)
        seen = here.observe(self._kernel[segment])  # type: ignore[index]  # untyped
        sun = here.observe(self._kernel["sun"])  # type: ignore[index]  # untyped
        to_body, to_sun = seen.position.au, sun.position.au
        distance_au = float(np.linalg.norm(to_body))
        is_sun = segment == "sun"
        return Disc(
            to_body_au=to_body,
            from_sun_au=to_body - to_sun,
            phase_rad=0.0 if is_sun else _angle(to_body, to_body - to_sun),
            elongation_rad=0.0 if is_sun else _angle(to_body, to_sun),
            distance_au=distance_au,
            diameter_arcsec=math.degrees(2.0 * math.asin(radius_km / (distance_au * _AU_KM)))
            * 3600.0,
            planet_magnitude=_planet_magnitude(seen, sun, segment),
            centuries=(float(time.tdb) - 2451545.0) / 36525.0,
        )


class _AroundSun(VectorFunction):  # type: ignore[misc]  # untyped
    """What goes round the Sun, as skyfield asks for it; its speed is never asked for."""

    center, target = 10, -1

    def __init__(self, from_sun_au: Callable[[FloatArray], FloatArray]) -> None:
        self._from_sun_au = from_sun_au

    def _at(self, time: Time) -> tuple[FloatArray, FloatArray, None, None]:
        places = self._from_sun_au(np.asarray(time.tdb))
        return places, np.zeros_like(places), None, None


class Movers:
    """All movers as seen from one place, each with anchors that are made anew when they run out."""

    def __init__(self, vantage: GroundVantage, named: Callable[[str], Mover]) -> None:
        self._vantage = vantage
        self._named = named
        self._anchors: dict[str, Anchors] = {}
        self._shares: dict[str, float] = {}  # of a step, by which each began before its moment

    def anchors(self, body: str, utc: datetime) -> Anchors:
        """Give anchors of a mover that cover the moment.

        Raises
        ------
        AdviceError
            If nothing is called so, or its elements do not hold then.
        """
        known = self._anchors.get(body)
        if known is None or not known.covers(utc):
            mover = self._named(body)
            check_holds(mover, utc)
            start = utc if known is not None and known.follows(utc) else self._begin(mover, utc)
            known = self._anchors[body] = Anchors(mover, self._vantage, start)
        return known

    def _begin(self, mover: Mover, utc: datetime) -> datetime:
        """Begin before the moment, each mover by another share: then no two run out together."""
        share = self._shares.setdefault(mover.target.body, len(self._shares) * _GOLDEN % 1.0)
        return utc - timedelta(seconds=share * step_s(mover))

    def places(self, body: str, utcs: Sequence[datetime]) -> FloatArray:
        """Give apparent unit vectors (n, 3) of a mover on ICRS axes, each exact.

        Raises
        ------
        AdviceError
            If nothing is called so, or its elements do not hold at one of the moments.
        """
        mover = self._named(body)
        for utc in (min(utcs), max(utcs)):
            check_holds(mover, utc)
        places = mover.places(self._vantage, utcs)
        return np.asarray(places / np.linalg.norm(places, axis=1)[:, None])


def _angle(a: FloatArray, b: FloatArray) -> float:
    return math.atan2(float(np.linalg.norm(np.cross(a, b))), float(a @ b))


def _planet_magnitude(seen: object, sun: object, segment: str) -> float | None:
    """Give the magnitude by Mallama & Hilton 2018; None for what is no planet or out of range."""
    if segment.partition(" ")[0] in {"sun", "moon", "pluto"}:
        return None
    value = float(magnitude_of(seen, sun))
    return value if math.isfinite(value) else None
