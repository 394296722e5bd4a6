"""The way to the target, drawn: pointer lines and hops with the vectors to draw them by."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.charts.frame import SkyHop, SkyPaths, SkyWay
from companion.charts.mount_view import MountChart
from companion.finding import (
    FieldStars,
    GuideStars,
    Hop,
    Optics,
    Place,
    Way,
    WayFinder,
    finder_limit,
    hops_to,
    trace,
    ways_to,
)
from companion.night import Conditions, eye_sky
from companion.sky import HAND, Catalogue, Moment, Target

_WAYS_AGE: Final = timedelta(seconds=20)  # the sky turns by 5 arcminutes meanwhile

Dials = Callable[[float, float], str]  # azimuth and altitude to the readings as text


class PathKeeper:
    """Belongs to the chart's thread; keeps the ways of one target for a while."""

    def __init__(self, catalogue: Catalogue) -> None:
        self._catalogue = catalogue
        self._finder: WayFinder | None = None
        self._since: datetime | None = None
        self._of: object = None
        self._paths = SkyPaths()
        self._turn: FloatArray = np.eye(3)

    def paths(
        self, moment: Moment, turn: FloatArray, target: Target, optics: Optics, mount: MountChart
    ) -> SkyPaths:
        """Give how to get to a target through a finder.

        Parameters
        ----------
        moment : Moment
            Site and time.
        turn : FloatArray
            The frame's ``SkyFrame.turn`` at that moment, by which kept ways follow the sky.
        target : Target
            Where to go.
        optics : Optics
            The finder.
        mount : MountChart
            What the dials show; it counts as another one when it is fitted anew.
        """
        of = (target, optics, moment.site, mount.fitted, HAND.fist_deg)
        fresh = self._since is not None and abs(moment.utc - self._since) < _WAYS_AGE
        if not fresh or self._of != of:
            self._paths = self._found(moment, target, optics, mount.readings)
            self._of, self._since, self._turn = of, moment.utc, turn
        return _carried(self._paths, turn @ self._turn.T)

    def _found(self, moment: Moment, target: Target, optics: Optics, dials: Dials) -> SkyPaths:
        finder = self._way_finder(moment.utc)
        (place,) = finder.places(moment, (target,))
        sky = eye_sky(moment, Conditions.at(moment.site))
        guides = finder.guide_stars(moment, sky.limit)
        ways = ways_to(guides, place)
        field = finder.field_stars(moment, finder_limit(sky.faintest, optics), sky.limit)
        hops = hops_to(field, place, optics)
        return SkyPaths(
            ways=tuple(drawn_way(guides, way, place) for way in ways.ways),
            ways_advice=ways.advice,
            hops=tuple(_step(field, hop, place, dials) for hop in hops.steps),
            second=tuple(_step(field, hop, place, dials) for hop in hops.second),
            hops_advice=hops.advice,
        )

    def _way_finder(self, utc: datetime) -> WayFinder:
        """Keep the finder: its stars' proper motion counts for years, not for one night."""
        if self._finder is None:
            self._finder = WayFinder(self._catalogue, utc)
        return self._finder


def _carried(paths: SkyPaths, turn: FloatArray) -> SkyPaths:
    """Turn all vectors with the sky."""
    ways = tuple(
        replace(
            way,
            stars=tuple(turn @ star for star in way.stars),
            traces=tuple(trace @ turn.T for trace in way.traces),
        )
        for way in paths.ways
    )
    hops, second = (
        tuple(replace(hop, start=turn @ hop.start, end=turn @ hop.end) for hop in route)
        for route in (paths.hops, paths.second)
    )
    return replace(paths, ways=ways, hops=hops, second=second)


def drawn_way(stars: GuideStars, way: Way, place: Place) -> SkyWay:
    """Trace a way; of a way in two steps the first leads to the star that the second starts at."""
    steps = [] if way.first is None else [(way.first, _start_of(stars, way))]
    steps.append((way, place))
    hips = dict.fromkeys(hip for step, _to in steps for hip in step.stars)
    rows = [stars.rows[hip] for hip in hips]
    return SkyWay(
        sentence=way.sentence,
        names=tuple(stars.names[row] for row in rows),
        stars=tuple(stars.vectors[row] for row in rows),
        traces=tuple(trace(stars, step, to) for step, to in steps),
    )


def _start_of(stars: GuideStars, way: Way) -> Place:
    row = stars.rows[way.stars[-1]]
    return Place(stars.vectors[row], stars.names[row], float(stars.magnitude[row]))


def _step(stars: FieldStars, hop: Hop, place: Place, dials: Dials) -> SkyHop:
    vectors = stars.vectors
    return SkyHop(
        sentence=hop.sentence,
        names=(hop.start_name, hop.name),
        start=_vector(vectors, stars, hop.start_hip),
        end=_vector(vectors, stars, hop.hip) if hop.hip else place.vector,
        fields=hop.fields,
        readings=dials(hop.azimuth_deg, hop.altitude_deg),
    )


def _vector(vectors: FloatArray, stars: FieldStars, hip: int) -> FloatArray:
    row: FloatArray = vectors[int((stars.hip == hip).argmax())]
    return row
