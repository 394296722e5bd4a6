"""The loaded ephemeris: the one heavy object, owned by one thread at a time."""

import weakref
from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from pathlib import Path

import numpy as np
import skyfield_data
from skyfield.jpllib import SpiceKernel
from skyfield.positionlib import Barycentric
from skyfield.toposlib import GeographicPosition, wgs84

from companion.advice import AdviceError
from companion.arrays import FloatArray
from companion.sky.apparent import ObserverMotion, proper_columns
from companion.sky.aspect import Aspect, aspect_of
from companion.sky.carried import CARRIED
from companion.sky.earth import Earth
from companion.sky.moment import Moment
from companion.sky.moon_places import moon_place
from companion.sky.movers import Mover, MoverFacts
from companion.sky.site import Site
from companion.sky.sky_points import SKY_POINTS
from companion.sky.solar_system import LAST_UTC, SOLAR_SYSTEM, SolarBody
from companion.sky.span import SkySpan, make_span
from companion.sky.table import TargetTable
from companion.sky.vantage import GroundVantage, Movers

_MOST_SITES = 8


class Ephemeris:
    """DE421 with the Earth's rotation; gives a ``Moment`` for any site and time it covers.

    Not safe for two threads at once: each thread that needs one loads its own.
    """

    def __init__(self, earth: Earth, kernel: object, kernel_path: Path) -> None:
        self.earth = earth
        self.kernel_path = kernel_path
        self._kernel = kernel
        # A file that nobody closed is closed with the last name for it, not at some later moment.
        self._close = weakref.finalize(self, kernel.close)  # type: ignore[attr-defined]  # untyped
        self._stations: dict[tuple[float, float, float], _Station] = {}
        movers: tuple[Mover, ...] = (*SOLAR_SYSTEM, *SKY_POINTS)
        self._movers = {mover.target.body: mover for mover in movers}

    @classmethod
    def load(cls) -> "Ephemeris":
        """Read the ephemeris that the package ``skyfield-data`` carries."""
        # Not through the package's own look-up: that warns of tables which are not read here.
        path = Path(skyfield_data.__file__).parent / "data" / "de421.bsp"
        return cls(Earth(), SpiceKernel(str(path)), path)

    def close(self) -> None:
        """Close the ephemeris file; nothing can be computed afterwards."""
        self._close()

    def carry(self, movers: Iterable[Mover]) -> None:
        """Know these movers too, or know them by newer elements."""
        self._movers |= {mover.target.body: mover for mover in movers}
        self._stations.clear()  # their anchors were made from the elements known before

    def mover(self, body: str) -> Mover:
        """Give what moves under a code such as "saturn".

        Raises
        ------
        AdviceError
            If nothing is called so.
        """
        found = self._movers.get(body) or CARRIED.mover(body) or moon_place(body)
        if found is None:
            raise AdviceError(
                f"Nothing that moves is known as {body[:60]!r}.",
                "Choose another target, or read its elements again.",
            )
        return found

    def earth_note(self, utc: datetime) -> str:
        """Say what is doubtful about the Earth's rotation then; empty when nothing is."""
        return self.earth.note(utc)

    def moment(self, site: Site, utc: datetime) -> Moment:
        """Give everything needed to compute directions at one site and instant.

        Raises
        ------
        AdviceError
            If the ephemeris does not cover the time.
        """
        station = self._station(site)
        time = self.earth.time(utc)
        (observer,) = _observers(station.observer.at(time), self._kernel["sun"].at(time))  # type: ignore[index]  # untyped
        rotation = np.asarray(station.place.rotation_at(time), dtype=float)
        return Moment(site, utc, rotation, observer, station.movers.anchors)

    def facts(self, site: Site, body: str, utc: datetime) -> MoverFacts:
        """Give brightness, size and phase of what moves, at this very moment.

        Raises
        ------
        AdviceError
            If the ephemeris or the elements do not cover the time, or nothing is called so.
        """
        return self.mover(body).facts(self._station(site).vantage, utc)

    def aspect(self, body: str, utc: datetime, site: Site | None = None) -> Aspect:
        """Give how a body stands between Sun and observer; from the Earth's centre without a site.

        Raises
        ------
        AdviceError
            If the ephemeris does not cover the time, or has no such body.
        """
        time, mover = self.earth.time(utc), self.mover(body)
        if not isinstance(mover, SolarBody):
            raise AdviceError(f"{mover.target.name} is not a planet.", "Ask for Moon or planets.")
        observer = self._kernel["earth"] if site is None else self._station(site).observer  # type: ignore[index]  # untyped
        return aspect_of(self._kernel, observer, time, mover)

    def directions(self, site: Site, utcs: Sequence[datetime], table: TargetTable) -> FloatArray:
        """Give apparent directions (times, targets, 3) towards north, east and up, without air.

        The same as ``moment`` gives one by one, at a fraction of the cost.

        Raises
        ------
        AdviceError
            If the ephemeris, or the elements of what moves, do not cover a time.
        """
        station = self._station(site)
        times = self.earth.times(utcs)
        here, sun = station.observer.at(times), self._kernel["sun"].at(times)  # type: ignore[index]  # untyped
        observers = _observers(here, sun)
        rotations = np.moveaxis(np.asarray(station.place.rotation_at(times)), -1, 0)
        moved = [(row, station.movers.places(body, utcs)) for row, body in table.bodies]
        found = np.empty((len(utcs), len(table.targets), 3))
        for at, (observer, rotation) in enumerate(zip(observers, rotations, strict=True)):
            columns = proper_columns(table.vectors, table.parallax_rad, observer, rotation)
            for row, places in moved:
                columns[:, row] = rotation @ places[at]
            found[at] = (columns / np.linalg.norm(columns, axis=0)).T
        return found

    @staticmethod
    def ends_before(utc: datetime) -> str:
        """Say that the ephemeris does not reach a moment; empty where it does."""
        if utc <= LAST_UTC:
            return ""
        return f"The ephemeris ends on {LAST_UTC:%Y-%m-%d}: nothing is known of what comes later."

    def span(self, site: Site, first: datetime, last: datetime) -> SkySpan:
        """Give the sky over a site through weeks or years, as far as the ephemeris reaches.

        Raises
        ------
        AdviceError
            If the ephemeris reaches none of it.
        """
        return make_span(self._kernel, self.earth, site, first, last)

    def altitudes(self, site: Site, utcs: Sequence[datetime], table: TargetTable) -> FloatArray:
        """Give refracted altitudes in degrees, shape (times, targets), for planning.

        Raises
        ------
        AdviceError
            If the ephemeris does not cover a time.
        """
        return np.array([self.moment(site, utc).horizontal(table).altitude_deg for utc in utcs])

    def _station(self, site: Site) -> "_Station":
        """Keep what belongs to a position, for the few sites of one night."""
        key = (site.latitude_deg, site.longitude_deg, site.elevation_m)
        if key not in self._stations:
            if len(self._stations) >= _MOST_SITES:
                self._stations.pop(next(iter(self._stations)))
            self._stations[key] = _Station(self._kernel, self.earth, key, self.mover)
        return self._stations[key]


def _observers(here: Barycentric, sun: Barycentric) -> list[ObserverMotion]:
    """Say where an observer is at each of one or more moments."""
    position = np.asarray(here.position.au, dtype=float).reshape(3, -1)
    velocity = np.asarray(here.velocity.au_per_d, dtype=float).reshape(3, -1)
    from_sun = position - np.asarray(sun.position.au, dtype=float).reshape(3, -1)
    return [ObserverMotion(*one) for one in zip(position.T, velocity.T, from_sun.T, strict=True)]


class _Station:
    """An observer on the ground, and everything that moves as seen from there."""

    def __init__(
        self,
        kernel: object,
        earth: Earth,
        key: tuple[float, float, float],
        named: Callable[[str], Mover],
    ) -> None:
        latitude_deg, longitude_deg, elevation_m = key
        self.place: GeographicPosition = wgs84.latlon(latitude_deg, longitude_deg, elevation_m)
        self.observer = kernel["earth"] + self.place  # type: ignore[index]  # untyped
        self.vantage = GroundVantage(kernel, self.observer, earth.timescale, self.place)
        self.movers = Movers(self.vantage, named)
