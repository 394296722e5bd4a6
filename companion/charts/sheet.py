"""The sky of a visitors' sheet: as they stand, towards a well-known group and what it leads to."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.charts.facts import apart_deg, around
from companion.charts.frame import SkyFrame, SkyWay
from companion.charts.maker import SkyFrameMaker
from companion.charts.ways import drawn_way
from companion.finding import (
    Place,
    WayFinder,
    azimuth_altitude_deg,
    extent,
    find_group,
    map_from,
    seen_vectors,
)
from companion.instant import Choices
from companion.night import Conditions, eye_sky
from companion.sky import Catalogue, Ephemeris, Site

_LOWEST_DEG, _HIGHEST_DEG = 32.0, 52.0  # of the middle: the horizon stays in sight, and an up
_EMPTY_AZIMUTH_DEG: Final = 180.0


@dataclass(frozen=True, slots=True, eq=False)
class SheetSky:
    """The sky of a moment, and all ways from the group as one.

    ``lasts`` has the line of each way's last step. ``centre`` is the direction that the picture
    looks to, ``reach_deg`` how far from it the farthest end lies.
    """

    sky: SkyFrame
    way: SkyWay | None
    lasts: tuple[FloatArray, ...]
    centre: FloatArray
    reach_deg: float


_COS_NEAR: Final = float(np.cos(np.radians(6.0)))
_POINTS: Final = 24


def sheet_sky(
    ephemeris: Ephemeris,
    catalogue: Catalogue,
    place: tuple[Site, datetime],
    conditions: Conditions,
    points: tuple[str, Sequence[str]],
) -> SheetSky:
    """Give the sky of a sheet.

    Parameters
    ----------
    ephemeris, catalogue
        Where things are.
    place : tuple of Site and datetime
        Where the visitors stand, and when.
    conditions : Conditions
        How dark and clear it is.
    points : tuple
        Key of the group, empty for none, and names of what it leads to, in order.
    """
    site, utc = place
    sky = SkyFrameMaker(ephemeris, catalogue).frame(Choices(0, site), utc)
    key, names = points
    if not key:
        centre = seen_vectors(_EMPTY_AZIMUTH_DEG, _LOWEST_DEG)
        return SheetSky(sky, None, (), centre, 0.0)
    moment = ephemeris.moment(site, utc)
    finder = WayFinder(catalogue, utc)
    stars = finder.guide_stars(moment, eye_sky(moment, conditions).limit)
    group = find_group(key)
    found = map_from(catalogue, moment, finder, stars, group, glass=False).leads
    leads = [lead for name in names for lead in found if lead.target.name == name]
    places = finder.places(moment, tuple(lead.target for lead in leads))
    ways = [
        _ending(drawn_way(stars, lead.way, end), end)
        for lead, end in zip(leads, places, strict=True)
    ]
    middle, _own_deg = extent(stars, group)
    ends = tuple(end.vector for end in places)
    centre = _lifted(around([middle, *ends])[0])
    reach = max(apart_deg(centre, one) for one in (middle, *ends))
    lasts = tuple(way.traces[-1] for way in ways)
    return SheetSky(sky, _joined(ways), lasts, centre, reach)


def _ending(way: SkyWay, end: Place) -> SkyWay:
    """Let the last line of a way end at what it leads to.

    A way that goes on from a found star, bending as the one before, has no line of its own.
    """
    last = way.traces[-1]
    if float(last[-1] @ end.vector) >= _COS_NEAR:
        return way
    share = np.linspace(0.0, 1.0, _POINTS)[:, None]
    line = (1.0 - share) * way.stars[-1] + share * end.vector
    line /= np.linalg.norm(line, axis=1, keepdims=True)
    return replace(way, traces=(*way.traces[:-1], line))


def _lifted(vector: FloatArray) -> FloatArray:
    """Keep the middle of the picture where left, right and the horizon mean something."""
    azimuth, altitude = azimuth_altitude_deg(vector)
    return seen_vectors(azimuth, min(max(altitude, _LOWEST_DEG), _HIGHEST_DEG))


def _joined(ways: Sequence[SkyWay]) -> SkyWay | None:
    """Join ways, so that names keep away from all of their lines; each star once."""
    if not ways:
        return None
    stars = {name: star for way in ways for name, star in zip(way.names, way.stars, strict=True)}
    traces = tuple(trace for way in ways for trace in way.traces)
    return SkyWay("", tuple(stars), tuple(stars.values()), traces)
