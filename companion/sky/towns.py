"""Towns of the world without a network, and the time zone of any place."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import numpy as np
from numpy.typing import NDArray

from companion.advice import AdviceError
from companion.arrays import BoolArray, FloatArray
from companion.sky.resources import resource
from companion.sky.site import Site
from companion.sky.spelling import fold
from companion.sky.vectors import unit_vectors

_EARTH_RADIUS_KM = 6371.0
# A name typed whole counts as so many times the people, one of the other names as a part of them.
_WHOLE_NAME, _OTHER_NAME = 10.0, 0.1
_POLE_DEG = 89.99  # within a kilometre of a pole all meridians meet


@dataclass(frozen=True, slots=True)
class Town:
    """A place on GeoNames' list of 5,000 people and more; ``region`` only in the United States."""

    name: str
    region: str
    country: str
    latitude_deg: float
    longitude_deg: float
    time_zone: str  # IANA name


class TownIndex:
    """Finds towns by their names; they are kept in one text, the largest town first."""

    def __init__(self) -> None:
        with np.load(resource("towns.npz"), allow_pickle=False) as file:
            arrays = {key: file[key] for key in file.files}
        self._forms = b"\n" + arrays["forms"].tobytes()  # so that every town follows a line's end
        self._line_ends = np.flatnonzero(arrays["forms"] == ord("\n")) + 1
        self._names = _lines(arrays["names"])
        self._zones = _lines(arrays["zones"])
        self._countries = [_pair(line) for line in _lines(arrays["countries"])]
        self._regions = [_pair(line) for line in _lines(arrays["regions"])]
        self._columns = arrays

    def find(self, text: str, limit: int = 12) -> list[Town]:
        """Give the towns of which a name or a word begins so, the largest first.

        Behind a comma, or as last words, country or state narrow it down: ``paris, texas``,
        ``london ca``. What is neither (``halifax, ns``) is ignored behind a comma.
        """
        head, _comma, tail = text[:200].partition(",")
        name, where = fold(head), fold(tail)
        if not name or limit < 1:
            return []
        if where and not self._allowed(where).any():
            where = ""
        rows = self._rows(name, where, limit)
        words = name.split()
        for count in range(1, min(len(words), 4)):
            if rows or where:
                break
            rows = self._rows(" ".join(words[:-count]), " ".join(words[-count:]), limit)
        return [self._town(row) for row in rows]

    def nearest(self, latitude_deg: float, longitude_deg: float) -> tuple[Town, float]:
        """Give the town nearest to a place, and how many kilometres away it is.

        Raises
        ------
        AdviceError
            If the place is not on Earth.
        """
        _check(latitude_deg, longitude_deg)
        cosines = self._vectors @ unit_vectors(longitude_deg, latitude_deg)
        row = int(np.argmax(cosines))
        angle = float(np.arccos(np.clip(cosines[row], -1.0, 1.0)))
        return self._town(row), angle * _EARTH_RADIUS_KM

    @cached_property
    def _vectors(self) -> FloatArray:
        columns = self._columns
        return unit_vectors(columns["longitude"] * 1e-4, columns["latitude"] * 1e-4)

    def _rows(self, name: str, where: str, limit: int) -> list[int]:
        """Give the rows that fit: names that begin so, then words within names."""
        allowed = self._allowed(where) if where else None
        query = name.encode()
        people, weight = self._columns["population"], dict[int, float]()
        for piece, share in (
            (b"\t" + query, _OTHER_NAME),
            (b"\t" + query + b"\t", _OTHER_NAME * _WHOLE_NAME),
            (b"\n\t" + query, 1.0),
            (b"\n\t" + query + b"\t", _WHOLE_NAME),
        ):
            for row in self._matches(piece, allowed, limit):
                weight[row] = max(weight.get(row, 0.0), share * float(people[row]))
        ranked = sorted(weight, key=lambda row: (-weight[row], row))
        if len(ranked) < limit:
            words = self._matches(b" " + query, allowed, 2 * limit)
            ranked += [row for row in words if row not in weight]
        return ranked[:limit]

    def _matches(self, piece: bytes, allowed: BoolArray | None, most: int) -> Iterator[int]:
        """Give the first rows, each once, whose names hold these bytes."""
        at, given = 0, 0
        while given < most and (at := self._forms.find(piece, at)) >= 0:
            row = int(np.searchsorted(self._line_ends, at + 1))
            if allowed is None or allowed[row]:
                given += 1
                yield row
            if row >= len(self._line_ends):
                return
            at = int(self._line_ends[row])  # at that end, since the next town may begin so

    def _allowed(self, where: str) -> BoolArray:
        """Give which rows lie in a country or state that is called so or begins so."""
        columns = self._columns
        countries = [i for i, pair in enumerate(self._countries) if _is_called(pair, where)]
        regions = [i for i, pair in enumerate(self._regions) if _is_called(pair, where)]
        return np.asarray(
            np.isin(columns["country"], countries) | np.isin(columns["region"], regions)
        )

    def _town(self, row: int) -> Town:
        columns = self._columns
        return Town(
            name=self._names[row],
            region=self._regions[columns["region"][row]][1],
            country=self._countries[columns["country"][row]][1],
            latitude_deg=round(int(columns["latitude"][row]) * 1e-4, 4),
            longitude_deg=round(int(columns["longitude"][row]) * 1e-4, 4),
            time_zone=self._zones[columns["zone"][row]],
        )


def time_zone_at(latitude_deg: float, longitude_deg: float) -> str:
    """Give the IANA name of the time zone of a place; at sea the nautical zone, at the poles UTC.

    Raises
    ------
    AdviceError
        If the place is not on Earth.
    """
    from tzfpy import get_tz

    _check(latitude_deg, longitude_deg)
    if abs(latitude_deg) >= _POLE_DEG:
        return "UTC"
    zone = get_tz(longitude_deg, latitude_deg)
    try:
        ZoneInfo(zone)
    except (ZoneInfoNotFoundError, ValueError):  # a new zone that this machine does not know yet
        return _nautical(longitude_deg)
    return zone


def _nautical(longitude_deg: float) -> str:
    """Give the zone of ships: whole hours, whose names count west positive (POSIX)."""
    hours = round(longitude_deg / 15.0)
    return f"Etc/GMT{-hours:+d}" if hours else "Etc/GMT"


def _check(latitude_deg: float, longitude_deg: float) -> None:
    """Refuse what is not on Earth, NaN included."""
    if not (-90.0 <= latitude_deg <= 90.0 and -180.0 <= longitude_deg <= 180.0):
        raise AdviceError(
            f"The place {latitude_deg:g}° {longitude_deg:g}° is not on Earth.",
            "Give a latitude from −90° to 90° and a longitude from −180° to 180°.",
        )


def _lines(joined: NDArray[np.uint8]) -> list[str]:
    return joined.tobytes().decode().split("\n")


def _pair(line: str) -> tuple[str, str]:
    code, _tab, name = line.partition("\t")
    return code, name


def _is_called(pair: tuple[str, str], where: str) -> bool:
    """Say whether a country or state has this code or a name that begins so."""
    code, name = fold(pair[0]), fold(pair[1])
    return bool(code) and (code == where or name.startswith(where))


def find_site(name: str, known: Sequence[Site]) -> Site:
    """Give the known site of that name, or else the largest town that is called so.

    Raises
    ------
    AdviceError
        If nothing is called so.
    """
    wanted = name.strip().casefold()
    for site in known:
        if site.name.casefold() == wanted:
            return site
    towns = TownIndex().find(name, limit=1)
    if not towns:
        names = ", ".join(site.name for site in known[:6])
        raise AdviceError(
            f"No site or town is called {name[:60]!r}.",
            f"Give --lat and --lon, a larger town near by, or one of: {names}.",
        )
    town = towns[0]
    return Site(town.name, town.latitude_deg, town.longitude_deg, time_zone=town.time_zone)
