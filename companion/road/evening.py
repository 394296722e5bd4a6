"""One evening as a beginner meets it: what stands where, and what can be made out."""

from functools import cached_property
from typing import Final

import numpy as np

from companion.finding import (
    Group,
    GuideStars,
    MapLead,
    Place,
    WayFinder,
    azimuth_altitude_deg,
    best_known,
    map_from,
    seen_vectors,
)
from companion.night import Conditions, EyeSky, eye_sky
from companion.road.season import Season
from companion.sky import MOON, PLANETS, Catalogue, Moment, SeenMover, Target

DARK_LIMIT: Final = 5.0  # the faintest star where the Milky Way and clusters are more than guessed
LOW_DEG: Final = 20.0
_PLANET_LOW_DEG: Final = 8.0
_EYE_PLANETS: Final = tuple(PLANETS[:5])
_STEADY_MAG: Final = 1.6
_NORTHERN: Final = (
    "dipper", "orion", "cassiopeia-w", "summer-triangle", "great-square", "winter-triangle",
    "spring-triangle", "sickle",
)  # fmt: skip
_SOUTHERN: Final = (
    "southern-cross", "orion", "southern-pointers", "fish-hook", "great-dog", "winter-triangle",
    "teapot", "summer-triangle", "great-square", "corvus-sail",
)  # fmt: skip
_MIDDLE: Final = (
    "orion", "dipper", "southern-cross", "fish-hook", "summer-triangle", "great-square",
    "cassiopeia-w", "winter-triangle", "spring-triangle", "southern-pointers", "teapot",
)  # fmt: skip


class Evening:
    """A place and a moment with its sky; parts are computed when they are asked for.

    Parameters
    ----------
    catalogue : Catalogue
        Stars and everything else.
    moment : Moment
        Site and time.
    conditions : Conditions
        How dark and clear it is.
    known : tuple of str
        Keys of groups that the learner found before, the newest first.
    """

    def __init__(
        self,
        catalogue: Catalogue,
        moment: Moment,
        conditions: Conditions,
        known: tuple[str, ...] = (),
    ) -> None:
        self.catalogue = catalogue
        self.moment = moment
        self.latitude_deg = moment.site.latitude_deg
        self._conditions = conditions
        self._known = known

    def at(self, moment: Moment) -> "Evening":
        """Give the same at another moment."""
        return Evening(self.catalogue, moment, self._conditions, self._known)

    @cached_property
    def finder(self) -> WayFinder:
        """Everything that leads."""
        return WayFinder(self.catalogue, self.moment.utc)

    @cached_property
    def sky(self) -> EyeSky:
        """What the eye finds."""
        return eye_sky(self.moment, self._conditions)

    @cached_property
    def faintest(self) -> float:
        """The faintest star found anywhere."""
        return self.sky.faintest

    @property
    def is_dark(self) -> bool:
        """Whether faint things are worth a look."""
        return self.faintest >= DARK_LIMIT

    @cached_property
    def stars(self) -> GuideStars:
        """The stars that the eye finds without searching."""
        return self.finder.guide_stars(self.moment, self.sky.limit)

    @cached_property
    def season(self) -> Season:
        """When things come again."""
        return Season(self.moment.site, self.moment.utc)

    @cached_property
    def group(self) -> Group | None:
        """The group to begin at: one that is known already, else the best-known that is up."""
        up = best_known(self.stars) or best_known(self.stars, lowest_deg=15.0)
        order = self._order
        known = [f"group:{group.key}" for group in up]
        for key in self._known:
            if key in known:
                return up[known.index(key)]
        ranked = sorted(up, key=lambda g: order.index(g.key) if g.key in order else len(order))
        return ranked[0] if ranked else None

    @property
    def _order(self) -> tuple[str, ...]:
        if self.latitude_deg >= 20.0:
            return _NORTHERN
        return _SOUTHERN if self.latitude_deg <= -10.0 else _MIDDLE

    @cached_property
    def leads(self) -> tuple[MapLead, ...]:
        """Where the group leads by eye."""
        return () if self.group is None else self.leads_from(self.group)

    def leads_from(self, group: Group) -> tuple[MapLead, ...]:
        """Give where a group leads by eye."""
        return map_from(
            self.catalogue, self.moment, self.finder, self.stars, group, glass=False
        ).leads

    @cached_property
    def moon(self) -> SeenMover:
        """The Moon."""
        return self.moment.body(MOON.body)

    @cached_property
    def planets(self) -> tuple[tuple[Target, Place], ...]:
        """The planets that the eye sees now, brightest first."""
        places = self.finder.places(self.moment, _EYE_PLANETS)
        seen = [
            (target, place)
            for target, place in zip(_EYE_PLANETS, places, strict=True)
            if place.altitude_deg >= max(_PLANET_LOW_DEG, place.floor_deg)
            and (place.magnitude or 9.0) <= min(_STEADY_MAG, self._limit_at(place))
        ]
        return tuple(sorted(seen, key=lambda one: one[1].magnitude or 9.0))

    def _limit_at(self, place: Place) -> float:
        azimuth, altitude = azimuth_altitude_deg(place.vector)
        return float(self.sky.limit(np.array([azimuth]), np.array([altitude]))[0]) - 0.5

    def place(self, target: Target) -> Place:
        """Give where something is seen."""
        return self.finder.places(self.moment, (target,))[0]

    def best_of(
        self, keys: tuple[str, ...], lowest_deg: float = 25.0
    ) -> tuple[Target, Place] | None:
        """Give the first of some things that stands so high and clear, None where none does."""
        targets = tuple(self.catalogue.target(key) for key in keys)
        for target, place in zip(targets, self.finder.places(self.moment, targets), strict=True):
            if place.altitude_deg >= max(lowest_deg, place.floor_deg):
                return target, place
        return None

    def bright(self, faintest: float, lowest_deg: float = LOW_DEG) -> list[int]:
        """Give rows of the guide stars that are so bright and high, brightest first."""
        sine = np.sin(np.radians(lowest_deg))
        stars = self.stars
        fits = (stars.magnitude <= faintest) & (stars.vectors[:, 2] >= sine)
        found: list[int] = np.flatnonzero(fits).tolist()
        return found

    @cached_property
    def moon_vector(self) -> np.ndarray:
        """The Moon's direction (3,)."""
        return seen_vectors(self.moon.azimuth_deg, self.moon.altitude_deg)
