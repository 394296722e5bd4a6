"""Sentences that people would hear: many targets at random dark moments of both demo sites."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import numpy as np

from companion.finding import GuideStars, Place, Way, WayFinder, WayKind, ways_to
from companion.sky import DEMO_SITES, Catalogue, Ephemeris, Moment, Site

from .literal import Vector, apart_deg, direction, landings

START = datetime(2026, 1, 1, tzinfo=UTC)
MISLEADS_DEG = 2.0
WRONG_WAY_DEG = 23.0  # a course that is told farther off than this leads the eye away
_LOWEST_DEG = 10.0
_A_MOMENT = 12  # targets asked for at each
_TWO_YEARS_MIN = 2 * 525_600


@dataclass(frozen=True)
class Spoken:
    """One step of a way, with what stands in the sky at that moment."""

    whole: Way  # all of it
    way: Way  # the step
    place: str
    sentence: str
    target: Vector
    sky: dict[str, Vector]
    site: Site
    moment: Moment

    @property
    def misled_deg(self) -> float:
        """How far from the target the worst sense of the sentence leads."""
        found = landings(self.sentence, self.sky)
        if max(landing.wrong_way_deg for landing in found) > WRONG_WAY_DEG:
            return 180.0
        return max(apart_deg(landing.vector, self.target) for landing in found)

    @property
    def can_be_followed(self) -> bool:
        """Whether it leads by distances: a curve and a star of a group are known by sight."""
        return self.way.kind not in {WayKind.CURVE, WayKind.MEMBER}


def spoken(catalogue: Catalogue, ephemeris: Ephemeris, seed: int = 9) -> Iterator[Spoken]:
    """Give steps without end, the sites in turn."""
    rng, ready = np.random.default_rng(seed), WayFinder(catalogue, START + timedelta(days=365))
    deep = catalogue.deep_sky
    rows = sorted({*deep.messier_rows.values(), *deep.caldwell_rows.values()})
    targets = [*map(deep.target, rows), *catalogue.bright_stars(2.5), *catalogue.bodies[2:9]]
    while True:
        for site in DEMO_SITES:
            moment = dark_moment(ephemeris, site, rng)
            guides = ready.guide_stars(moment, 6.0)
            chosen = rng.choice(len(targets), 3 * _A_MOMENT, replace=False).tolist()
            places = ready.places(moment, tuple(targets[at] for at in chosen))
            high = [place for place in places if place.altitude_deg > _LOWEST_DEG][:_A_MOMENT]
            for place in high:
                for way in ways_to(guides, place).ways:
                    yield from _steps(way, place, guides, moment)


def dark_moment(ephemeris: Ephemeris, site: Site, rng: np.random.Generator) -> Moment:
    """Draw until the Sun is down."""
    while True:
        utc = START + timedelta(minutes=rng.uniform(0, _TWO_YEARS_MIN))
        moment = ephemeris.moment(site, utc)
        if moment.body("sun").altitude_airless_deg < -18.0:
            return moment


def _steps(way: Way, place: Place, guides: GuideStars, moment: Moment) -> Iterator[Spoken]:
    sky = {name: seen(vector) for name, vector in zip(guides.names, guides.vectors, strict=True)}
    if way.first is not None:
        star = sky[way.names[-1]]
        first = way.first
        yield Spoken(way, first, place.name, first.sentence, star, sky, moment.site, moment)
    sentence = way.sentence.rpartition("Then: ")[2]
    target = seen(place.vector)
    yield Spoken(way, way, place.name, sentence, target, sky, moment.site, moment)


def seen(vector: np.ndarray) -> Vector:
    """Turn the program's axes into azimuth and altitude, and these into the reader's own."""
    azimuth = np.degrees(np.arctan2(-vector[1], vector[0]))
    return direction(float(azimuth), float(np.degrees(np.arcsin(vector[2]))))
